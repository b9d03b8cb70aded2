package lumbrical.questionnaire;

import java.io.IOException;
import java.io.InputStream;

/** A stream line by line: each line ends as a stream does, so that what is wrong with it ends with it. Memory does not grow with a line. */
final class LineInput extends InputStream {
    private static final int BLOCK = 1 << 16;

    private final InputStream in;
    private final byte[] block = new byte[BLOCK];
    private int at;
    private int end;
    private boolean inLine;
    private boolean failed;
    private int number;

    LineInput(InputStream in) {
        this.in = in;
    }

    /** Goes to the next line that is not blank, past what is left of this one; false if there is none. */
    boolean next() throws IOException {
        if (inLine) {
            skipLine();
        }
        while (at < end || fill()) {
            number++;
            if (startsLine()) {
                inLine = true;
                return true;
            }
        }
        return false;
    }

    /** Whether there is anything else than blanks before the end of the line, which is passed over if not. */
    private boolean startsLine() throws IOException {
        while (at < end || fill()) {
            byte b = block[at];
            if (b == '\n') {
                at++;
                return false;
            }
            if (b != ' ' && b != '\t' && b != '\r') {
                return true;
            }
            at++;
        }
        return false;
    }

    private void skipLine() throws IOException {
        byte[] rest = new byte[1 << 10];
        while (read(rest, 0, rest.length) >= 0) {
            // passed over
        }
    }

    /** The number of the line, from 1; blank ones count. */
    int number() {
        return number;
    }

    /** Whether the stream itself cannot be read, not the line. */
    boolean failed() {
        return failed;
    }

    private boolean fill() throws IOException {
        try {
            at = 0;
            end = Math.max(0, in.read(block, 0, BLOCK));
            return end > 0;
        } catch (IOException e) {
            failed = true;
            throw e;
        }
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
    }

    /** At most to the end of the line. */
    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
        if (length == 0) {
            return 0;
        }
        if (!inLine) {
            return -1;
        }
        if (at == end && !fill() || block[at] == '\n') {
            at = Math.min(end, at + 1);
            inLine = false;
            return -1;
        }
        int n = 0;
        while (n < length && at + n < end && block[at + n] != '\n') {
            bytes[offset + n] = block[at + n];
            n++;
        }
        at += n;
        return n;
    }

    /** Ends nothing: the stream is closed by whoever opened it. */
    @Override
    public void close() {
        // see above
    }
}
