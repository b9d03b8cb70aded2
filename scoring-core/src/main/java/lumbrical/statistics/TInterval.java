package lumbrical.statistics;

import lumbrical.instrument.Range;

/**
 * An estimate with its standard error and its 95 % interval from the t distribution.
 *
 * @param estimate the estimate
 * @param standardError above 0
 * @param degreesOfFreedom of the t distribution, above 0, not always whole
 * @param interval {@code estimate ± t(0.975) · standardError}
 */
public record TInterval(double estimate, double standardError, double degreesOfFreedom, Range interval) {
    static TInterval of(double estimate, double standardError, double degreesOfFreedom) {
        double half = Distributions.t975(degreesOfFreedom) * standardError;
        return new TInterval(estimate, standardError, degreesOfFreedom, new Range(estimate - half, estimate + half));
    }
}
