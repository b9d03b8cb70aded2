package lumbrical.deidentify;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.Arrays;
import java.util.Base64;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lumbrical.deidentify.SentRecords.Key;
import lumbrical.deidentify.SentRecords.Sent;
import lumbrical.deidentify.SentRecords.State;

/** Sets an upload, record by record, against what was sent before. */
public final class SendingLog {
    /** Bytes of a hash that are kept: that two contents of one key share them by chance is out of the question. */
    private static final int BYTES = 12;

    private final SentRecords before;
    private final PackedRecords.Builder now = new PackedRecords.Builder();
    private Optional<SentRecords> all = Optional.empty();
    private final Map<String, Integer> amended = new TreeMap<>();

    /** @param before what was sent before */
    public SendingLog(SentRecords before) {
        this.before = before;
    }

    /**
     * How a record that is sent now stands: amended where another content was sent under its key, returned where it was taken back, and
     * then for good. Each record is added once, and all of them before anything is asked for.
     *
     * @param subject pseudonym of the patient
     * @param content all that the receiver sees of it
     */
    public State add(String table, String key, String subject, byte[] content) {
        Key of = new Key(table, key);
        String hash = hash(content);
        Optional<Sent> earlier = Optional.ofNullable(before.records().get(of));
        State state = earlier.map(e -> after(e, hash)).orElse(State.FIRST);
        boolean changed = earlier.filter(e -> !e.hash().equals(hash) || e.state() == State.WITHDRAWN)
                .isPresent();
        if (all.isPresent()) {
            throw new IllegalStateException("What was sent has been asked for already");
        }
        now.add(of, new Sent(subject, hash, state));
        if (changed) {
            amended.merge(table, 1, Integer::sum);
        }
        return state;
    }

    private static State after(Sent earlier, String hash) {
        if (earlier.state() == State.WITHDRAWN || earlier.state() == State.RETURNED) {
            return State.RETURNED;
        }
        return earlier.hash().equals(hash) ? earlier.state() : State.AMENDED;
    }

    /** The same, of text. */
    public State add(String table, String key, String subject, String content) {
        return add(table, key, subject, content.getBytes(StandardCharsets.UTF_8));
    }

    /** By table, how many records have another content than when they were sent last. */
    public Map<String, Integer> amended() {
        return Map.copyOf(amended);
    }

    private SentRecords sentNow() {
        SentRecords sent = all.orElseGet(() -> new SentRecords(now.build()));
        all = Optional.of(sent);
        return sent;
    }

    /** What was sent at any time and is not sent now, sorted; also what was taken back before, since that file may never have arrived. */
    public SentRecords withdrawn() {
        Map<Key, Sent> sent = sentNow().records();
        PackedRecords.Builder gone = new PackedRecords.Builder();
        before.records().forEach((key, earlier) -> {
            if (!sent.containsKey(key)) {
                gone.add(key, new Sent(earlier.subject(), earlier.hash(), State.WITHDRAWN));
            }
        });
        return new SentRecords(gone.build());
    }

    /** By table, how many records are taken back for the first time. */
    public Map<String, Integer> withdrawnNow() {
        Map<Key, Sent> sent = sentNow().records();
        Map<String, Integer> counts = new TreeMap<>();
        before.records().forEach((key, earlier) -> {
            if (!sent.containsKey(key) && earlier.state() != State.WITHDRAWN) {
                counts.merge(key.table(), 1, Integer::sum);
            }
        });
        return counts;
    }

    /** What the receiver knows after this upload. */
    public SentRecords after() {
        return sentNow().over(withdrawn());
    }

    private static String hash(byte[] content) {
        try {
            byte[] whole = MessageDigest.getInstance("SHA-256").digest(content);
            return Base64.getUrlEncoder().withoutPadding().encodeToString(Arrays.copyOf(whole, BYTES));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }
}
