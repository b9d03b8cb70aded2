package lumbrical.statistics;

import org.apache.commons.statistics.distribution.ContinuousDistribution;
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
        return quantile(TDistribution.of(degreesOfFreedom), 0.975);
    }

    /** The quantile {@code p} of F with {@code numerator} and {@code denominator} degrees of freedom. */
    static double f(double p, double numerator, double denominator) {
        return quantile(FDistribution.of(numerator, denominator), p);
    }

    /** The library's root finder stops at 1e-9; one step of Newton's takes it to the last digits. */
    private static double quantile(ContinuousDistribution distribution, double p) {
        double near = distribution.inverseCumulativeProbability(p);
        return near - (distribution.cumulativeProbability(near) - p) / distribution.density(near);
    }
}
