package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.Year;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import lumbrical.instrument.Column;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.WideRows;
import lumbrical.problem.Place;
import lumbrical.tabular.Input;
import lumbrical.tabular.Limits;

/**
 * Splits blocks of a plain table at its bytes. A row counts as plain when each cell is what most rows hold: an id that starts with
 * a letter or digit, an ISO date of the century up to the as-of date, a side in lower case, whole codes of one or two digits that the item
 * allows; any of them may stand in quotes. Every other row is decoded and read by {@link WideRows}, as all readers do. Not safe to share
 * between threads.
 */
final class PlainRowParser {
    private static final int IGNORED = -1;
    private static final int PATIENT = -2;
    private static final int DATE = -3;
    private static final int SIDE = -4;
    private static final int EPISODE = -5;

    /** What a byte is in a row: part of a cell, what ends one, or something that is not plain. */
    private static final byte CELL = 0;

    private static final byte SEPARATOR = 1;
    private static final byte LINE_FEED = 2;
    private static final byte RETURN = 3;
    private static final byte OTHER = 4;

    /** Number of bytes of a row beyond which the limits of a table may count: the other reader knows them. */
    private static final int LONGEST = Limits.CELL_CHARACTERS;

    private static final byte QUOTE = '"';
    private static final int CODES = 100;
    private static final int BLANK = -2;
    private static final int DATE_LENGTH = 10;
    private static final int MONTHS = 1 << 11;
    private static final int NO_DAY = Integer.MIN_VALUE;

    private static final byte[] RIGHT = "right".getBytes(StandardCharsets.US_ASCII);
    private static final byte[] LEFT = "left".getBytes(StandardCharsets.US_ASCII);
    private static final byte[] BOTH = "both".getBytes(StandardCharsets.US_ASCII);

    private final String file;
    private final ResponseHeader header;
    private final RowText row;
    private final ReadOptions options;
    private final long firstDay;
    private final long lastDay;
    private final byte[] kinds = new byte[256];
    /** Every byte above it is part of a cell: most bytes of a text are told by this one comparison. */
    private final byte lastSpecial;
    /** Whether a cell without quotes may hold the comma that parts the cells of what is written. */
    private final boolean commaInCell;

    private final int[] meaning;
    /** Cells that a row needs to have one for every response. */
    private final int cellsForResponses;
    /** Cells of the last plain row. */
    private int cells;

    /** Which of the numbers 0 to 99 each item allows, item after item. */
    private final boolean[] allowed;

