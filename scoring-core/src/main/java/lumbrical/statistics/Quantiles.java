package lumbrical.statistics;

import org.apache.commons.statistics.descriptive.Mean;
import org.apache.commons.statistics.descriptive.Quantile;
import org.apache.commons.statistics.descriptive.Quantile.EstimationMethod;

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
    /** Type 7 of Hyndman and Fan. */
    private static final Quantile TYPE_7 =
            Quantile.withDefaults().with(EstimationMethod.HF7).withCopy(true);

    /**
     * The summary of {@code values}. Quantiles interpolate between the order statistics around {@code (n - 1) p + 1}
     * (Hyndman and Fan 1996, type 7, doi:10.1080/00031305.1996.10473566; the default of general statistics software).
     *
     * @throws IllegalArgumentException if there is no value or one is not finite
     */
    public static Quantiles of(double[] values) {
        if (values.length == 0) {
            throw new IllegalArgumentException("Quantiles need at least one value");
        }
        double[] q = type7(values, 0.25, 0.5, 0.75);
        return new Quantiles(values.length, Mean.of(values).getAsDouble(), q[0], q[1], q[2]);
    }

    /** The quantiles {@code p} of at least one value. */
    static double[] type7(double[] values, double... p) {
        Values.requireFinite(values);
        return TYPE_7.evaluate(values, p);
    }
}
