package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.CompareRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Two groups compared: A minus B. */
public final class CompareColumns {
    /** The table. */
    public static final OutputTable<CompareRow> TABLE = new OutputTable<>("Compare", columns());

    private static final String NOT_RANDOMISED =
            "; groups that were not randomised differ in more than their treatment";

    private CompareColumns() {}

    private static List<OutputColumn<CompareRow>> columns() {
        List<OutputColumn<CompareRow>> c = new ArrayList<>(CohortKeys.of(CompareRow::at));
        c.add(OutputColumn.count("n_a", "Episodes of A with both scores (CONSORT-PRO 16)", r -> Value.number(r.nA())));
        c.add(OutputColumn.count("n_b", "Episodes of B with both scores (CONSORT-PRO 16)", r -> Value.number(r.nB())));
        c.add(OutputColumn.number(
                "difference",
                "Mean improvement of A minus that of B (CONSORT-PRO 17a)" + NOT_RANDOMISED,
                r -> CohortKeys.value(r.difference().value())));
        c.add(OutputColumn.number(
                "low",
                "Lower 95 % limit (Welch); takes episodes as independent",
                r -> CohortKeys.low(r.difference().interval())));
        c.add(OutputColumn.number(
                "high",
                "Upper 95 % limit (Welch)",
                r -> CohortKeys.high(r.difference().interval())));
        c.add(OutputColumn.number(
                "adjusted_difference",
                "The same at equal baseline: linear model with the baseline score" + NOT_RANDOMISED,
                r -> CohortKeys.value(r.adjusted().difference().value())));
        c.add(OutputColumn.number(
                "adjusted_low",
                "Its lower 95 % limit",
                r -> CohortKeys.low(r.adjusted().difference().interval())));
        c.add(OutputColumn.number(
                "adjusted_high",
                "Its upper 95 % limit",
                r -> CohortKeys.high(r.adjusted().difference().interval())));
        c.add(OutputColumn.text(
                "adjusted_interval",
                "t: Student's; clustered: allows for patients with several of the episodes",
                r -> r.adjusted()
                        .difference()
                        .interval()
                        .fold(i -> Value.word(r.adjusted().clustered() ? "clustered" : "t"), reason -> Value.BLANK)));
        c.add(OutputColumn.number(
                "probability_a_better",
                "That an episode of A improves more than one of B, ties one half; 0.5 = alike",
                r -> CohortKeys.value(r.probabilityABetter())));
        c.add(OutputColumn.number(
                "hodges_lehmann_shift",
                "Median of all differences of an improvement of A and one of B",
                r -> CohortKeys.value(r.shift())));
        c.add(OutputColumn.number("mcid", "MCID used; blank where each episode has its own", r -> r.responders()
                .map(p -> Value.number(p.mcid().value()))
                .orElse(Value.BLANK)));
        c.add(OutputColumn.count("improved_a", "How many of A improved by the MCID or more", r -> r.responders()
                .map(p -> Value.number(p.a().count()))
                .orElse(Value.BLANK)));
        c.add(OutputColumn.count("improved_b", "How many of B improved by the MCID or more", r -> r.responders()
                .map(p -> Value.number(p.b().count()))
                .orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "improved_difference",
                "Per cent improved of A minus that of B; blank of small groups",
                r -> r.responders()
                        .flatMap(CompareRow.Responders::difference)
                        .map(Value::number)
                        .orElse(Value.BLANK)));
        c.add(OutputColumn.number(
                "improved_low",
                "Its lower 95 % limit (Newcombe); takes episodes as independent",
                r -> CohortKeys.low(r.responders().flatMap(CompareRow.Responders::interval95))));
        c.add(OutputColumn.number(
                "improved_high",
                "Its upper 95 % limit (Newcombe)",
                r -> CohortKeys.high(r.responders().flatMap(CompareRow.Responders::interval95))));
        return c;
    }
}
