package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.EcdfRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** The cumulative distribution of improvement. */
public final class EcdfColumns {
    /** The table. */
    public static final OutputTable<EcdfRow> TABLE = new OutputTable<>("Distribution", columns());

    private EcdfColumns() {}

    private static List<OutputColumn<EcdfRow>> columns() {
        List<OutputColumn<EcdfRow>> c = new ArrayList<>(CohortKeys.of(EcdfRow::at));
        c.add(OutputColumn.number(
                "improvement", "An improvement seen, positive when better", r -> Value.number(r.improvement())));
        c.add(OutputColumn.count(
                "at_least",
                "How many improved by that or more",
                r -> Value.number(r.atLeast().count())));
        c.add(OutputColumn.count(
                "paired",
                "Episodes with both scores",
                r -> Value.number(r.atLeast().of())));
        c.add(OutputColumn.number("percent", "At least of paired, per cent", r -> CohortKeys.percent(r.atLeast())));
        return c;
    }
}
