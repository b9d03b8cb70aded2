package lumbrical.questionnaire;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;

/** Knows how much of a file has been read. */
final class MeteredInput extends FilterInputStream {
    private final long size;
    private long count;

    /** @param size how many bytes the file has; 0 = not known */
    MeteredInput(InputStream in, long size) {
        super(in);
        this.size = size;
    }

    long count() {
        return count;
    }

    /** From 0 to 1; 0 if the size is not known. */
    double share() {
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
