package lumbrical.statistics;

import java.util.Arrays;

/**
 * A sample in a few numbers.
 *
 * @param quantiles how many, mean, median and quartiles
 * @param sd standard deviation with n - 1; not estimable from one value or from equal ones
 * @param lowest the smallest value
 * @param highest the largest value
 */
public record Summary(Quantiles quantiles, Estimate<Double> sd, double lowest, double highest) {
    /**
     * The summary of {@code values}; not estimable of none.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Summary> of(double[] values) {
        if (values.length == 0) {
            return Estimate.none(Estimate.Reason.NO_VALUES);
        }
        return Estimate.of(new Summary(
                Quantiles.of(values),
                Means.sd(values),
                Arrays.stream(values).min().getAsDouble(),
                Arrays.stream(values).max().getAsDouble()));
    }
}
