package org.handoutcomes.table;

import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.Year;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.handoutcomes.instrument.Column;
import org.handoutcomes.problem.Place;
import org.handoutcomes.scoring.Responses;

/**
 * Splits blocks of a plain table at its bytes. A row counts as plain when each cell is what most rows hold: an id that starts with
 * a letter or digit, an ISO date not after the as-of date, a side in lower case, whole codes of one or two digits that the item
 * allows. Every other row is decoded and read by {@link WideRows}, as all readers do. Not safe to share between threads.
 */
final class PlainRowParser {
    private static final byte IGNORED = -1;
    private static final byte PATIENT = -2;
    private static final byte DATE = -3;
    private static final byte SIDE = -4;
    private static final byte EPISODE = -5;

    /** Printable ASCII: neither a control byte nor part of a longer character. */
    private static final boolean[] ORDINARY = ordinary();

    private final Input input;
    private final ResponseHeader header;
    private final char delimiter;
    private final ReadOptions options;
    private final long lastDay;
    private final int[] meaning;
    private final boolean[][] allowed;
    private final int width;
    private final int[] monthDays = {0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    private int lastDateKey = -1;
    private long lastEpochDay;

    PlainRowParser(Input input, ResponseHeader header, char delimiter, ReadOptions options) {
        this.input = input;
        this.header = header;
        this.delimiter = delimiter;
        this.options = options;
        this.lastDay = options.asOf().toEpochDay();
        this.meaning = new int[header.width()];
        Arrays.fill(meaning, IGNORED);
        int offset = 0;
        List<boolean[]> codes = new ArrayList<>();
        for (ResponseHeader.Form form : header.forms()) {
            for (int i = 0; i < form.positions().length; i++) {
                if (form.positions()[i] >= 0) {
                    meaning[form.positions()[i]] = offset + i;
                }
                codes.add(smallCodes(form.instrument().columns().get(i)));
            }
            offset += form.positions().length;
        }
        this.width = offset;
        this.allowed = codes.toArray(boolean[][]::new);
        header.position("patient").ifPresent(p -> meaning[p] = PATIENT);
        header.position("completed_on").ifPresent(p -> meaning[p] = DATE);
        header.position("side").ifPresent(p -> meaning[p] = SIDE);
        header.position("episode").ifPresent(p -> meaning[p] = EPISODE);
    }

    private static boolean[] ordinary() {
        boolean[] ordinary = new boolean[256];
        Arrays.fill(ordinary, ' ', 127, true);
        return ordinary;
    }

    /** Which of the numbers 0 to 99 an item allows. */
    private static boolean[] smallCodes(Column column) {
        boolean[] codes = new boolean[100];
        for (int code = 0; code < codes.length; code++) {
            codes[code] = column.item().responses().allows(code);
        }
        return codes;
    }

    int width() {
        return width;
    }

    /**
     * Parses whole rows.
     *
     * @param bytes rows from 0 to {@code end}, each ended by a line feed, or by the end of the file
     * @param firstRow number of the first
     */
    RowBlock parse(byte[] bytes, int end, int firstRow) {
        RowBlock block = new RowBlock(bytes, width);
        Optional<WideRows> odd = Optional.empty();
        int start = 0;
        int number = firstRow;
        while (start < end) {
            int stop = plain(bytes, start, end, number, block);
            if (stop < 0) {
                stop = start;
                while (stop < end && bytes[stop] != '\n') {
                    stop++;
                }
                int last = stop > start && bytes[stop - 1] == '\r' ? stop - 1 : stop;
                if (last > start) {
                    odd = Optional.of(odd.orElseGet(() -> new WideRows(options, block.problems()::add)));
                    oddRow(bytes, start, last, number, block, odd.get());
                }
            }
            number++;
            start = stop + 1;
        }
        return block;
    }

    /** Where the row that starts at {@code start} ends, its line feed or the end of the bytes; -1 if the row is not plain. */
    private int plain(byte[] bytes, int start, int end, int number, RowBlock block) {
        int row = block.next(number);
        double[] values = block.values();
        int offset = block.valuesOffset(row);
        Arrays.fill(values, offset, offset + width, Responses.NOT_ANSWERED);
        int patientStart = 0;
        int patientEnd = 0;
        int episodeStart = 0;
        int episodeEnd = 0;
        int dateStart = -1;
        int side = 0;
        int column = 0;
        int at = start;
        while (true) {
            int from = at;
            while (at < end && ORDINARY[bytes[at] & 0xFF] && bytes[at] != delimiter) {
                at++;
            }
            boolean last = at == end || bytes[at] == '\n' || bytes[at] == '\r' && at + 1 < end && bytes[at + 1] == '\n';
            if (!last && bytes[at] != delimiter) {
                return -1; // a control byte, or text that is not ASCII
            }
            if (column >= meaning.length) {
                return -1;
            }
            int means = meaning[column];
            int length = at - from;
            if (means >= 0) {
                if (length > 0) {
                    int code = length == 1 ? digit(bytes[from]) : twoDigits(bytes, from, length);
                    if (code < 0 || !allowed[means][code]) {
                        return -1;
                    }
                    values[offset + means] = code;
                }
            } else if (means == PATIENT || means == EPISODE) {
                if (length > 0 && (!isWord(bytes[from]) || bytes[at - 1] == ' ')) {
                    return -1;
                }
                if (means == PATIENT) {
                    patientStart = from;
                    patientEnd = at;
                } else {
                    episodeStart = from;
                    episodeEnd = at;
                }
            } else if (means == DATE) {
                if (length != 10) {
                    return -1;
                }
                dateStart = from;
            } else if (means == SIDE && length > 0) {
                side = side(bytes, from, length);
                if (side < 0) {
                    return -1;
                }
            }
            column++;
            if (last) {
                break;
            }
            at++;
        }
        if (patientEnd == patientStart || dateStart < 0) {
            return -1;
        }
        long day = day(bytes, dateStart);
        if (day == Long.MIN_VALUE || day > lastDay) {
            return -1;
        }
        block.addPlain(patientStart, patientEnd, episodeStart, episodeEnd, dateStart, day, side);
        return at < end && bytes[at] == '\r' ? at + 1 : at;
    }

    private static boolean isWord(byte b) {
        return b >= '0' && b <= '9' || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z';
    }

    private static int digit(byte b) {
        return b >= '0' && b <= '9' ? b - '0' : -1;
    }

    private static int twoDigits(byte[] bytes, int from, int length) {
        if (length != 2) {
            return -1;
        }
        int tens = digit(bytes[from]);
        int ones = digit(bytes[from + 1]);
        return tens < 0 || ones < 0 ? -1 : tens * 10 + ones;
    }

    /** Ordinal + 1 of a side written in lower case, or -1. */
    private static int side(byte[] bytes, int from, int length) {
        return switch (bytes[from]) {
            case 'r' -> isRestOf("right", bytes, from, length) ? 1 : -1;
            case 'l' -> isRestOf("left", bytes, from, length) ? 2 : -1;
            case 'b' -> isRestOf("both", bytes, from, length) ? 3 : -1;
            default -> -1;
        };
    }

    private static boolean isRestOf(String word, byte[] bytes, int from, int length) {
        if (length == 1) {
            return true;
        }
        if (length != word.length()) {
            return false;
        }
        for (int i = 1; i < length; i++) {
            if (bytes[from + i] != word.charAt(i)) {
                return false;
            }
        }
        return true;
    }

    /** Days since 1970 of an ISO date, or {@link Long#MIN_VALUE} if it is none. */
    private long day(byte[] bytes, int at) {
        if (bytes[at + 4] != '-' || bytes[at + 7] != '-') {
            return Long.MIN_VALUE;
        }
        int century = twoDigits(bytes, at, 2);
        int year = twoDigits(bytes, at + 2, 2);
        int month = twoDigits(bytes, at + 5, 2);
        int day = twoDigits(bytes, at + 8, 2);
        if (century < 0 || year < 0 || month < 1 || month > 12 || day < 1) {
            return Long.MIN_VALUE;
        }
        int fullYear = century * 100 + year;
        int days = month == 2 && Year.isLeap(fullYear) ? 29 : monthDays[month];
        if (day > days) {
            return Long.MIN_VALUE;
        }
        int key = (fullYear * 100 + month) * 100 + day;
        if (key != lastDateKey) {
            lastDateKey = key;
            lastEpochDay = LocalDate.of(fullYear, month, day).toEpochDay();
        }
        return lastEpochDay;
    }

    private void oddRow(byte[] bytes, int start, int end, int number, RowBlock block, WideRows odd) {
        List<String> cells = new ArrayList<>(header.width());
        int from = start;
        for (int at = start; at <= end; at++) {
            if (at == end || bytes[at] == delimiter) {
                cells.add(decode(bytes, from, at));
                from = at + 1;
            }
        }
        if (WideRows.blank(cells)) {
            return;
        }
        block.next(number);
        odd.row(header, Place.of(input.name(), number), cells).ifPresentOrElse(block::addOdd, block::reject);
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
