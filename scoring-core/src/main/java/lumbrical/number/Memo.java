package lumbrical.number;

import java.util.Objects;
import java.util.function.Function;

/**
 * Remembers what a function gave for values that come again: a clinic holds millions of numbers and texts, of few kinds, and so each kind is
 * made and held once. Of two kinds that share a place the later one is remembered, so its size is bounded. Which object stands for a value
 * makes no difference, for nothing is compared by identity; for the same reason threads may share it.
 *
 * @param <K> immutable values, equal by their contents
 * @param <V> immutable, made of a key and nothing else
 */
public final class Memo<K, V> {
    /** Spreads hashes that differ in few bits over all places: 2^32 divided by the golden ratio. */
    private static final int SPREAD = 0x9E37_79B9;

    private final Function<K, V> made;
    private final int shift;
    private final Object[] kept;

    private record Entry<K, V>(int hash, K key, V value) {}

    /**
     * Nothing remembered yet.
     *
     * @param bits it remembers at most 2 to the power of it; 1 to 20
     * @param made what a key gives
     */
    public Memo(int bits, Function<K, V> made) {
        if (bits < 1 || bits > 20) {
            throw new IllegalArgumentException(bits + " bits, not 1 to 20");
        }
        this.made = made;
        this.shift = Integer.SIZE - bits;
        this.kept = new Object[1 << bits];
    }

    /** What the key gives, remembered or made now. */
    @SuppressWarnings("unchecked") // nothing else is kept
    public V of(K key) {
        int hash = key.hashCode();
        int place = hash * SPREAD >>> shift;
        if (kept[place] instanceof Entry<?, ?> before && before.hash() == hash && Objects.equals(before.key(), key)) {
            return (V) before.value();
        }
        V value = made.apply(key);
        kept[place] = new Entry<>(hash, key, value);
        return value;
    }
}
