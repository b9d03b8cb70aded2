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
        c.add(OutputColumn.number(
                "expected",
                "Forms expected of episodes whose window has opened (CONSORT-PRO 13a)",
                r -> Value.number(r.expected())));
        c.add(OutputColumn.number(
                "received",
                "Of these, forms received in the window (CONSORT-PRO 13a)",
                r -> Value.number(r.received())));
        c.add(OutputColumn.number(
                "received_percent",
                "Received of expected, percent",
                r -> r.expected() == 0 ? Value.BLANK : Value.number(100.0 * r.received() / r.expected())));
        c.add(OutputColumn.number(
                "scorable",
                "Of the received, forms of which every scale but optional ones has a score (CONSORT-PRO 16)",
                r -> Value.number(r.scorable())));
        for (Reason reason : Reason.values()) {
            c.add(OutputColumn.number(
                    "not_scored_" + reason.code().replace('-', '_'),
                    "Received forms not scorable for this reason (CONSORT-PRO P12a)",
                    r -> Value.number(r.notScorable().getOrDefault(reason, 0))));
        }
        c.add(OutputColumn.number(
                "outside_window",
                "Forms received outside every window, nearest to this visit",
                r -> Value.number(r.outsideWindow())));
        c.add(OutputColumn.number(
                "closed", "Episodes closed before this visit: nothing expected", r -> Value.number(r.closed())));
        c.add(OutputColumn.number("not_yet", "Episodes whose window has not opened", r -> Value.number(r.notYet())));
        return c;
    }
}
