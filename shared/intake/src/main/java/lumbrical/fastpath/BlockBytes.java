package lumbrical.fastpath;

import java.util.Arrays;

/** The bytes of some whole rows of a table, read into again and again. */
final class BlockBytes {
    private static final byte ROW_END = '\n';
    /** Bytes kept behind the last row: who looks one byte ahead still finds an end. */
    private static final int GUARDS = 2;

    private final byte[] bytes;
    private int end;
    private boolean plain;
    private int firstRow;
    private int lines;

    /** @param capacity number of bytes it takes */
    BlockBytes(int capacity) {
        this.bytes = new byte[capacity + GUARDS];
    }

    /** Number of bytes it takes. */
    int capacity() {
        return bytes.length - GUARDS;
    }

    /** Takes over bytes that another block had read beyond its last row. */
    void startWith(byte[] source, int from, int to) {
        System.arraycopy(source, from, bytes, 0, to - from);
    }

    /** Forgets what was found in it; the bytes from 0 to {@code to} are now whole rows. */
    void clear(int to) {
        end = to;
        Arrays.fill(bytes, to, to + GUARDS, ROW_END);
        plain = true;
        lines = 0;
    }

    byte[] bytes() {
        return bytes;
    }

    /** Where the last row ends. */
    int end() {
        return end;
    }

    /** Whether the block holds nothing that only the other reader can take. */
    boolean plain() {
        return plain;
    }

    void refuse() {
        plain = false;
    }

    /** Number of lines, blank ones too. */
    int lines() {
        return lines;
    }

    void addLine() {
        lines++;
    }

    void startsAt(int row) {
        firstRow = row;
    }

    /** The number of the first line as a spreadsheet shows it; known once the block's turn has come. */
    int firstRow() {
        return firstRow;
    }
}
