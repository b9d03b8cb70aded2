package lumbrical.sheetxml;

import java.io.BufferedOutputStream;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Optional;

/** The middle of a part, packed while it is written: a short one in memory, a long one into a temporary file. */
final class PackedPart extends OutputStream {
    private static final int BLOCK = 1 << 18;
    /** Blocks that may wait to be packed; then the writer packs one. */
    private static final int WAITING = 4;
    /** Packed bytes that are held in memory. */
    private static final int SHORT = 1 << 19;

    private final Packer packer;
    private final Path scratch;
    private final ByteArrayOutputStream held = new ByteArrayOutputStream();
    private Optional<Path> file = Optional.empty();
    private OutputStream out = held;
    private final InOrder<Packer.Packed> packing;
    private final Deque<byte[]> spare = new ArrayDeque<>();
    private byte[] block = new byte[BLOCK];
    private int used;
    private int crc;
    private long size;
    private long packedSize;
    private boolean closed;

    /** @param scratch a folder for a temporary file */
    PackedPart(Packer packer, Path scratch) {
        this.packer = packer;
        this.packing = packer.inOrder(WAITING, this::take);
        this.scratch = scratch;
    }

    @Override
    public void write(int one) throws IOException {
        if (used == BLOCK) {
            handOn();
        }
        block[used++] = (byte) one;
    }

    @Override
    public void write(byte[] bytes, int from, int length) throws IOException {
        int begin = from;
        int left = length;
        while (left > 0) {
            if (used == BLOCK) {
                handOn();
            }
            int now = Math.min(left, BLOCK - used);
            System.arraycopy(bytes, begin, block, used, now);
            used += now;
            begin += now;
            left -= now;
        }
    }

    private void handOn() throws IOException {
        byte[] full = block;
        int length = used;
        packing.add(() -> packer.pack(full, length));
        block = spare.isEmpty() ? new byte[BLOCK] : spare.pop();
        used = 0;
    }

    private void take(Packer.Packed packed) throws IOException {
        add(packed.bytes());
        crc = Crc.concatenated(crc, packed.crc(), packed.length());
        size += packed.length();
        packedSize += packed.bytes().length;
        spare.push(packed.from());
    }

    private void add(byte[] packed) throws IOException {
        if (file.isEmpty() && held.size() + packed.length > SHORT) {
            Path made = Files.createTempFile(scratch, "sheet", ".rows");
            file = Optional.of(made);
            out = new BufferedOutputStream(Files.newOutputStream(made), BLOCK);
            held.writeTo(out);
            held.reset();
        }
        out.write(packed);
    }

    /** Packs what is left; more cannot be written then. */
    @Override
    public void close() throws IOException {
        if (closed) {
            return;
        }
        closed = true;
        try {
            if (used > 0) {
                handOn();
            }
            packing.finish();
        } finally {
            out.close();
        }
        block = new byte[0];
        spare.clear();
    }

    /** The packed bytes, once all are written. */
    InputStream packed() throws IOException {
        return file.isPresent() ? Files.newInputStream(file.get()) : new ByteArrayInputStream(held.toByteArray());
    }

    /** Closes it and forgets what was packed. */
    void discard() throws IOException {
        try {
            close();
        } finally {
            if (file.isPresent()) {
                Files.deleteIfExists(file.get());
            }
        }
    }

    int crc() {
        return crc;
    }

    long size() {
        return size;
    }

    long packedSize() {
        return packedSize;
    }
}
