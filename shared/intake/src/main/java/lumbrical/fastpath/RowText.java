package lumbrical.fastpath;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.tabular.CsvReader;
import lumbrical.tabular.Input;
import lumbrical.tabular.Limits;

/** The texts of one line of a table, by RFC 4180. */
final class RowText {
    private static final byte QUOTE = '"';

    private final Input input;
    private final char delimiter;

    RowText(Input input, char delimiter) {
        this.input = input;
        this.delimiter = delimiter;
    }

    /**
     * The cells of a line.
     *
     * @param last behind its last byte, without its line break
     * @return empty if the row does not end with the line, its quotes do not match or it has too many cells: only a reader of the whole
     *     file can tell
     * @throws lumbrical.tabular.UnreadableInputException if it is not UTF-8
     */
    Optional<List<String>> split(byte[] bytes, int start, int last) {
        List<String> cells = new ArrayList<>();
        int from = start;
        while (from <= last) {
            boolean quoted = from < last && bytes[from] == QUOTE;
            int end = quoted ? afterQuotes(bytes, from, last) : afterText(bytes, from, last);
            if (end < 0) {
                return Optional.empty();
            }
            cells.add(quoted ? decode(bytes, from + 1, end - 1).replace("\"\"", "\"") : decode(bytes, from, end));
            from = end + 1;
        }
        return cells.size() > Limits.COLUMNS ? Optional.empty() : Optional.of(cells);
    }

    /** The separator behind a quoted cell or the end of the line; -1 if it is neither. */
    private int afterQuotes(byte[] bytes, int from, int last) {
        int at = from + 1;
        while (at < last && bytes[at] != '\r') {
            if (bytes[at] != QUOTE) {
                at++;
            } else if (at + 1 < last && bytes[at + 1] == QUOTE) {
                at += 2;
            } else {
                at++;
                return at == last || bytes[at] == delimiter ? at : -1;
            }
        }
        return -1;
    }

    /** The separator behind a cell or the end of the line; -1 if a carriage return stands in between, which ends a row for some. */
    private int afterText(byte[] bytes, int from, int last) {
        int at = from;
        while (at < last && bytes[at] != delimiter) {
            if (bytes[at] == '\r') {
                return -1;
            }
            at++;
        }
        return at;
    }

    private String decode(byte[] bytes, int from, int to) {
        try {
            return StandardCharsets.UTF_8
                    .newDecoder()
                    .onMalformedInput(CodingErrorAction.REPORT)
                    .decode(ByteBuffer.wrap(bytes, from, to - from))
                    .toString();
        } catch (CharacterCodingException e) {
            throw CsvReader.notUtf8(input);
        }
    }
}
