package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.FlowRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.scoring.Reason;

/** What became of the forms of a group. */
public final class FlowColumns {
    /** The table. */
    public static final OutputTable<FlowRow> TABLE = new OutputTable<>("Flow", columns());

    private FlowColumns() {}

    private static List<OutputColumn<FlowRow>> columns() {
        List<OutputColumn<FlowRow>> c = new ArrayList<>(CohortKeys.group(FlowRow::group));
        c.add(OutputColumn.text(
                "instrument", "Instrument id", r -> Value.word(r.instrument().value())));
        c.add(OutputColumn.text(
                "visit", "Visit of the schedule", r -> Value.text(r.visit().name())));
        c.add(OutputColumn.count(
                "episodes",
                "Episodes of the group, whether the form is asked of them or not",
                r -> Value.number(r.asked().episodes())));
        c.add(OutputColumn.count(
                "not_yet",
                "Of how many the form is asked, but the window has not opened",
                r -> Value.number(r.asked().notYet())));
        c.add(OutputColumn.count(
                "closed",
                "How many were closed before the window: nothing expected",
                r -> Value.number(r.asked().closed())));
        c.add(OutputColumn.count(
                "expected",
                "Of how many the form is expected so far",
                r -> Value.number(r.asked().expected())));
        c.add(OutputColumn.count(
                "received",
                "From how many of these it came in the window",
                r -> Value.number(r.asked().received())));
        c.add(OutputColumn.count(
                "scorable",
                "How many of these have a score of the instrument's first scale that is not optional",
                r -> Value.number(r.scorable())));
        c.add(OutputColumn.count(
                "paired", "How many of these can be set against a baseline", r -> Value.number(r.paired())));
        for (Reason reason : Reason.values()) {
            c.add(OutputColumn.count(
                    "not_scored_" + reason.code().replace('-', '_'),
                    "Received without that score for this reason",
                    r -> Value.number(r.notScored().getOrDefault(reason, 0))));
        }
        c.add(OutputColumn.count(
                "not_scored_entered_twice",
                "Received, entered twice with different answers: of no use until one is removed",
                r -> Value.number(r.enteredTwice())));
        return c;
    }
}
