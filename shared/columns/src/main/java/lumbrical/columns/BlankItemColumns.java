package lumbrical.columns;

import java.util.List;
import java.util.stream.Collectors;
import lumbrical.followup.ExpectedForm;
import lumbrical.instrument.Item;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Forms that came and cannot be scored, with the items to ask for by telephone. */
public final class BlankItemColumns {
    /** The table. */
    public static final OutputTable<ExpectedForm> TABLE = new OutputTable<>("Items to ask for", columns());

    private BlankItemColumns() {}

    private static List<OutputColumn<ExpectedForm>> columns() {
        return List.of(
                OutputColumn.text(
                        "patient",
                        "Pseudonymous id",
                        r -> Value.text(r.episode().patient())),
                OutputColumn.text(
                        "episode",
                        "One treatment of one side",
                        r -> Value.text(r.episode().id())),
                OutputColumn.text(
                        "visit",
                        "Visit of the schedule",
                        r -> Value.text(r.visit().name())),
                OutputColumn.date("closes", "Last day of the window", r -> Value.day(r.closes())),
                OutputColumn.text(
                        "form", "Instrument id", r -> Value.word(r.instrument().value())),
                OutputColumn.text(
                        "blank_items",
                        "The items without an answer, by number and our own topic label",
                        r -> Value.word(r.blankItems().stream()
                                .map(BlankItemColumns::item)
                                .collect(Collectors.joining("; ")))));
    }

    private static String item(Item item) {
        return item.id() + " " + item.topic();
    }
}
