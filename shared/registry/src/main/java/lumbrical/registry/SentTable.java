package lumbrical.registry;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.deidentify.SentRecords;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** The list of what a receiver was sent, as it stands beside the data. */
final class SentTable {
    static final String NAME = "sent.csv";

    static final OutputTable<Map.Entry<SentRecords.Key, SentRecords.Sent>> TABLE = new OutputTable<>(
            "Sent",
            List.of(
                    column("table", "Table or type of resource", r -> r.getKey().table()),
                    column("key", "Key of the record there", r -> r.getKey().key()),
                    column("subject", "Pseudonym of the patient", r -> r.getValue()
                            .subject()),
                    column("hash", "Hash of its content", r -> r.getValue().hash()),
                    column("state", "sent, amended, returned or withdrawn", r -> r.getValue()
                            .state()
                            .code())));

    private SentTable() {}

    private static OutputColumn<Map.Entry<SentRecords.Key, SentRecords.Sent>> column(
            String name, String meaning, Function<Map.Entry<SentRecords.Key, SentRecords.Sent>, String> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, r -> Value.word(of.apply(r)));
    }

    /**
     * What a folder lists; nothing if it has no such list.
     *
     * @throws UnreadableInputException if the list is damaged
     */
    static SentRecords read(Path folder) {
        Path file = folder.resolve(NAME);
        Map<SentRecords.Key, SentRecords.Sent> sent = new HashMap<>();
        if (Files.isRegularFile(file)) {
            SimpleTable.read(new Input(file, Optional.empty()), Optional.empty(), TABLE.headings())
                    .rows()
                    .forEach(row -> sent.put(
                            new SentRecords.Key(row.get("table"), row.get("key")),
                            new SentRecords.Sent(row.get("subject"), row.get("hash"), state(row))));
        }
        return new SentRecords(sent);
    }

    private static SentRecords.State state(SimpleTable.Row row) {
        return Stream.of(SentRecords.State.values())
                .filter(state -> state.code().equals(row.get("state")))
                .findFirst()
                .orElseThrow(() -> new UnreadableInputException(
                        row.place().in("state"), "this is no state of a record. Name a folder as submit wrote it."));
    }
}
