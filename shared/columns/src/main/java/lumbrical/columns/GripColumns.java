package lumbrical.columns;

import java.util.List;
import lumbrical.grip.GripRow;
import lumbrical.instrument.Side;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** The functional-task profile. */
public final class GripColumns {
    /** The table. */
    public static final OutputTable<GripRow> TABLE = new OutputTable<>("Grip tasks", columns());

    private GripColumns() {}

    private static List<OutputColumn<GripRow>> columns() {
        return List.of(
                OutputColumn.text(
                        "patient",
                        "Pseudonymous id",
                        r -> Value.text(r.sitting().patient())),
                OutputColumn.text("episode", "One treatment of one side", r -> Value.text(r.episode())),
                OutputColumn.text(
                        "side",
                        "The hand asked about; blank for items asked of the person",
                        r -> Value.word(r.hand().map(Side::code))),
                OutputColumn.date(
                        "completed_on",
                        "Day of the form",
                        r -> Value.day(r.sitting().day())),
                OutputColumn.text("visit", "Visit of the schedule", r -> Value.text(r.visit())),
                OutputColumn.text(
                        "grip",
                        "key, pinch, precision, power, hook or cylindrical",
                        r -> Value.word(r.grip().code())),
                OutputColumn.number(
                        "difficulty",
                        "0 none to 100 cannot do; mean of the answered items. Descriptive, not a validated scale, no MCID",
                        r -> Value.number(r.difficulty())),
                OutputColumn.count(
                        "items", "Items with this grip on the forms of the day", r -> Value.number(r.items())),
                OutputColumn.count("answered", "How many of them were answered", r -> Value.number(r.answered())),
                OutputColumn.text("from", "The items answered", r -> Value.word(String.join(" ", r.from()))));
    }
}
