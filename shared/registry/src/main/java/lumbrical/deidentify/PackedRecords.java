package lumbrical.deidentify;

import java.nio.charset.StandardCharsets;
import java.util.AbstractMap;
import java.util.AbstractSet;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.NoSuchElementException;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import lumbrical.deidentify.SentRecords.Key;
import lumbrical.deidentify.SentRecords.Sent;
import lumbrical.deidentify.SentRecords.State;
import org.jspecify.annotations.Nullable;

/**
 * Records sent, sorted by key, each as a few bytes: an upload of a large clinic has hundreds of thousands, and as objects they would take
 * more room than the clinic. Immutable.
 */
final class PackedRecords extends AbstractMap<Key, Sent> {
    private static final char SEPARATOR = '\n';
    private static final State[] STATES = State.values();

    /** By table, the records sorted by key: key, subject, hash and the position of the state. */
    private final SortedMap<String, List<byte[]>> tables;

    private final int size;

    private PackedRecords(SortedMap<String, List<byte[]>> tables) {
        this.tables = tables;
        this.size = tables.values().stream().mapToInt(List::size).sum();
    }

    static PackedRecords of(Map<Key, Sent> records) {
        if (records instanceof PackedRecords packed) {
            return packed;
        }
        Builder builder = new Builder();
        records.forEach(builder::add);
        return builder.build();
    }

    /** Takes records in any order. */
    static final class Builder {
        private final SortedMap<String, List<byte[]>> tables = new TreeMap<>();

        void add(Key key, Sent sent) {
            tables.computeIfAbsent(key.table(), t -> new ArrayList<>())
                    .add((key.key()
                                    + SEPARATOR
                                    + sent.subject()
                                    + SEPARATOR
                                    + sent.hash()
                                    + SEPARATOR
                                    + sent.state().ordinal())
                            .getBytes(StandardCharsets.UTF_8));
        }

        /** The records; of several with one key the last one given. The builder is of no use afterwards. */
        PackedRecords build() {
            tables.values().forEach(Builder::sort);
            return new PackedRecords(tables);
        }

        /** A stable sort, so that of equal keys the last one given stands last. */
        private static void sort(List<byte[]> records) {
            records.sort(PackedRecords::compareKeys);
            int kept = 0;
            for (int i = 0; i < records.size(); i++) {
                boolean isLast = i + 1 == records.size() || compareKeys(records.get(i), records.get(i + 1)) != 0;
                if (isLast) {
                    records.set(kept++, records.get(i));
                }
            }
            records.subList(kept, records.size()).clear();
        }
    }

    private static int keyLength(byte[] record) {
        int end = 0;
        while (record[end] != SEPARATOR) {
            end++;
        }
        return end;
    }

    /** As the texts compare: keys are pseudonyms and ids in ASCII. */
    private static int compareKeys(byte[] a, byte[] b) {
        return Arrays.compareUnsigned(a, 0, keyLength(a), b, 0, keyLength(b));
    }

    private static Map.Entry<Key, Sent> entry(String table, byte[] record) {
        String[] parts = new String(record, StandardCharsets.UTF_8).split(String.valueOf(SEPARATOR), -1);
        return Map.entry(new Key(table, parts[0]), new Sent(parts[1], parts[2], STATES[Integer.parseInt(parts[3])]));
    }

    @Override
    public int size() {
        return size;
    }

    @Override
    public boolean containsKey(@Nullable Object key) {
        return get(key) != null;
    }

    @Override
    public @Nullable Sent get(@Nullable Object key) {
        if (!(key instanceof Key of)) {
            return null;
        }
        List<byte[]> records = tables.getOrDefault(of.table(), List.of());
        byte[] wanted = (of.key() + SEPARATOR).getBytes(StandardCharsets.UTF_8);
        int low = 0;
        int high = records.size() - 1;
        while (low <= high) {
            int middle = (low + high) >>> 1;
            int order = compareKeys(records.get(middle), wanted);
            if (order == 0) {
                return entry(of.table(), records.get(middle)).getValue();
            }
            low = order < 0 ? middle + 1 : low;
            high = order < 0 ? high : middle - 1;
        }
        return null;
    }

    @Override
    public Set<Map.Entry<Key, Sent>> entrySet() {
        return new AbstractSet<>() {
            @Override
            public int size() {
                return size;
            }

            @Override
            public Iterator<Map.Entry<Key, Sent>> iterator() {
                return entries();
            }
        };
    }

    private Iterator<Map.Entry<Key, Sent>> entries() {
        Iterator<Map.Entry<String, List<byte[]>>> ofTables = tables.entrySet().iterator();
        return new Iterator<>() {
            private String table = "";
            private Iterator<byte[]> records = List.<byte[]>of().iterator();

            @Override
            public boolean hasNext() {
                while (!records.hasNext() && ofTables.hasNext()) {
                    Map.Entry<String, List<byte[]>> next = ofTables.next();
                    table = next.getKey();
                    records = next.getValue().iterator();
                }
                return records.hasNext();
            }

            @Override
            public Map.Entry<Key, Sent> next() {
                if (!hasNext()) {
                    throw new NoSuchElementException();
                }
                return entry(table, records.next());
            }
        };
    }
}
