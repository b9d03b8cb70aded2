package lumbrical.cohort;

import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate;

/**
 * How reliable a scale is in a group.
 *
 * @param at group and scale; the visit for the consistency of items, none for retests
 * @param quantity its code, such as {@code alpha} or {@code item-rest:3}
 * @param value the value; of limits of agreement the mean difference, second minus first
 * @param interval 95 % limits; not estimable where there are none for the quantity
 * @param n complete forms, or pairs of sittings
 * @param method how it was computed
 */
public record ReliabilityRow(
        RowPlace at, String quantity, Estimate<Double> value, Estimate<Range> interval, int n, String method) {
    /** Name of the table. */
    public static final String TABLE = "reliability";

    Stream<Blank> blanks() {
        return Blank.of(TABLE, at, quantity.replaceFirst(":.*", ""), value);
    }
}
