package lumbrical.registry;

import java.util.Map;
import java.util.TreeMap;
import lumbrical.deidentify.DeidentifiedDataset;

/**
 * Where every sitting went.
 *
 * @param in sittings read, and rows that gave no sitting
 * @param sent sittings of which at least one form is sent
 * @param rejected by reason, sittings and rows of which nothing is sent
 * @param forms forms sent
 * @param formsRejected by reason, forms not sent
 */
public record Reconciliation(
        long in, long sent, Map<String, Long> rejected, long forms, Map<String, Long> formsRejected) {
    /**
     * Counts, and makes sure that nothing is lost.
     *
     * @throws IllegalStateException if the counts do not add up
     */
    static Reconciliation of(DeidentifiedDataset shipment, Intake intake) {
        Map<String, Long> rejected = new TreeMap<>(shipment.counts().sittingsWithheld());
        intake.rejected().forEach(w -> rejected.merge(w.reason(), 1L, Long::sum));
        intake.unanswered().forEach(w -> rejected.merge(w.reason(), 1L, Long::sum));
        Map<String, Long> forms = new TreeMap<>();
        shipment.withheld().forEach(w -> forms.merge(w.reason(), 1L, Long::sum));
        long in = intake.sittings() + intake.rejected().size();
        long out = rejected.values().stream().mapToLong(Long::longValue).sum();
        if (in != shipment.counts().sittings() + out) {
            throw new IllegalStateException(
                    "Sittings in " + in + ", but sent " + shipment.counts().sittings() + " and rejected " + out);
        }
        return new Reconciliation(
                in, shipment.counts().sittings(), rejected, shipment.counts().forms(), forms);
    }

    /** In one line. */
    public String inOneLine() {
        long out = rejected.values().stream().mapToLong(Long::longValue).sum();
        StringBuilder line = new StringBuilder("sittings " + in + " = sent " + sent + " + rejected " + out);
        String separator = ": ";
        for (Map.Entry<String, Long> reason : rejected.entrySet()) {
            line.append(separator).append(reason.getKey()).append(' ').append(reason.getValue());
            separator = ", ";
        }
        return line + "; forms sent " + forms;
    }
}
