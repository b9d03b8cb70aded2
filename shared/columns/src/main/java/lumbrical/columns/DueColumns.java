package lumbrical.columns;

import java.util.List;
import lumbrical.followup.ExpectedForm;
import lumbrical.instrument.Item;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Expected forms and how they stand. */
public final class DueColumns {
    /** The table. */
    public static final OutputTable<ExpectedForm> TABLE = new OutputTable<>("Due", columns());

    private DueColumns() {}

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
                OutputColumn.text(
                        "instrument",
                        "The form expected",
                        r -> Value.word(r.instrument().value())),
                OutputColumn.date("opens", "First day of the window", r -> Value.day(r.opens())),
                OutputColumn.date("target", "Day aimed at", r -> Value.day(r.target())),
                OutputColumn.date("closes", "Last day of the window", r -> Value.day(r.closes())),
                OutputColumn.number(
                        "days_left",
                        "Days to the last day of the window; negative once past",
                        r -> Value.number(r.daysLeft())),
                OutputColumn.text(
                        "state",
                        "not-yet, due, overdue, missed, received or received-not-scorable",
                        r -> Value.word(r.state().code())),
                OutputColumn.text(
                        "blank_items",
                        "For a form that cannot be scored: the items to ask for",
                        r -> Value.word(String.join(
                                "; ",
                                r.blankItems().stream().map(DueColumns::item).toList()))));
    }

    private static String item(Item item) {
        return item.id() + " " + item.topic();
    }
}
