package org.handoutcomes.command;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.StandardCharsets;

/** UTF-8 bytes into a writer; a character may be split between two calls. */
final class WriterStream extends OutputStream {
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
