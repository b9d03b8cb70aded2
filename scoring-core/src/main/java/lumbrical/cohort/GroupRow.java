package lumbrical.cohort;

import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;

/**
 * How a group stands on a scale at a visit.
 *
 * @param at group, scale and visit
 * @param size how large the group is and what came in
 * @param scores the scores that count at the visit
 * @param bestPossible how many stand at the best end of the scale
 * @param worstPossible how many at the worst
 * @param improvement of those with a baseline to compare; empty at baseline
 */
public record GroupRow(
        RowPlace at,
        Size size,
        Estimate<Summary> scores,
        int bestPossible,
        int worstPossible,
        Optional<Improvement> improvement) {
    /** Name of the table. */
    public static final String TABLE = "groups";

    /**
     * How large the group is and what came in at the visit.
     *
     * @param episodes episodes of the group, whether the form is asked of them or not
     * @param patients whose they are
     * @param expected of how many the form is expected
     * @param received how many of these came in
     * @param scored how many scores count
     */
    public record Size(int episodes, int patients, int expected, int received, int scored) {}

    /**
     * Improvement since baseline.
     *
     * @param paired how many have both scores
     * @param values the improvements
     * @param mean their mean with its interval
     * @param clustered whether the interval allows for patients with several of the episodes
     * @param hodgesLehmann median of all averages of two
     * @param effectSize mean over the SD of the baseline scores of the same episodes
     * @param srm mean over the SD of the improvements
     */
    public record Improvement(
            int paired,
            Estimate<Summary> values,
            Estimate<TInterval> mean,
            boolean clustered,
            Estimate<Double> hodgesLehmann,
            Estimate<Double> effectSize,
            Estimate<Double> srm) {}

    Stream<Blank> blanks() {
        return Stream.concat(
                Stream.concat(
                        Blank.of(TABLE, at, "scores", scores),
                        Blank.of(TABLE, at, "SD of the scores", scores.flatMap(Summary::sd))
                                .filter(b -> scores.whyNot().isEmpty())),
                improvement.stream()
                        .flatMap(i -> i.paired() == 0
                                ? Blank.of(TABLE, at, "improvement", i.values())
                                : Stream.of(
                                                Blank.of(TABLE, at, "interval of the mean improvement", i.mean()),
                                                Blank.of(
                                                        TABLE,
                                                        at,
                                                        "SD of the improvement, SRM",
                                                        i.values().flatMap(Summary::sd)),
                                                Blank.of(TABLE, at, "effect size", i.effectSize()))
                                        .flatMap(s -> s)));
    }
}
