package lumbrical.tabular;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/** Knows how much of a stream has been read. */
public final class CountedInput extends FilterInputStream {
    private final long size;
    private long count;

    /**
     * Counts what is read of {@code in}.
     *
     * @param size how many bytes the stream has in all; 0 or less = not known
     * @param before how many of them were read before
     */
    public CountedInput(InputStream in, long size, long before) {
        super(in);
        this.size = size;
        this.count = before;
    }

    /** How many bytes have been read. */
    public long count() {
        return count;
    }

    /** How many bytes the stream has in all; 0 or less = not known. */
    public long size() {
        return size;
    }

    /** From 0 to 1; 0 if the size is not known. */
    public double share() {
        return size <= 0 ? 0 : Math.min(1, (double) count / size);
    }

    @Override
    public int read() throws IOException {
        int b = super.read();
        count += b < 0 ? 0 : 1;
        return b;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
        int n = super.read(bytes, offset, length);
        count += Math.max(0, n);
        return n;
    }

    @Override
    public boolean markSupported() {
        return false;
    }
}