    private final int[] monthDays = {0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    private final int[] knownMonths = new int[MONTHS];
    private final int[] monthStarts = new int[MONTHS];

    PlainRowParser(Input input, ResponseHeader header, char delimiter, ReadOptions options) {
        this.file = input.name();
        this.header = header;
        this.row = new RowText(input, delimiter);
        this.options = options;
        this.firstDay = options.firstPlausibleDay().toEpochDay();
        this.lastDay = options.asOf().toEpochDay();
        this.meaning = new int[header.width()];
        this.cellsForResponses = header.cellsForResponses();
        Arrays.fill(meaning, IGNORED);
        int offset = 0;
        this.allowed = new boolean[header.values() * CODES];
        for (ResponseHeader.Form form : header.forms()) {
            for (int i = 0; i < form.positions().length; i++) {
                if (form.positions()[i] >= 0) {
                    meaning[form.positions()[i]] = offset + i;
                }
                allow(form.instrument().columns().get(i), (offset + i) * CODES);
            }
            offset += form.positions().length;
        }
        header.position("patient").ifPresent(p -> meaning[p] = PATIENT);
        header.position("completed_on").ifPresent(p -> meaning[p] = DATE);
        header.position("side").ifPresent(p -> meaning[p] = SIDE);
        header.position("episode").ifPresent(p -> meaning[p] = EPISODE);
        Arrays.fill(kinds, OTHER);
        Arrays.fill(kinds, ' ', 128, CELL);
        kinds['"'] = OTHER;
        kinds['\n'] = LINE_FEED;
        kinds['\r'] = RETURN;
        kinds[delimiter] = SEPARATOR;
        lastSpecial = (byte) Math.max('"', delimiter);
        commaInCell = delimiter != ',';
    }

    private void allow(Column column, int from) {
        for (int code = 0; code < CODES; code++) {
            allowed[from + code] = column.item().responses().allows(code);
        }
    }

    /**
     * Parses whole rows.
     *
     * @param block rows from its first byte to {@code end}, each ended by a line feed, or by the end of the file
     * @param firstRow number of the first; waited for only where a row is not plain
     */
    void parse(RowBlock block, int end, CompletableFuture<Integer> firstRow) {
        block.clear(end);
        byte[] bytes = block.bytes();
        Optional<WideRows> odd = Optional.empty();
        int start = 0;
        while (start < end) {
            int stop = plain(bytes, start, end, block);
            if (stop < 0) {
                stop = oddEnd(bytes, start);
                int last = stop > start && bytes[stop - 1] == '\r' && stop < end ? stop - 1 : stop;
                Optional<List<String>> texts =
                        last - start > LONGEST ? Optional.empty() : row.split(bytes, start, last);
                if (texts.isEmpty()) {
                    block.refuse();
                    return;
                }
                if (last > start) {
                    odd = Optional.of(odd.orElseGet(() -> new WideRows(options, block.problems()::add)));
                    int number = firstRow.join() + block.lines();
                    oddRow(texts.get(), number, block, odd.get(), endOf(stop, end));
                }
            } else if (cells < cellsForResponses) {
                Place place = Place.of(file, firstRow.join() + block.lines());
                block.problems().add(WideRows.tooFew(header, place, cells, endOf(stop, end)));
            }
            block.addLine();
            start = stop + 1;
        }
    }

    private static WideRows.RowEnd endOf(int stop, int end) {
        return stop < end ? WideRows.RowEnd.AT_LINE_BREAK : WideRows.RowEnd.AT_END_OF_FILE;
    }

    private static int oddEnd(byte[] bytes, int start) {
        int stop = start;
        while (bytes[stop] != '\n') {
            stop++;
        }
        return stop;
    }

    /** Where the row that starts at {@code start} ends, its line feed or the end of the bytes; -1 if the row is not plain. */
    private int plain(byte[] bytes, int start, int end, RowBlock block) {
        byte[] kind = kinds;
        int[] means = meaning;
        int columns = means.length;
        int row = block.next();
        double[] values = block.values();
        int offset = block.valuesOffset(row);
        int patientStart = 0;
        int patientEnd = 0;
        int episodeStart = 0;
        int episodeEnd = 0;
        int dateStart = -1;
        int side = 0;
        int column = 0;
        int at = start;
        int ending = SEPARATOR;
        byte special = lastSpecial;
        while (ending == SEPARATOR) {
            if (column == columns) {
                return -1;
            }
            int meant = means[column++];
            int from = at;
            if (meant >= 0) {
                int code = bytes[at] - '0';
                ending = kind[bytes[at + 1] & 0xFF];
                if (code >= 0 && code <= 9 && ending != CELL) {
                    at++;
                } else if (bytes[at] == QUOTE) {
                    from++;
                    at = afterQuoted(bytes, from);
                    if (bytes[at] != QUOTE) {
                        return -1;
                    }
                    code = code(bytes, from, at - from);
                    ending = kind[bytes[++at] & 0xFF];
                } else {
                    ending = kind[bytes[at] & 0xFF];
                    while (ending == CELL) {
                        ending = kind[bytes[++at] & 0xFF];
                    }
                    code = code(bytes, from, at - from);
                }
                if (code >= 0 && allowed[meant * CODES + code]) {
                    values[offset + meant] = code;
                } else if (code == BLANK) {
                    values[offset + meant] = RowBlock.NOT_ANSWERED;
                } else {
                    return -1;
                }
            } else if (meant == DATE) {
                boolean quotes = bytes[at] == QUOTE;
                dateStart = quotes ? from + 1 : from;
                at = dateStart + DATE_LENGTH; // whether these bytes are a date is seen when the row is done
                if (at > end) {
                    return -1;
                }
                if (quotes && bytes[at++] != QUOTE) {
                    return -1;
                }
                ending = kind[bytes[at] & 0xFF];
            } else {
                byte b = bytes[at];
                boolean quotes = b == QUOTE;
                int to;
                if (quotes) {
                    from++;
                    to = afterQuoted(bytes, from);
                    if (bytes[to] != QUOTE) {
                        return -1;
                    }
                    at = to + 1;
                    b = bytes[at];
                } else {
                    while (b > special || kind[b & 0xFF] == CELL) {
                        b = bytes[++at];
                    }
                    to = at;
                }
                ending = kind[b & 0xFF];
                if (meant == SIDE) {
                    side = side(bytes, from, to - from);
                } else if (meant != IGNORED) {
                    if (to > from && (!isWord(bytes[from]) || bytes[to - 1] == ' ')
                            || (commaInCell || quotes) && holdsComma(bytes, from, to)) {
                        return -1;
                    }
                    if (meant == PATIENT) {
                        patientStart = from;
                        patientEnd = to;
                    } else {
                        episodeStart = from;
                        episodeEnd = to;
                    }
                }
            }
            at++;
        }
        at--;
        if (ending == RETURN && at + 1 < end && bytes[at + 1] == '\n') {
            at++;
        } else if (ending != LINE_FEED) {
            return -1; // a control byte, a quote, or text that is not ASCII
        }
        if (patientEnd == patientStart || dateStart < 0 || side < 0) {
            return -1;
        }
        cells = column;
        for (; column < columns; column++) {
            if (means[column] >= 0) {
                values[offset + means[column]] = RowBlock.NOT_ANSWERED;
            }
        }
        int day = day(bytes, dateStart);
        if (day == NO_DAY || day < firstDay || day > lastDay || at - start > LONGEST) {
            return -1;
        }
        block.addPlain(patientStart, patientEnd, episodeStart, episodeEnd, dateStart, day, side);
        return at;
    }

    /** Where the text of a quoted cell ends: its quote, or a byte that makes the row not plain. */
    private int afterQuoted(byte[] bytes, int from) {
        int at = from;
        byte kind = kinds[bytes[at] & 0xFF];
        while (kind == CELL || kind == SEPARATOR) {
            kind = kinds[bytes[++at] & 0xFF];
        }
        return at;
    }

    private static boolean holdsComma(byte[] bytes, int from, int to) {
        for (int i = from; i < to; i++) {
            if (bytes[i] == ',') {
                return true;
            }
        }
        return false;
    }

    private static boolean isWord(byte b) {
        return b >= '0' && b <= '9' || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z';
    }

    private static int digit(byte b) {
        return b >= '0' && b <= '9' ? b - '0' : -1;
    }

    /** The code of a cell, {@link #BLANK} of an empty one, -1 if it is none of one or two digits. */
    private static int code(byte[] bytes, int from, int length) {
        return switch (length) {
            case 0 -> BLANK;
            case 1 -> digit(bytes[from]);
            case 2 -> twoDigits(digit(bytes[from]), digit(bytes[from + 1]));
            default -> -1;
        };
    }

    private static int twoDigits(int tens, int ones) {
        return tens < 0 || ones < 0 ? -1 : tens * 10 + ones;
    }

    /** Ordinal + 1 of a side written in lower case, 0 if the cell is blank, or -1. */
    private static int side(byte[] bytes, int from, int length) {
        if (length == 0) {
            return 0;
        }
        return switch (bytes[from]) {
            case 'r' -> isRestOf(RIGHT, bytes, from, length) ? 1 : -1;
            case 'l' -> isRestOf(LEFT, bytes, from, length) ? 2 : -1;
            case 'b' -> isRestOf(BOTH, bytes, from, length) ? 3 : -1;
            default -> -1;
        };
    }

    private static boolean isRestOf(byte[] word, byte[] bytes, int from, int length) {
        if (length == 1) {
            return true;
        }
        if (length != word.length) {
            return false;
        }
        for (int i = 1; i < length; i++) {
            if (bytes[from + i] != word[i]) {
                return false;
            }
        }
        return true;
    }

    /** Days since 1970 of an ISO date, or {@link #NO_DAY} if it is none. */
    private int day(byte[] bytes, int at) {
        int y1 = bytes[at] - '0';
        int y2 = bytes[at + 1] - '0';
        int y3 = bytes[at + 2] - '0';
        int y4 = bytes[at + 3] - '0';
        int m1 = bytes[at + 5] - '0';
        int m2 = bytes[at + 6] - '0';
        int d1 = bytes[at + 8] - '0';
        int d2 = bytes[at + 9] - '0';
        int below = y1 | y2 | y3 | y4 | m1 | m2 | d1 | d2; // negative if one is less than 0
        int above = 9 - y1 | 9 - y2 | 9 - y3 | 9 - y4 | 9 - m1 | 9 - m2 | 9 - d1 | 9 - d2; // or more than 9
        if ((below | above) < 0 || bytes[at + 4] != '-' || bytes[at + 7] != '-') {
            return NO_DAY;
        }
        int month = m1 * 10 + m2;
        int day = d1 * 10 + d2;
        if (month < 1 || month > 12 || day < 1) {
            return NO_DAY;
        }
        int year = y1 * 1000 + y2 * 100 + y3 * 10 + y4;
        int days = month == 2 && Year.isLeap(year) ? 29 : monthDays[month];
        return day > days ? NO_DAY : monthStart(year, month) + day - 1;
    }

    /** Days since 1970 of the first of a month. */
    private int monthStart(int year, int month) {
        int key = year * 12 + month;
        int slot = key % MONTHS;
        if (knownMonths[slot] != key) {
            knownMonths[slot] = key;
            monthStarts[slot] = (int) LocalDate.of(year, month, 1).toEpochDay();
        }
        return monthStarts[slot];
    }

    private void oddRow(List<String> texts, int number, RowBlock block, WideRows odd, WideRows.RowEnd rowEnd) {
        if (WideRows.blank(texts)) {
            return;
        }
        block.next();
        odd.row(header, Place.of(file, number), texts, rowEnd).ifPresentOrElse(block::addOdd, block::reject);
    }
}
