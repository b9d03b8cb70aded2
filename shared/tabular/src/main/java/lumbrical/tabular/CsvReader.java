package lumbrical.tabular;

import java.io.BufferedInputStream;
import java.io.FilterReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.ByteBuffer;
import java.nio.channels.SeekableByteChannel;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import lumbrical.problem.Place;
import lumbrical.problem.Remedy;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** Reads comma, semicolon or tab separated text by RFC 4180. */
public final class CsvReader {
    private static final int HEADER_BYTES = 65_536;
    /** A file of fewer bytes is split and worked on in turn. */
    private static final long SMALL = 1 << 20;

    private static final byte[] UTF_8_MARK = {(byte) 0xEF, (byte) 0xBB, (byte) 0xBF};
    private static final byte[] UTF_16_MARK = {(byte) 0xFE, (byte) 0xFF};
    private static final byte[] UTF_16_LOW_BYTE_FIRST_MARK = {(byte) 0xFF, (byte) 0xFE};

    private CsvReader() {}

    static void read(Input input, Optional<Charset> encoding, TableSink sink) throws IOException {
        try (CountedInput counted = new CountedInput(Files.newInputStream(input.path()), Files.size(input.path()), 0);
                InputStream in = new BufferedInputStream(counted, 1 << 16)) {
            in.mark(HEADER_BYTES + 1);
            byte[] head = in.readNBytes(HEADER_BYTES);
            in.reset();
            Charset charset = charset(head, encoding);
            char delimiter = delimiter(new String(head, charset));
            in.skipNBytes(startsWith(head, UTF_8_MARK) ? UTF_8_MARK.length : 0); // that of UTF-16 is for its decoder
            Reader decoded = new InputStreamReader(
                    in,
                    charset.newDecoder()
                            .onMalformedInput(CodingErrorAction.REPORT)
                            .onUnmappableCharacter(CodingErrorAction.REPORT));
            parse(input, delimiter, new RowLimit(decoded), 1, counted, sink);
        }
    }

    private static void parse(
            Input input, char delimiter, RowLimit text, int firstRow, CountedInput counted, TableSink sink)
            throws IOException {
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setDelimiter(delimiter)
                .setIgnoreEmptyLines(false)
                .get();
        try (CSVParser parser =
                CSVParser.builder().setReader(text).setFormat(format).get()) {
            Records records = new Records(input, parser.iterator(), text, firstRow, counted);
            LastRowMark marked = new LastRowMark(sink);
            TableSink rows = endsWithLineBreak(input) ? sink : marked;
            if (counted.size() < SMALL) {
                hand(records, firstRow, rows);
            } else {
                handAhead(records, firstRow, rows);
            }
            marked.end();
        }
    }

    /** Whether the last byte is that of a line break, also where a character has two. */
    private static boolean endsWithLineBreak(Input input) throws IOException {
        try (SeekableByteChannel file = Files.newByteChannel(input.path())) {
            ByteBuffer last = ByteBuffer.allocate(2);
            file.position(Math.max(0, file.size() - last.capacity()));
            while (last.hasRemaining() && file.read(last) >= 0) {
                // until both are there or the file ends
            }
            int end = last.position();
            return end > 0 && isLineBreak(last.get(end - 1))
                    || end > 1 && last.get(end - 1) == 0 && isLineBreak(last.get(end - 2));
        }
    }

    private static boolean isLineBreak(byte b) {
        return b == '\n' || b == '\r';
    }

    /** Keeps each row until the next has come, so that the last one is known as such. */
    private static final class LastRowMark implements TableSink {
        private final TableSink sink;
        private int number;
        private Optional<List<String>> held = Optional.empty();

        LastRowMark(TableSink sink) {
            this.sink = sink;
        }

        @Override
        public void row(int row, List<String> cells) {
            held.ifPresent(before -> sink.row(number, before));
            number = row;
            held = Optional.of(cells); // a list of its own for each row
        }

        @Override
        public void at(double share) {
            sink.at(share);
        }

        void end() {
            held.ifPresent(last -> {
                sink.remark(Remark.ENDS_WITHOUT_LINE_BREAK, number, -1);
                sink.row(number, last);
            });
        }
    }

    private static void hand(Records records, int firstRow, TableSink sink) {
        int row = firstRow;
        for (Optional<List<String>> next = records.next(); next.isPresent(); next = records.next()) {
            sink.row(row, next.get());
            if (row % TableSink.ROWS_BETWEEN == 0) {
                sink.at(records.share());
            }
            row++;
        }
    }

    /** The rows of a large file, split in a thread of its own. */
    private static void handAhead(Records records, int firstRow, TableSink sink) {
        int row = firstRow;
        try (RowsAhead ahead = new RowsAhead(records)) {
            for (RowsAhead.Block block = ahead.next(); ; block = ahead.next()) {
                for (List<String> cells : block.rows()) {
                    sink.row(row, cells);
                    if (row % TableSink.ROWS_BETWEEN == 0) {
                        sink.at(block.share());
                    }
                    row++;
                }
                if (block.fault().isPresent()) {
                    throw block.fault().get();
                }
                if (block.rows().isEmpty()) {
                    return;
                }
            }
        }
    }

    /** The records of a table. Only what the reading itself throws is told as a fault of the file. */
    private static final class Records implements RowsAhead.Source {
        private final Input input;
        private final Iterator<CSVRecord> records;
        private final RowLimit text;
        private final CountedInput counted;
        private int row;

        Records(Input input, Iterator<CSVRecord> records, RowLimit text, int firstRow, CountedInput counted) {
            this.input = input;
            this.records = records;
            this.text = text;
            this.row = firstRow;
            this.counted = counted;
        }

