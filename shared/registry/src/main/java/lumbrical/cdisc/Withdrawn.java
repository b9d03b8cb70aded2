package lumbrical.cdisc;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.SentRecords;

/** Keys of subjects, episodes and forms that were sent and are taken back: a dataset of our own, which the standard does not have. */
final class Withdrawn {
    private static final String NAME = "WITHDRWN";

    private static final List<Variable> VARIABLES = List.of(
            Variable.text("STUDYID", "Study Identifier", "the study").key(1),
            Variable.text("USUBJID", "Unique Subject Identifier", "study, site and pseudonym")
                    .key(2),
            Variable.text("WDKIND", "Kind of What Is Withdrawn", "SUBJECT, EPISODE or FORM, ours")
                    .terms(Terms.USED)
                    .key(3),
            Variable.text("WDID", "Key of What Is Withdrawn", "pseudonym, episode, or form as in QSGRPID and SRCID")
                    .key(4));

    private static final Map<String, String> KINDS =
            Map.of("subjects", "SUBJECT", "episodes", "EPISODE", "forms", "FORM");

    private Withdrawn() {}

    static Dataset dataset(DeidentifiedDataset shipment, SentRecords records) {
        return Dataset.of(
                NAME,
                "Withdrawn Since It Was Sent (Ours)",
                Dataset.Form.OURS,
                VARIABLES,
                (taker, positions) -> records.records()
                        .forEach((key, sent) -> taker.accept(new Dataset.Row(positions)
                                .set("STUDYID", shipment.sender().study())
                                .set("USUBJID", CdiscFiles.subject(shipment, sent.subject()))
                                .set(
                                        "WDKIND",
                                        KINDS.getOrDefault(
                                                key.table(), key.table().toUpperCase(Locale.ROOT)))
                                .set("WDID", key.key()))));
    }
}
