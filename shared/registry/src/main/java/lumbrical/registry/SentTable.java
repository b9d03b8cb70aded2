package lumbrical.registry;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.fhir.FhirFiles.SentRecord;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;

/** The list of what a folder of FHIR files holds, by which the next one tells what was corrected. */
final class SentTable {
    static final String NAME = "sent.csv";

    static final OutputTable<SentRecord> TABLE = new OutputTable<>(
            "Sent",
            List.of(
                    column("identifier", "Identifier of a form or an Observation", SentRecord::identifier),
                    column("sha256", "Hash of its content", SentRecord::sha256),
                    column("status", "Status with which it was sent", SentRecord::status)));

    private SentTable() {}

    private static OutputColumn<SentRecord> column(String name, String meaning, Function<SentRecord, String> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, r -> Value.word(of.apply(r)));
    }

    /** What a folder holds, by identifier; nothing if it has no such list. */
    static Map<String, SentRecord> read(Path folder) {
        Path file = folder.resolve(NAME);
        Map<String, SentRecord> sent = new HashMap<>();
        if (Files.isRegularFile(file)) {
            SimpleTable.read(new Input(file, Optional.empty()), Optional.empty(), TABLE.headings())
                    .rows()
                    .forEach(row -> sent.put(
                            row.get("identifier"),
                            new SentRecord(row.get("identifier"), row.get("sha256"), row.get("status"))));
        }
        return sent;
    }
}
