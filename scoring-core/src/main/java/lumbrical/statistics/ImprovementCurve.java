package lumbrical.statistics;

import java.util.List;
import java.util.stream.IntStream;

/**
 * How many improved by at least so much: the cumulative distribution of improvement, read from the right.
 *
 * @param n how many cases there are
 * @param steps each improvement seen, ascending
 */
public record ImprovementCurve(int n, List<Step> steps) {
    public ImprovementCurve {
        steps = List.copyOf(steps);
    }

    /**
     * One improvement seen.
     *
     * @param improvement in units of the score, positive when better
     * @param atLeast how many improved by that or more, from 1 to n
     */
    public record Step(double improvement, int atLeast) {}

    /**
     * The curve; no steps if there is nobody.
     *
     * @throws IllegalArgumentException if an improvement is not finite
     */
    public static ImprovementCurve of(double[] improvements) {
        Values.requireFinite(improvements);
        double[] distinct = Values.distinct(improvements);
        int[] atLeast = new int[distinct.length];
        for (double improvement : improvements) {
            atLeast[Values.indexIn(distinct, improvement)]++;
        }
        for (int i = distinct.length - 2; i >= 0; i--) {
            atLeast[i] += atLeast[i + 1];
        }
        return new ImprovementCurve(
                improvements.length,
                IntStream.range(0, distinct.length)
                        .mapToObj(i -> new Step(distinct[i], atLeast[i]))
                        .toList());
    }

    /** How many improved by {@code amount} or more; equal counts. */
    public int atLeast(double amount) {
        return steps.stream()
                .filter(step -> step.improvement() >= amount - Values.SLACK)
                .mapToInt(Step::atLeast)
                .findFirst()
                .orElse(0);
    }
}
