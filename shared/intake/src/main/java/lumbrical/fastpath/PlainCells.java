package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.Year;
import java.util.Arrays;

/** What the bytes of a table are, and what cells mean that hold what most do. Not safe to share between threads. */
final class PlainCells {
    /** What a byte is in a row: part of a cell, what ends one, or something that is not plain. */
    static final byte CELL = 0;

    static final byte SEPARATOR = 1;
    static final byte LINE_FEED = 2;
    static final byte RETURN = 3;
    private static final byte OTHER = 4;

    static final byte QUOTE = '"';
    /** A code of one or two digits is less. */
    static final int CODES = 100;

    static final int BLANK = -2;
    static final int DATE_LENGTH = 10;
    static final int NO_DAY = Integer.MIN_VALUE;

    private static final int MONTHS = 1 << 11;
    private static final byte[] RIGHT = "right".getBytes(StandardCharsets.US_ASCII);
    private static final byte[] LEFT = "left".getBytes(StandardCharsets.US_ASCII);
    private static final byte[] BOTH = "both".getBytes(StandardCharsets.US_ASCII);

    private final byte[] kinds = new byte[256];
    private final byte lastSpecial;
    private final int[] monthDays = {0, 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    private final int[] knownMonths = new int[MONTHS];
    private final int[] monthStarts = new int[MONTHS];

    PlainCells(char delimiter) {
        Arrays.fill(kinds, OTHER);
        Arrays.fill(kinds, ' ', 128, CELL);
        kinds['"'] = OTHER;
        kinds['\n'] = LINE_FEED;
        kinds['\r'] = RETURN;
        kinds[delimiter] = SEPARATOR;
        lastSpecial = (byte) Math.max('"', delimiter);
    }

    /** The kind of each byte, taken without its sign. */
    byte[] kinds() {
        return kinds;
    }

    /** Every byte above it is part of a cell: most bytes of a text are told by this one comparison. */
    byte lastSpecial() {
        return lastSpecial;
    }

    /** Where the text of a quoted cell ends: its quote, or a byte that makes the row not plain. */
    int afterQuoted(byte[] bytes, int from) {
        int at = from;
        byte kind = kinds[bytes[at] & 0xFF];
        while (kind == CELL || kind == SEPARATOR) {
            kind = kinds[bytes[++at] & 0xFF];
        }
        return at;
    }

    /** The line feed that ends the line, or the end of the bytes. */
    static int oddEnd(byte[] bytes, int start) {
        int stop = start;
        while (bytes[stop] != '\n') {
            stop++;
        }
        return stop;
    }

    /** Whether the cell of an id is blank, or its text is as a reader cleans it and no spreadsheet takes it for a formula. */
    static boolean isCleanId(byte[] bytes, int from, int to) {
        return from == to || isWord(bytes[from]) && bytes[to - 1] > ' ';
    }

    /** The text of a cell that holds ASCII. */
    static String text(byte[] bytes, int from, int to) {
        return new String(bytes, from, to - from, StandardCharsets.US_ASCII);
    }

    static boolean holdsComma(byte[] bytes, int from, int to) {
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
    static int code(byte[] bytes, int from, int length) {
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
    static int side(byte[] bytes, int from, int length) {
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
    int day(byte[] bytes, int at) {
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
}
