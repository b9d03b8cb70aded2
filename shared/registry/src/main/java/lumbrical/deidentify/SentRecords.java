package lumbrical.deidentify;

import java.util.Map;

/**
 * What a receiver was sent in one format: every record by the name of its table or resource and its key, with a hash of its content.
 * Kept in the key file, so that the next upload tells what was corrected and takes back what is gone.
 *
 * @param records by key, sorted
 */
public record SentRecords(Map<Key, Sent> records) {
    /** Nothing was sent yet. */
    public static final SentRecords NONE = new SentRecords(Map.of());

    /** Copies the map. */
    public SentRecords {
        records = PackedRecords.of(records);
    }

    /** These, and of others those that are not among these. */
    public SentRecords over(SentRecords others) {
        if (others.records.isEmpty()) {
            return this;
        }
        PackedRecords.Builder all = new PackedRecords.Builder();
        others.records.forEach(all::add);
        records.forEach(all::add);
        return new SentRecords(all.build());
    }

    /**
     * The key of a record.
     *
     * @param table its table, or type of resource
     * @param key what it is called there
     */
    public record Key(String table, String key) implements Comparable<Key> {
        @Override
        public int compareTo(Key other) {
            int byTable = table.compareTo(other.table);
            return byTable == 0 ? key.compareTo(other.key) : byTable;
        }
    }

    /**
     * A record that was sent.
     *
     * @param subject pseudonym of the patient
     * @param hash of its content
     * @param state how it stands with the receiver
     */
    public record Sent(String subject, String hash, State state) {}

    /** How a record stands with the receiver. */
    public enum State {
        /** As it was first sent. */
        FIRST("sent"),
        /** Sent with other content than before. */
        AMENDED("amended"),
        /** Sent again after it was taken back. */
        RETURNED("returned"),
        /** Taken back. */
        WITHDRAWN("withdrawn");

        private final String code;

        State(String code) {
            this.code = code;
        }

        /** The word in the key file. */
        public String code() {
            return code;
        }
    }
}
