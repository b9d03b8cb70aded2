package lumbrical.registry;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import lumbrical.deidentify.Sender;
import lumbrical.deidentify.SentRecords;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;

/** Keys of records that were sent and are taken back, for the CSV form. */
final class WithdrawnTable {
    /** A record. */
    record Withdrawn(Sender sender, SentRecords.Key key, String subject) {}

    private WithdrawnTable() {}

    static List<Withdrawn> rows(Sender sender, SentRecords records) {
        List<Withdrawn> rows = new ArrayList<>();
        for (Map.Entry<SentRecords.Key, SentRecords.Sent> record :
                records.records().entrySet()) {
            rows.add(new Withdrawn(sender, record.getKey(), record.getValue().subject()));
        }
        return rows;
    }

    static List<OutputColumn<Withdrawn>> columns() {
        return List.of(
                column("site", "The sending clinic, as the receiver calls it", r -> r.sender()
                        .site()),
                column("study", "The study or registry, as the receiver calls it", r -> r.sender()
                        .study()),
                column("subject", "Pseudonym of the patient", Withdrawn::subject),
                column("table", "The table that held the record", r -> r.key().table()),
                column(
                        "key",
                        "Its key there: episode, form (all its responses) or score_id; delete what has it",
                        r -> r.key().key()));
    }

    private static OutputColumn<Withdrawn> column(String name, String meaning, Function<Withdrawn, String> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, r -> Value.word(of.apply(r)));
    }
}
