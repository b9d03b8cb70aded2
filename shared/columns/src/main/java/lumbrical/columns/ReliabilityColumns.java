package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.ReliabilityRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** How reliable a scale is in a group. */
public final class ReliabilityColumns {
    /** The table. */
    public static final OutputTable<ReliabilityRow> TABLE = new OutputTable<>("Reliability", columns());

    private ReliabilityColumns() {}

    private static List<OutputColumn<ReliabilityRow>> columns() {
        List<OutputColumn<ReliabilityRow>> c = new ArrayList<>(CohortKeys.of(ReliabilityRow::at));
        c.add(OutputColumn.text(
                "quantity",
                "alpha, alpha-without:ITEM, item-rest:ITEM; icc-2-1, sem-agreement, sem-consistency, mdc90, mdc95,"
                        + " limits-of-agreement",
                r -> Value.word(r.quantity())));
        c.add(OutputColumn.number(
                "value",
                "Its value; of limits of agreement the mean difference, second minus first",
                r -> CohortKeys.value(r.value())));
        c.add(OutputColumn.number("low", "Lower 95 % limit", r -> CohortKeys.low(r.interval())));
        c.add(OutputColumn.number("high", "Upper 95 % limit", r -> CohortKeys.high(r.interval())));
        c.add(OutputColumn.count("n", "Complete forms, or pairs of forms", r -> Value.number(r.n())));
        c.add(OutputColumn.text("method", "How it was computed", r -> Value.word(r.method())));
        return c;
    }
}
