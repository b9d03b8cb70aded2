package org.handoutcomes.batch;

import java.util.Arrays;
import org.handoutcomes.sitting.Sitting;

/**
 * Notices the same instrument twice in one sitting without keeping the sittings: one 64-bit hash each, in small tables that grow
 * one at a time, so that a sitting and instrument cost at most 16 bytes. Two different sittings are taken for one with a chance
 * of about one in ten million at a million sittings.
 */
public final class DoubleWatch {
    private static final int TABLES = 256;
    private static final int FIRST_SIZE = 12;
    private final long[][] tables = new long[TABLES][FIRST_SIZE];
    private final int[] sizes = new int[TABLES];

    /** A watch that has seen nothing. */
    public DoubleWatch() {}

    /** Records the form; true if the same instrument of the same sitting was recorded before. */
    public boolean seenBefore(Sitting sitting, String instrument) {
        long hash = text(sitting.patient(), 0x9E3779B97F4A7C15L);
        hash = mix(hash ^ sitting.completedOn().toEpochDay());
        hash = mix(hash ^ sitting.time().map(t -> t.toNanoOfDay() + 1).orElse(0L));
        hash = mix(hash ^ sitting.side().map(s -> s.ordinal() + 1L).orElse(0L));
        hash = sitting.episode().isPresent() ? text(sitting.episode().get(), hash) : mix(hash);
        return !add(text(instrument, hash));
    }

    /** Hash of the text, starting from {@code hash}. */
    static long text(String text, long hash) {
        for (int i = 0; i < text.length(); i++) {
            hash = (hash ^ text.charAt(i)) * 0x100000001B3L;
            hash ^= hash >>> 29;
        }
        return mix(hash ^ text.length());
    }

    /** Spreads every bit over the word (a finalizer of the SplitMix64 generator). */
    static long mix(long z) {
        z = (z ^ z >>> 30) * 0xBF58476D1CE4E5B9L;
        z = (z ^ z >>> 27) * 0x94D049BB133111EBL;
        return z ^ z >>> 31;
    }

    private boolean add(long hash) {
        long key = hash == 0 ? 1 : hash;
        int table = (int) (key >>> 56);
        if (sizes[table] * 5 >= tables[table].length * 4) {
            grow(table);
        }
        if (insert(tables[table], key)) {
            sizes[table]++;
            return true;
        }
        return false;
    }

    private void grow(int table) {
        long[] larger = new long[tables[table].length * 3 / 2];
        Arrays.stream(tables[table]).filter(key -> key != 0).forEach(key -> insert(larger, key));
        tables[table] = larger;
    }

    private static boolean insert(long[] table, long key) {
        int at = (int) Long.remainderUnsigned(key, table.length);
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
