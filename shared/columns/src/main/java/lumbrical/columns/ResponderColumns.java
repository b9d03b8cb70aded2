package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.ResponderRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** How many of a group improved by which MCID. */
public final class ResponderColumns {
    /** The table. */
    public static final OutputTable<ResponderRow> TABLE = new OutputTable<>("Responders", columns());

    private ResponderColumns() {}

    private static List<OutputColumn<ResponderRow>> columns() {
        List<OutputColumn<ResponderRow>> c = new ArrayList<>(CohortKeys.of(ResponderRow::at));
        c.add(OutputColumn.number(
                "mcid",
                "Minimal clinically important difference; blank where each episode has its own",
                r -> Value.number(r.mcid().value())));
        c.add(OutputColumn.text(
                "mcid_source",
                "Threshold id, population, method, standing; each-episodes-own: that of its condition",
                r -> CohortKeys.source(r.mcid())));
        c.add(OutputColumn.text(
                "mcid_used",
                "yes for the one used for this group; no for another published one",
                r -> Value.word(r.used() ? "yes" : "no")));
        c.add(OutputColumn.count(
                "paired",
                "Episodes with both scores and an MCID",
                r -> Value.number(r.improved().of())));
        c.add(OutputColumn.count(
                "improved",
                "How many of them improved by the MCID or more (CONSORT-PRO 17a)",
                r -> Value.number(r.improved().count())));
        c.add(OutputColumn.number(
                "improved_percent",
                "Improved of paired, per cent; blank of a small group",
                r -> CohortKeys.percent(r.improved())));
        c.add(OutputColumn.number(
                "low",
                "Lower 95 % limit (Wilson), per cent; takes episodes as independent (CONSORT-PRO 17a)",
                r -> CohortKeys.low(r.improved().interval95())));
        c.add(OutputColumn.number(
                "high",
                "Upper 95 % limit (Wilson), per cent (CONSORT-PRO 17a)",
                r -> CohortKeys.high(r.improved().interval95())));
        c.add(OutputColumn.count(
                "worsened",
                "How many worsened by it or more; the mirror is a convention of ours",
                r -> Value.number(r.worsened())));
        c.add(OutputColumn.count(
                "beyond_error",
                "How many changed, either way, by the MDC or more; blank if none is known",
                r -> Value.number(r.beyondError())));
        c.add(OutputColumn.count(
                "could_not_reach",
                "How many baselines leave less room than the MCID",
                r -> Value.number(r.couldNotReach())));
        c.add(OutputColumn.number(
                "if_missing_not_improved_percent",
                "Per cent of all episodes with a baseline score, had nobody else improved",
                r -> CohortKeys.percent(r.ifMissing().notImproved())));
        c.add(OutputColumn.number(
                "if_missing_improved_percent",
                "The same, had everybody else improved",
                r -> CohortKeys.percent(r.ifMissing().improved())));
        return c;
    }
}
