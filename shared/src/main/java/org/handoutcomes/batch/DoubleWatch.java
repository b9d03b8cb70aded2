package org.handoutcomes.batch;

import java.util.function.LongUnaryOperator;
import org.handoutcomes.sitting.Sitting;

/**
 * Notices the same instrument twice in one sitting without keeping the sittings: one 64-bit hash each, in small tables that grow
 * one at a time, so that a sitting and instrument cost at most 16 bytes. Two different sittings are taken for one with a chance
 * of about three in a hundred million at a million sittings.
 */
final class DoubleWatch {
    static final long SEED = 0x9E3779B97F4A7C15L;
    private static final int TABLES = 256;
    private static final int FIRST_SIZE = 12;
    private final long[][] tables = new long[TABLES][FIRST_SIZE];
    private final int[] sizes = new int[TABLES];

    /** Hash of a sitting. */
    static long sittingHash(Sitting sitting) {
        return sittingHash(
                text(sitting.patient(), SEED),
                sitting.completedOn().toEpochDay(),
                sitting.time().map(t -> t.toNanoOfDay() + 1).orElse(0L),
                sitting.side().map(s -> s.ordinal() + 1).orElse(0),
                sitting.episode().isPresent(),
                h -> text(sitting.episode().orElseThrow(), h));
    }

    static long sittingHash(
            long patient, long epochDay, long time, int side, boolean hasEpisode, LongUnaryOperator episode) {
        long hash = mix(patient ^ epochDay);
        hash = mix(hash ^ time);
        hash = mix(hash ^ side);
        return hasEpisode ? episode.applyAsLong(hash) : mix(hash);
    }

    /** Hash of a text, starting from {@code hash}. */
    static long text(String text, long hash) {
        long h = hash;
        for (int i = 0; i < text.length(); i++) {
            h = step(h, text.charAt(i));
        }
        return mix(h ^ text.length());
    }

    /** Hash of ASCII bytes: that of the same text. */
    static long ascii(byte[] bytes, int from, int to, long hash) {
        long h = hash;
        for (int i = from; i < to; i++) {
            h = step(h, bytes[i]);
        }
        return mix(h ^ to - from);
    }

    private static long step(long hash, int c) {
        long h = (hash ^ c) * 0x100000001B3L;
        return h ^ h >>> 29;
    }

    /** Spreads every bit over the word (the finalizer of the SplitMix64 generator). */
    private static long mix(long z) {
        long a = (z ^ z >>> 30) * 0xBF58476D1CE4E5B9L;
        long b = (a ^ a >>> 27) * 0x94D049BB133111EBL;
        return b ^ b >>> 31;
    }

    /** Records a hash of sitting and instrument; true if it was recorded before. */
    boolean seenBefore(long hash) {
        long key = hash == 0 ? 1 : hash;
        int table = (int) (key >>> 56);
        if (sizes[table] * 5 >= tables[table].length * 4) {
            grow(table);
        }
        if (insert(tables[table], key)) {
            sizes[table]++;
            return false;
        }
        return true;
    }

    private void grow(int table) {
        long[] larger = new long[tables[table].length * 3 / 2];
        for (long key : tables[table]) {
            if (key != 0) {
                insert(larger, key);
            }
        }
        tables[table] = larger;
    }

    /** The hash of an instrument filled in at a sitting. */
    static long form(long sitting, long instrument) {
        return mix(sitting ^ instrument);
    }

    private static boolean insert(long[] table, long key) {
        int at = (int) ((key >>> 16 & 0xFFFF_FFFFL) * table.length >>> 32); // spreads 32 middle bits over the table
        while (table[at] != 0) {
            if (table[at] == key) {
                return false;
            }
            at = at + 1 == table.length ? 0 : at + 1;
        }
        table[at] = key;
        return true;
    }
}
