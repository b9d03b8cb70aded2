package lumbrical.sheetxml;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.FutureTask;

/** The middle of a part, packed into a temporary file while it is written. */
final class PackedPart extends OutputStream {
    private static final int BLOCK = 1 << 18;
    /** Blocks that may wait to be packed; then the writer packs one. */
    private static final int WAITING = 4;

    private final Packer packer;
    private final Path file;
    private final OutputStream out;
    private final Deque<FutureTask<Packer.Packed>> waiting = new ArrayDeque<>();
    private final Deque<byte[]> spare = new ArrayDeque<>();
    private byte[] block = new byte[BLOCK];
    private int used;
    private int crc;
    private long size;
    private long packedSize;
    private boolean closed;

    PackedPart(Packer packer, Path file) throws IOException {
        this.packer = packer;
        this.file = file;
        this.out = new BufferedOutputStream(Files.newOutputStream(file), BLOCK);
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
        waiting.add(packer.pack(block, used));
        while (waiting.size() > WAITING
                || !waiting.isEmpty() && waiting.getFirst().isDone()) {
            takeOldest();
        }
        block = spare.isEmpty() ? new byte[BLOCK] : spare.pop();
        used = 0;
    }

    private void takeOldest() throws IOException {
        FutureTask<Packer.Packed> oldest = waiting.remove();
        oldest.run(); // does nothing where the other thread has begun
        try {
            Packer.Packed packed = oldest.get();
            out.write(packed.bytes());
            crc = Crc.concatenated(crc, packed.crc(), packed.length());
            size += packed.length();
            packedSize += packed.bytes().length;
            spare.push(packed.from());
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IOException("Interrupted while a workbook was packed", e);
        } catch (ExecutionException e) {
            throw new IllegalStateException("A block could not be packed", e);
        }
    }

    /** Packs what is left; more cannot be written then. */
    @Override
    public void close() throws IOException {
        if (closed) {
            return;
        }
        closed = true;
        try (out) {
            if (used > 0) {
                handOn();
            }
            while (!waiting.isEmpty()) {
                takeOldest();
            }
        }
        block = new byte[0];
        spare.clear();
    }

    /** Where the packed bytes are. */
    Path file() {
        return file;
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
