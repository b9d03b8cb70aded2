package lumbrical.questionnaire;

import java.io.BufferedInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.util.zip.ZipException;
import org.apache.commons.compress.compressors.gzip.GzipCompressorInputStream;

/**
 * What a file packed by gzip holds: the members one after the other, each checked to its end. After the last one nothing may follow but
 * zeros, with which some devices fill a file up; anything else is a member that is damaged or cut off. Source: RFC 1952, section 2.2.
 */
final class GzipInput extends InputStream {
    private static final int FIRST = 0x1F;

    private final BufferedInputStream packed;
    private InputStream member;
    private boolean ended;

    /** @throws ZipException if the first member does not begin as one */
    GzipInput(InputStream file, int buffer) throws IOException {
        this.packed = new BufferedInputStream(file, buffer);
        this.member = nextMember();
    }

    private InputStream nextMember() throws IOException {
        try {
            return new GzipCompressorInputStream(packed); // of one member: it leaves the file where the member ends
        } catch (IOException e) {
            throw damaged(e);
        }
    }

    @Override
    public int read() throws IOException {
        byte[] one = new byte[1];
        return read(one, 0, 1) < 0 ? -1 : one[0] & 0xFF;
    }

    @Override
    public int read(byte[] bytes, int offset, int length) throws IOException {
        if (length == 0) {
            return 0;
        }
        while (!ended) {
            int n = readMember(bytes, offset, length);
            if (n > 0) {
                return n;
            }
            ended = !goToNext();
        }
        return -1;
    }

    private int readMember(byte[] bytes, int offset, int length) throws IOException {
        try {
            return member.read(bytes, offset, length);
        } catch (IOException e) {
            throw damaged(e);
        }
    }

    private boolean goToNext() throws IOException {
        packed.mark(1);
        int first = packed.read();
        if (first == FIRST) {
            packed.reset();
            member = nextMember();
            return true;
        }
        for (int next = first; next >= 0; next = packed.read()) {
            if (next != 0) {
                throw new ZipException("neither a member nor zeros after a member");
            }
        }
        return false;
    }

    private static ZipException damaged(IOException e) {
        ZipException damaged = new ZipException("a member is damaged or cut off");
        damaged.initCause(e);
        return damaged;
    }

    @Override
    public void close() throws IOException {
        packed.close();
    }
}
