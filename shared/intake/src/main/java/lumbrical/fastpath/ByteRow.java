package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import lumbrical.output.Numbers;

/** A growing run of bytes to which cells are appended: text that needs no quotes, and numbers. */
public final class ByteRow {
    private byte[] bytes;
    private int length;

    /** An empty run with room for {@code capacity} bytes. */
    public ByteRow(int capacity) {
        bytes = new byte[capacity];
    }

    /** The bytes; those from {@link #length} on mean nothing. */
    public byte[] bytes() {
        return bytes;
    }

    /** How many bytes there are. */
    public int length() {
        return length;
    }

    /** Forgets the bytes. */
    public void clear() {
        length = 0;
    }

    private void ensure(int more) {
        if (length + more > bytes.length) {
            grow(more);
        }
    }

    private void grow(int more) {
        bytes = Arrays.copyOf(bytes, Math.max(bytes.length * 2, length + more));
    }

    /** Appends bytes. */
    public void append(byte[] source, int from, int to) {
        ensure(to - from);
        System.arraycopy(source, from, bytes, length, to - from);
        length += to - from;
    }

    /** Appends bytes. */
    public void append(byte[] source) {
        append(source, 0, source.length);
    }

    /** Appends one ASCII character. */
    public void append(char ascii) {
        ensure(1);
        bytes[length++] = (byte) ascii;
    }

    /** Appends text as UTF-8. */
    public void append(CharSequence text) {
        append(text.toString().getBytes(StandardCharsets.UTF_8));
    }

    /** Appends a number as {@link Numbers} prints it. */
    public void append(double value) {
        ensure(24);
        int end = Numbers.print(value, bytes, length);
        if (end < 0) {
            append(Numbers.format(value));
        } else {
            length = end;
        }
    }
}
