package lumbrical.statistics;

import org.apache.commons.statistics.distribution.FDistribution;
import org.apache.commons.statistics.distribution.TDistribution;

/** Quantiles of the standard distributions. */
final class Distributions {
    /** The 97.5th percentile of the standard normal distribution. */
    static final double Z975 = 1.959963984540054;

    /** The 95th percentile of the standard normal distribution. */
    static final double Z95 = 1.644853626951473;

    private Distributions() {}

    /** The 97.5th percentile of Student's t. */
    static double t975(double degreesOfFreedom) {
        return TDistribution.of(degreesOfFreedom).inverseCumulativeProbability(0.975);
    }

    /** The quantile {@code p} of F with {@code numerator} and {@code denominator} degrees of freedom. */
    static double f(double p, double numerator, double denominator) {
        return FDistribution.of(numerator, denominator).inverseCumulativeProbability(p);
    }
}