        @Override
        public Optional<List<String>> next() {
            try {
                if (!records.hasNext()) {
                    return Optional.empty();
                }
                List<String> cells = records.next().toList();
                text.nextRow();
                if (cells.size() > Limits.COLUMNS) {
                    throw new UnreadableInputException(
                            Place.of(input.name(), row),
                            "more than " + Limits.COLUMNS + " columns. This is no table of responses.");
                }
                row++;
                return Optional.of(cells);
            } catch (UncheckedIOException | IllegalStateException e) {
                throw unreadable(
                        input, row, e.getCause() instanceof IOException io ? io : new IOException(e.getMessage()));
            }
        }

        @Override
        public double share() {
            return counted.share();
        }
    }

    private static UnreadableInputException unreadable(Input input, int row, IOException e) {
        if (e instanceof RowTooLong) {
            return new UnreadableInputException(
                    Place.of(input.name(), row),
                    "a row of more than " + Limits.ROW_CHARACTERS
                            + " characters. A quote was probably opened and never closed.");
        }
        if (e instanceof CharacterCodingException) {
            return notUtf8(input);
        }
        return new UnreadableInputException(
                Place.of(input.name(), row),
                "the quotes in this row do not match (RFC 4180). Look for a quote inside a cell that is not doubled.");
    }

    /** Whether a file is no text in another encoding than UTF-8 or UTF-16. */
    static boolean isUnicode(Input input) {
        try (InputStream file = Files.newInputStream(input.path());
                BufferedInputStream in = new BufferedInputStream(file)) {
            in.mark(HEADER_BYTES + 1);
            byte[] head = in.readNBytes(2);
            in.reset();
            try (Reader decoded = new InputStreamReader(
                    in,
                    charset(head, Optional.empty())
                            .newDecoder()
                            .onMalformedInput(CodingErrorAction.REPORT)
                            .onUnmappableCharacter(CodingErrorAction.REPORT))) {
                decoded.transferTo(Writer.nullWriter());
            }
            return true;
        } catch (CharacterCodingException e) {
            return false;
        } catch (IOException e) {
            return true; // told where the file is read
        }
    }

    public static UnreadableInputException notUtf8(Input input) {
        return new UnreadableInputException(
                input.place(),
                "the text is not UTF-8 throughout. Save it as CSV UTF-8 or as XLSX.",
                List.of(new Remedy(Remedy.Kind.ENCODING, "windows-1252")));
    }

    /**
     * Reads UTF-8 rows from a byte of the file on.
     *
     * @param firstRow number of the row that starts there
     */
    public static void readFrom(Input input, long offset, int firstRow, char delimiter, TableSink sink) {
        try (InputStream in = Files.newInputStream(input.path())) {
            in.skipNBytes(offset);
            CountedInput counted = new CountedInput(in, Files.size(input.path()), offset);
            Reader decoded = new InputStreamReader(
                    new BufferedInputStream(counted, 1 << 16),
                    StandardCharsets.UTF_8
                            .newDecoder()
                            .onMalformedInput(CodingErrorAction.REPORT)
                            .onUnmappableCharacter(CodingErrorAction.REPORT));
            parse(input, delimiter, new RowLimit(decoded), firstRow, counted, sink);
        } catch (IOException e) {
            throw new UnreadableInputException(input.place(), "the file cannot be read.");
        }
    }

    private static Charset charset(byte[] head, Optional<Charset> declared) {
        if (startsWith(head, UTF_16_MARK) || startsWith(head, UTF_16_LOW_BYTE_FIRST_MARK)) {
            return StandardCharsets.UTF_16;
        }
        return startsWith(head, UTF_8_MARK) ? StandardCharsets.UTF_8 : declared.orElse(StandardCharsets.UTF_8);
    }

    private static boolean startsWith(byte[] head, byte[] mark) {
        return head.length >= mark.length && Arrays.equals(head, 0, mark.length, mark, 0, mark.length);
    }

    /** The commonest of comma, semicolon and tab in the first line that is not blank, outside quotes; comma if there is none. */
    public static char delimiter(String head) {
        int[] count = new int[3];
        boolean quoted = false;
        boolean seen = false;
        for (int i = 0; i < head.length(); i++) {
            char c = head.charAt(i);
            if (c == '"') {
                quoted = !quoted;
            } else if (!quoted && (c == '\n' || c == '\r')) {
                if (seen) {
                    break;
                }
            } else if (!quoted && ",;\t".indexOf(c) >= 0) {
                count[",;\t".indexOf(c)]++;
                seen = true;
            }
        }
        int best = count[1] > count[0] ? 1 : 0;
        return ",;\t".charAt(count[2] > count[best] ? 2 : best);
    }

    /** Stops a row that never ends before it fills the memory. */
    private static final class RowLimit extends FilterReader {
        private long taken;

        RowLimit(Reader text) {
            super(text);
        }

        void nextRow() {
            taken = 0;
        }

        @Override
        public int read() throws IOException {
            int c = in.read();
            count(1);
            return c;
        }

        @Override
        public int read(char[] buffer, int offset, int length) throws IOException {
            int n = in.read(buffer, offset, length);
            count(Math.max(n, 0));
            return n;
        }

        private void count(int n) throws RowTooLong {
            taken += n;
            if (taken > Limits.ROW_CHARACTERS) {
                throw new RowTooLong();
            }
        }
    }

    private static final class RowTooLong extends IOException {
        private static final long serialVersionUID = 1L;
    }
}
