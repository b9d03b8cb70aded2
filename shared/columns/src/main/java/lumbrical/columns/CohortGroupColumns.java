package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import lumbrical.cohort.GroupRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;

/** How groups stand on a scale at a visit. */
public final class CohortGroupColumns {
    /** The table. */
    public static final OutputTable<GroupRow> TABLE = new OutputTable<>("Groups", columns());

    private CohortGroupColumns() {}

    private static List<OutputColumn<GroupRow>> columns() {
        List<OutputColumn<GroupRow>> c = new ArrayList<>(CohortKeys.of(GroupRow::at));
        c.add(OutputColumn.count(
                "episodes",
                "Episodes of the group, whether the form is asked of them or not",
                r -> Value.number(r.size().episodes())));
        c.add(OutputColumn.count(
                "patients",
                "Patients of these episodes",
                r -> Value.number(r.size().patients())));
        c.add(OutputColumn.count(
                "expected",
                "Of how many episodes the form is expected so far",
                r -> Value.number(r.size().expected())));
        c.add(OutputColumn.count(
                "received",
                "From how many of these it came in the window",
                r -> Value.number(r.size().received())));
        c.add(OutputColumn.count(
                "scored",
                "Scores that count at the visit",
                r -> Value.number(r.size().scored())));
        c.add(OutputColumn.count(
                "paired",
                "Of these, scores that can be set against a baseline; blank at baseline",
                r -> r.improvement().map(i -> Value.number(i.paired())).orElse(Value.BLANK)));
        c.add(score(
                "mean",
                "Mean score (CONSORT-PRO 15 at baseline)",
                s -> Value.number(s.quantiles().mean())));
        c.add(score("sd", "Its standard deviation, n - 1", s -> CohortKeys.value(s.sd())));
        c.add(score("median", "Median score", s -> Value.number(s.quantiles().median())));
        c.add(score(
                "q1",
                "Lower quartile; interpolates between order statistics",
                s -> Value.number(s.quantiles().lowerQuartile())));
        c.add(score(
                "q3",
                "Upper quartile; interpolates between order statistics",
                s -> Value.number(s.quantiles().upperQuartile())));
        c.add(score("lowest", "Smallest score seen", s -> Value.number(s.lowest())));
        c.add(score("highest", "Largest score seen", s -> Value.number(s.highest())));
        c.add(OutputColumn.count(
                "best_possible",
                "How many stand at the best end of the scale and could not be seen to be better",
                r -> Value.number(r.bestPossible())));
        c.add(OutputColumn.count(
                "worst_possible", "How many stand at the worst end", r -> Value.number(r.worstPossible())));
        c.add(improvement(
                "improvement_mean",
                "Mean improvement since baseline, positive when better (CONSORT-PRO 17a)",
                i -> summary(i.values(), s -> Value.number(s.quantiles().mean()))));
        c.add(improvement(
                "improvement_sd",
                "Its standard deviation, n - 1",
                i -> summary(i.values(), s -> CohortKeys.value(s.sd()))));
        c.add(improvement(
                "improvement_low",
                "Lower 95 % limit of the mean improvement (CONSORT-PRO 17a)",
                i -> CohortKeys.low(i.mean().map(TInterval::interval))));
        c.add(improvement(
                "improvement_high",
                "Upper 95 % limit of the mean improvement (CONSORT-PRO 17a)",
                i -> CohortKeys.high(i.mean().map(TInterval::interval))));
        c.add(OutputColumn.text(
                "interval",
                "t: Student's; clustered: allows for patients with several of the episodes",
                r -> r.improvement()
                        .filter(i -> i.mean().optional().isPresent())
                        .map(i -> Value.word(i.clustered() ? "clustered" : "t"))
                        .orElse(Value.BLANK)));
        c.add(improvement(
                "improvement_median",
                "Median improvement",
                i -> summary(i.values(), s -> Value.number(s.quantiles().median()))));
        c.add(improvement(
                "hodges_lehmann",
                "Median of all averages of two improvements",
                i -> CohortKeys.value(i.hodgesLehmann())));
        c.add(improvement(
                "effect_size",
                "Mean improvement over the SD of the baseline scores of the same episodes",
                i -> CohortKeys.value(i.effectSize())));
        c.add(improvement("srm", "Mean improvement over the SD of the improvements", i -> CohortKeys.value(i.srm())));
        return c;
    }

    private static OutputColumn<GroupRow> score(String name, String meaning, Function<Summary, Value> of) {
        return OutputColumn.number(name, meaning, r -> summary(r.scores(), of));
    }

    private static OutputColumn<GroupRow> improvement(
            String name, String meaning, Function<GroupRow.Improvement, Value> of) {
        return OutputColumn.number(name, meaning, r -> r.improvement().map(of).orElse(Value.BLANK));
    }

    private static Value summary(Estimate<Summary> summary, Function<Summary, Value> of) {
        return summary.fold(of, reason -> Value.BLANK);
    }
}
