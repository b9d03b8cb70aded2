package lumbrical.cohort;

import java.util.stream.Stream;
import lumbrical.statistics.Estimate;

/**
 * Whether those who were seen again had started like those who were not.
 *
 * @param at group, scale and visit
 * @param with baseline scores of those with a score at the visit
 * @param without baseline scores of those without
 * @param standardisedDifference without minus with, over the pooled SD
 */
public record AttritionRow(RowPlace at, Baselines with, Baselines without, Estimate<Double> standardisedDifference) {
    /** Name of the table. */
    public static final String TABLE = "attrition";

    /**
     * Baseline scores.
     *
     * @param n how many
     * @param mean their mean
     * @param sd their SD
     */
    public record Baselines(int n, Estimate<Double> mean, Estimate<Double> sd) {}

    Stream<Blank> blanks() {
        return Blank.of(TABLE, at, "standardised difference", standardisedDifference);
    }
}
