package lumbrical.fhir;

import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import lumbrical.fhir.FhirFiles.SentRecord;

/**
 * Decides the status of each resource: new as it is called when it is first sent, amended if an earlier submission holds other content
 * under the same identifier, and as it was if the content is the same.
 */
final class Status {
    static final String WITHDRAWN = "entered-in-error";
    private static final String AMENDED = "amended";

    private final Map<String, SentRecord> before;
    private final List<SentRecord> sent = new ArrayList<>();

    Status(Map<String, SentRecord> before) {
        this.before = before;
    }

    /** What an earlier submission holds and this one does not, by identifier; what was withdrawn already is among it. */
    List<SentRecord> gone() {
        Set<String> now = sent.stream().map(SentRecord::identifier).collect(Collectors.toSet());
        return before.values().stream()
                .filter(record -> !now.contains(record.identifier()))
                .sorted(Comparator.comparing(SentRecord::identifier))
                .toList();
    }

    /** Records of everything made so far. */
    List<SentRecord> sent() {
        return sent;
    }

    /** The form with its status. */
    JsonObject form(String identifier, Function<String, JsonObject> make) {
        return decide(identifier, "completed", make);
    }

    /** The Observation with its status. */
    JsonObject of(String identifier, Function<String, JsonObject> make) {
        return decide(identifier, "final", make);
    }

    private JsonObject decide(String identifier, String first, Function<String, JsonObject> make) {
        JsonObject resource = make.apply(first);
        String hash = sha256(resource.meaning());
        Optional<SentRecord> earlier = Optional.ofNullable(before.get(identifier));
        String status = earlier.map(
                        e -> e.sha256().equals(hash) && !e.status().equals(WITHDRAWN) ? e.status() : AMENDED)
                .orElse(first);
        sent.add(new SentRecord(identifier, hash, status));
        return status.equals(first) ? resource : make.apply(status);
    }

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("Every Java platform has SHA-256", e);
        }
    }
}
