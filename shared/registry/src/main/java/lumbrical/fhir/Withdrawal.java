package lumbrical.fhir;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import lumbrical.deidentify.SentRecords;

/**
 * What takes back resources sent earlier: entries that delete them, whatever refers to others first. Resources that refer to each other
 * stay together, so that they fall into one transaction.
 */
final class Withdrawal {
    static final String CHANGE = "-change";
    private static final int FORM_LETTERS = 20;

    private Withdrawal() {}

    /** Groups of entries that belong together, in the order in which they must be deleted. */
    static List<List<BundleEntry>> entries(SentRecords gone) {
        List<List<BundleEntry>> groups = new ArrayList<>();
        Map<String, List<BundleEntry>> scores = new TreeMap<>();
        Map<String, List<BundleEntry>> others = new LinkedHashMap<>();
        for (String type : List.of("QuestionnaireResponse", "EpisodeOfCare", "Patient")) {
            others.put(type, new ArrayList<>());
        }
        gone.records().keySet().forEach(key -> {
            if (key.table().equals("Observation") && key.key().endsWith(CHANGE)) {
                groups.add(List.of(BundleEntry.delete("Observation/" + key.key())));
            } else if (key.table().equals("Observation")) {
                scores.computeIfAbsent(
                                key.key()
                                        .substring(
                                                0,
                                                Math.min(FORM_LETTERS, key.key().length())),
                                k -> new ArrayList<>())
                        .add(BundleEntry.delete("Observation/" + key.key()));
            } else if (key.table().equals("Patient")) {
                others.get(key.table())
                        .add(BundleEntry.delete("Patient?identifier=" + FhirCodes.SUBJECT_ID + "|" + key.key()));
            } else if (others.containsKey(key.table())) {
                others.get(key.table()).add(BundleEntry.delete(key.table() + "/" + key.key()));
            }
        });
        groups.addAll(scores.values());
        others.values().forEach(entries -> entries.forEach(e -> groups.add(List.of(e))));
        return groups;
    }
}
