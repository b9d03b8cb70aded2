package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.util.stream.IntStream;
import lumbrical.sitting.Sitting;

/**
 * Notices the same instrument twice in one sitting without keeping the sittings: one 64-bit hash each, in small tables that grow
 * one at a time. A sitting and instrument cost at most 16 bytes, where a file goes on as its first rows promise. Two different
 * sittings are taken for one with a chance of about three in a hundred million at a million sittings.
 */
final class DuplicateDetector {
    static final long SEED = 0x9E3779B97F4A7C15L;
    private static final long MULTIPLIER = 0xBF58476D1CE4E5B9L;
    private static final int TABLES = 256;
    private static final int FIRST_SIZE = 12;
    /** Percent of slots made for the hashes expected: enough for four fifths, and for what differs from table to table. */
    private static final int EXPECTED_ROOM = 135;

    private final long[][] tables = new long[TABLES][FIRST_SIZE];
    private final int[] sizes = new int[TABLES];
    private long near;

    /** Hash of a sitting. */
    static long sittingHash(Sitting sitting) {
        long hash = sittingHash(
                text(sitting.patient(), SEED),
                sitting.completedOn().toEpochDay(),
                sitting.time().map(t -> t.toNanoOfDay() + 1).orElse(0L),
                sitting.side().map(s -> s.ordinal() + 1).orElse(0));
        long withEpisode = sitting.episode().map(e -> text(e, hash)).orElse(hash);
        return sitting.identifier().map(i -> text(i, withEpisode)).orElse(withEpisode);
    }

    /** Hash of a sitting but for its episode, which is to be hashed onto it; without one, no bytes are. */
    static long sittingHash(long patient, long epochDay, long time, int side) {
        return mix(step(patient, epochDay << Byte.SIZE | side) ^ time);
    }

    /** Hash of a text, starting from {@code hash}. */
    static long text(String text, long hash) {
        byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
        return bytes(bytes, 0, bytes.length, hash);
    }

    /** Hash of the bytes of a text, eight at a time; of no bytes, {@code hash} itself. */
    static long bytes(byte[] bytes, int from, int to, long hash) {
        if (from == to) {
            return hash;
        }
        long h = hash;
        int at = from;
        for (; at + Long.BYTES <= to; at += Long.BYTES) {
            h = step(
                    h,
                    bytes[at] & 0xFFL
                            | (bytes[at + 1] & 0xFFL) << 8
                            | (bytes[at + 2] & 0xFFL) << 16
                            | (bytes[at + 3] & 0xFFL) << 24
                            | (bytes[at + 4] & 0xFFL) << 32
                            | (bytes[at + 5] & 0xFFL) << 40
                            | (bytes[at + 6] & 0xFFL) << 48
                            | (long) bytes[at + 7] << 56);
        }
        long word = to - from;
        for (; at < to; at++) {
            word = word << 8 | bytes[at] & 0xFF;
        }
        return step(h, word);
    }

    /** Takes one more word into a hash, with less care than {@link #mix}, which comes last. */
    private static long step(long hash, long word) {
        long h = (hash ^ word) * MULTIPLIER;
        return h ^ h >>> 32;
    }

    /** Spreads every bit over the word (the finalizer of the SplitMix64 generator). */
    private static long mix(long z) {
        long a = (z ^ z >>> 30) * MULTIPLIER;
        long b = (a ^ a >>> 27) * 0x94D049BB133111EBL;
        return b ^ b >>> 31;
    }

    /** Makes room for as many hashes more, so that the tables need not grow on the way there. */
    void expect(long hashes) {
        long all = hashes + IntStream.of(sizes).asLongStream().sum();
        int size = (int) Math.min(Integer.MAX_VALUE >> 1, all * EXPECTED_ROOM / 100 / TABLES);
        for (int table = 0; table < TABLES; table++) {
            if (tables[table].length < size) {
                resize(table, size);
            }
        }
    }

    /**
     * Brings the slots of hashes that are recorded next near the processor. They lie far apart, and asked for one by one each
     * would be waited for; asked for together they come together.
     */
    void bringNear(PrintedBlock printed) {
        long[] hashes = printed.hashes();
        int count = printed.hashCount();
        long any = 0;
        for (int i = 0; i < count; i++) {
            long key = hashes[i];
            long[] table = tables[tableOf(key)];
            any |= table[slotOf(key, table.length)];
        }
        near = any;
    }

    /**
     * Records the hashes of a block from {@code from} on, up to and with the first that was recorded before.
     *
     * @return its position; their number if there is none
     */
    int recordToDouble(PrintedBlock printed, int from) {
        long[] hashes = printed.hashes();
        int count = printed.hashCount();
        int at = from;
        while (at < count && !seenBefore(hashes[at])) {
            at++;
        }
        return at;
    }

    /** Records a hash of sitting and instrument; true if it was recorded before. */
    boolean seenBefore(long hash) {
        long key = hash == 0 ? 1 : hash;
        int number = tableOf(key);
        long[] table = tables[number];
        int at = find(table, key);
        if (table[at] != 0) {
            return true;
        }
        table[at] = key;
        if (++sizes[number] * 5 > table.length * 4) {
            resize(number, table.length * 3 / 2);
        }
        return false;
    }

    private static int tableOf(long key) {
        return (int) (key >>> 56);
    }

    /** Spreads 32 middle bits over the table. */
    private static int slotOf(long key, int length) {
        return (int) ((key >>> 16 & 0xFFFF_FFFFL) * length >>> 32);
    }

    private void resize(int table, int size) {
        long[] larger = new long[size];
        for (long key : tables[table]) {
            if (key != 0) {
                larger[find(larger, key)] = key;
            }
        }
        tables[table] = larger;
    }

    /** The hash of an instrument filled in at a sitting. */
    static long form(long sitting, long instrument) {
        return mix(sitting ^ instrument);
    }

    /** Where a key stands, or the free slot where it is to stand. */
    private static int find(long[] table, long key) {
        int at = slotOf(key, table.length);
        while (table[at] != 0 && table[at] != key) {
            at = at + 1 == table.length ? 0 : at + 1;
        }
        return at;
    }
}
