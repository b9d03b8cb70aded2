package lumbrical.questionnaire;

import java.io.FilterInputStream;
import java.io.IOException;
import java.io.InputStream;
import lumbrical.tabular.CountedInput;

/** Unpacked bytes that are refused where they are far more than what was packed can be. */
final class InflationGuard extends FilterInputStream {
    /** Unpacked bytes for each packed byte; our own uploads have about 40. Ours. */
    private static final long INFLATION = 200;
    /** Unpacked bytes that are taken in any case. Ours. */
    private static final long FREE = 1 << 24;

    private final CountedInput packed;
    private long count;

    InflationGuard(InputStream unpacked, CountedInput packed) {
        super(unpacked);
        this.packed = packed;
    }

    private void add(int bytes) throws IOException {
        count += Math.max(0, bytes);
        if (count > FREE && count > INFLATION * packed.count()) {
            throw new TooMuchException("the packed file (gzip) unpacks to far more than forms do. It is not read.");
        }
    }

    @Override
    public int read() throws IOException {
        int b = super.read();
        add(b < 0 ? 0 : 1);
        return b;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
        int n = super.read(bytes, offset, length);
        add(n);
        return n;
    }

    @Override
    public boolean markSupported() {
        return false;
    }
}
