package lumbrical.sheetxml;

import java.util.Arrays;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.zip.CRC32;
import java.util.zip.Deflater;

/** Packs blocks by themselves, so that the packed bytes do not depend on which thread does it; has a thread for work that is done ahead. */
final class Packer implements AutoCloseable {
    /** Of the format's levels from 1 to 9 one that is as fast as the first and packs better. */
    private static final int LEVEL = 2;

    private final ExecutorService helper;
    private final Queue<Deflater> deflaters = new ConcurrentLinkedQueue<>();

    /**
     * A block.
     *
     * @param bytes packed; without an end, so that more can follow
     * @param crc the check sum of what was packed
     * @param from what was packed, free to be used again
     * @param length how many bytes of it
     */
    record Packed(byte[] bytes, int crc, byte[] from, int length) {}

    Packer() {
        helper = Executors.newSingleThreadExecutor(work -> {
            Thread thread = new Thread(work, "workbook rows");
            thread.setDaemon(true);
            return thread;
        });
    }

    /** Work that the thread does between blocks. */
    <T> InOrder<T> inOrder(int most, InOrder.Taker<T> taker) {
        return new InOrder<>(helper, most, taker);
    }

    /** Packs a block, of its first bytes, that others follow. */
    Packed pack(byte[] block, int length) {
        return packed(block, length, Deflater.SYNC_FLUSH);
    }

    /** Packs the last block of a part. */
    Packed last(byte[] block) {
        return packed(block, block.length, Deflater.NO_FLUSH);
    }

    private Packed packed(byte[] block, int length, int flush) {
        CRC32 crc = new CRC32();
        crc.update(block, 0, length);
        Deflater deflater = deflaters.poll();
        if (deflater == null) {
            deflater = new Deflater(LEVEL, true);
        }
        deflater.setInput(block, 0, length);
        if (flush == Deflater.NO_FLUSH) {
            deflater.finish();
        }
        byte[] packed = new byte[length / 4 + 256];
        int size = 0;
        int more = deflater.deflate(packed, 0, packed.length, flush);
        while (more > 0) {
            size += more;
            if (size == packed.length) {
                packed = Arrays.copyOf(packed, 2 * size);
                more = deflater.deflate(packed, size, packed.length - size, flush);
            } else {
                more = 0; // room was left, so nothing more waits
            }
        }
        deflater.reset();
        deflaters.add(deflater);
        return new Packed(Arrays.copyOf(packed, size), (int) crc.getValue(), block, length);
    }

    @Override
    public void close() {
        helper.shutdownNow();
        deflaters.forEach(Deflater::end);
    }
}
