package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.followup.VisitCount;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.scoring.Reason;

/** Expected against received. */
public final class FollowUpColumns {
    /** The table. */
    public static final OutputTable<VisitCount> TABLE = new OutputTable<>("Follow-up", columns());

    private FollowUpColumns() {}

    private static List<OutputColumn<VisitCount>> columns() {
        List<OutputColumn<VisitCount>> c = new ArrayList<>();
        c.add(OutputColumn.text(
                "visit", "Visit of the schedule", r -> Value.text(r.visit().name())));
        c.add(OutputColumn.text(
                "instrument", "Instrument id", r -> Value.word(r.instrument().value())));
        c.add(OutputColumn.count(
                "expected", "Forms expected of episodes whose window has opened", r -> Value.number(r.expected())));
        c.add(OutputColumn.count(
                "received", "Of these, forms received in the window", r -> Value.number(r.received())));
        c.add(OutputColumn.number(
                "received_percent",
                "Received of expected, percent",
                r -> r.expected() == 0 ? Value.BLANK : Value.number(100.0 * r.received() / r.expected())));
        c.add(OutputColumn.count(
                "scorable",
                "Of the received, forms of which every scale but optional ones has a score",
                r -> Value.number(r.scorable())));
        for (Reason reason : Reason.values()) {
            c.add(OutputColumn.count(
                    "not_scored_" + reason.code().replace('-', '_'),
                    "Received forms not scorable for this reason",
                    r -> Value.number(r.notScorable().getOrDefault(reason, 0))));
        }
        c.add(OutputColumn.count(
                "outside_window",
                "Forms received outside every window, nearest to this visit",
                r -> Value.number(r.outsideWindow())));
        c.add(OutputColumn.count(
                "closed",
                "Episodes closed before the first day of the window: nothing expected",
                r -> Value.number(r.closed())));
        c.add(OutputColumn.count("not_yet", "Episodes whose window has not opened", r -> Value.number(r.notYet())));
        c.add(OutputColumn.count(
                "entered_twice",
                "Received forms entered twice with different answers: not scorable until one is removed",
                r -> Value.number(r.enteredTwice())));
        return c;
    }
}
