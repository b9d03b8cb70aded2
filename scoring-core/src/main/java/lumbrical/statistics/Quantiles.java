package lumbrical.statistics;

import java.util.Arrays;

/**
 * Mean and quantiles of a sample.
 *
 * @param n how many values, at least 1
 * @param mean arithmetic mean
 * @param lowerQuartile quantile 0.25
 * @param median quantile 0.5
 * @param upperQuartile quantile 0.75
 */
public record Quantiles(int n, double mean, double lowerQuartile, double median, double upperQuartile) {
    /**
     * The summary of {@code values}. Quantiles interpolate between the order statistics around {@code (n - 1) p + 1}
     * (Hyndman and Fan 1996, type 7, doi:10.1080/00031305.1996.10473566; the default of general statistics software).
     *
     * @throws IllegalArgumentException if there is no value or one is NaN
     */
    public static Quantiles of(double[] values) {
        if (values.length == 0 || Arrays.stream(values).anyMatch(Double::isNaN)) {
            throw new IllegalArgumentException("Quantiles need at least one value, and numbers only");
        }
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        return new Quantiles(
                sorted.length,
                Arrays.stream(sorted).sum() / sorted.length,
                at(sorted, 0.25),
                at(sorted, 0.5),
                at(sorted, 0.75));
    }

    private static double at(double[] sorted, double p) {
        double position = (sorted.length - 1) * p;
        int below = (int) Math.floor(position);
        int above = Math.min(below + 1, sorted.length - 1);
        return sorted[below] + (position - below) * (sorted[above] - sorted[below]);
    }
}
