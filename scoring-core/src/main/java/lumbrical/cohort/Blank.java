package lumbrical.cohort;

import java.util.stream.Stream;
import lumbrical.statistics.Estimate;

/**
 * A cell that is blank because its value cannot be estimated.
 *
 * @param table name of the table
 * @param at the row
 * @param quantity what cannot be estimated, in words
 * @param reason why
 */
public record Blank(String table, RowPlace at, String quantity, Estimate.Reason reason) {
    static Stream<Blank> of(String table, RowPlace at, String quantity, Estimate<?> estimate) {
        return estimate.whyNot().stream().map(reason -> new Blank(table, at, quantity, reason));
    }
}
