package lumbrical.cohort;

import java.util.List;
import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.statistics.AnchorMethod;
import lumbrical.statistics.Estimate;

/**
 * An MCID of the group's own, read from a rating of change. Never used as a threshold by itself.
 *
 * @param at group, scale and visit
 * @param method how it was read
 * @param estimate in units of the scale
 * @param interval 95 %, from resamples of the patients
 * @param sample the cases
 * @param warnings what makes it weak, in words
 */
public record OwnMcidRow(
        RowPlace at,
        AnchorMethod method,
        Estimate<Double> estimate,
        Estimate<Range> interval,
        Sample sample,
        List<String> warnings) {
    /** Name of the table. */
    public static final String TABLE = "own-mcid";

    /** Copies the list. */
    public OwnMcidRow {
        warnings = List.copyOf(warnings);
    }

    /**
     * The cases with an improvement and a rating of the same sitting.
     *
     * @param n how many
     * @param improved how many rated one step up or more
     * @param correlation Spearman's, of improvement and rating
     * @param auc area under the curve of improvement against being improved
     */
    public record Sample(int n, int improved, Estimate<Double> correlation, Estimate<Double> auc) {}

    Stream<Blank> blanks() {
        return Blank.of(TABLE, at, "MCID by " + method.code(), estimate);
    }
}
