package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.OwnMcidRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** MCIDs of the clinic's own, read from a rating of change. */
public final class OwnMcidColumns {
    /** The table. */
    public static final OutputTable<OwnMcidRow> TABLE = new OutputTable<>("Own MCID", columns());

    private OwnMcidColumns() {}

    private static List<OutputColumn<OwnMcidRow>> columns() {
        List<OutputColumn<OwnMcidRow>> c = new ArrayList<>(CohortKeys.of(OwnMcidRow::at));
        c.add(OutputColumn.text(
                "method",
                "mean-change: at the rating's first step up; mean-difference: that minus the unchanged; roc-youden, roc-corner:"
                        + " best thresholds; predictive, predictive-adjusted: logistic; limit-95: of the unchanged",
                r -> Value.word(r.method().code())));
        c.add(OutputColumn.number(
                "estimate",
                "The MCID by this method, in units of the scale; never used as a threshold by itself",
                r -> CohortKeys.value(r.estimate())));
        c.add(OutputColumn.number(
                "low", "Lower 95 % limit, from resamples of the patients", r -> CohortKeys.low(r.interval())));
        c.add(OutputColumn.number(
                "high", "Upper 95 % limit, from resamples of the patients", r -> CohortKeys.high(r.interval())));
        c.add(OutputColumn.count(
                "n",
                "Episodes with an improvement and a rating of the same day",
                r -> Value.number(r.sample().n())));
        c.add(OutputColumn.count(
                "improved",
                "How many of them rated one step up or more",
                r -> Value.number(r.sample().improved())));
        c.add(OutputColumn.number(
                "anchor_correlation",
                "Spearman's correlation of improvement and rating",
                r -> CohortKeys.value(r.sample().correlation())));
        c.add(OutputColumn.number(
                "auc",
                "Area under the curve: that an improved one improved more by the score than another",
                r -> CohortKeys.value(r.sample().auc())));
        c.add(OutputColumn.text(
                "warning", "What makes the value weak", r -> Value.word(String.join("; ", r.warnings()))));
        return c;
    }
}
