package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.AttritionRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** Whether those who were seen again had started like those who were not. */
public final class AttritionColumns {
    /** The table. */
    public static final OutputTable<AttritionRow> TABLE = new OutputTable<>("Attrition", columns());

    private AttritionColumns() {}

    private static List<OutputColumn<AttritionRow>> columns() {
        List<OutputColumn<AttritionRow>> c = new ArrayList<>(CohortKeys.of(AttritionRow::at));
        c.add(OutputColumn.count(
                "with_follow_up",
                "Episodes with a baseline score and one at the visit",
                r -> Value.number(r.with().n())));
        c.add(OutputColumn.number(
                "mean_with",
                "Their mean baseline score",
                r -> CohortKeys.value(r.with().mean())));
        c.add(OutputColumn.number(
                "sd_with",
                "Its standard deviation, n - 1",
                r -> CohortKeys.value(r.with().sd())));
        c.add(OutputColumn.count(
                "without",
                "Episodes with a baseline score and none at the visit, whose window is over and that were not closed before it"
                        + "",
                r -> Value.number(r.without().n())));
        c.add(OutputColumn.number(
                "mean_without",
                "Their mean baseline score",
                r -> CohortKeys.value(r.without().mean())));
        c.add(OutputColumn.number(
                "sd_without",
                "Its standard deviation, n - 1",
                r -> CohortKeys.value(r.without().sd())));
        c.add(OutputColumn.number(
                "standardised_difference",
                "Without minus with, over the pooled SD",
                r -> CohortKeys.value(r.standardisedDifference())));
        return c;
    }
}
