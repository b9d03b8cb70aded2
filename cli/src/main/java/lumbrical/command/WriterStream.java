package lumbrical.command;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.StandardCharsets;

/**
 * UTF-8 bytes into a writer; a character may be split between two calls. The beginning is held back, so that a run that fails early
 * has printed nothing.
 */
final class WriterStream extends OutputStream {
    private static final int HELD = 1 << 22;

    private final ByteArrayOutputStream held = new ByteArrayOutputStream();
    private boolean open;
    private final Writer writer;
    private final CharsetDecoder decoder = StandardCharsets.UTF_8.newDecoder();
    private byte[] carried = new byte[0];

    WriterStream(Writer writer) {
        this.writer = writer;
    }

    @Override
    public void write(int b) {
        write(new byte[] {(byte) b}, 0, 1);
    }

    @Override
    public void write(byte[] bytes, int offset, int length) {
        if (open) {
            print(bytes, offset, length);
        } else {
            held.write(bytes, offset, length);
            if (held.size() > HELD) {
                release();
            }
        }
    }

    /** Whether a part has been printed. */
    boolean begun() {
        return open;
    }

    /** Prints what is held back; to be called when the run has gone well. */
    void release() {
        open = true;
        byte[] bytes = held.toByteArray();
        held.reset();
        print(bytes, 0, bytes.length);
    }

    private void print(byte[] bytes, int offset, int length) {
        ByteBuffer in = ByteBuffer.allocate(carried.length + length);
        in.put(carried).put(bytes, offset, length).flip();
        CharBuffer text = CharBuffer.allocate(in.remaining());
        decoder.decode(in, text, false);
        carried = new byte[in.remaining()];
        in.get(carried);
        try {
            writer.append(text.flip());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
