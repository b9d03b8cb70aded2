package lumbrical.statistics;

import org.apache.commons.statistics.descriptive.Mean;
import org.apache.commons.statistics.descriptive.StandardDeviation;

/** Mean, spread and standardised change of one group. */
public final class Means {
    private Means() {}

    /**
     * The arithmetic mean; not estimable of none.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> mean(double[] values) {
        Values.requireFinite(values);
        return values.length == 0 ? Estimate.none(Estimate.Reason.NO_VALUES) : Estimate.of(meanOf(values));
    }

    /**
     * The standard deviation with n - 1; not estimable of fewer than two values, or if they do not differ.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> sd(double[] values) {
        Values.requireFinite(values);
        if (values.length < 2) {
            return Estimate.none(values.length == 0 ? Estimate.Reason.NO_VALUES : Estimate.Reason.ONE_VALUE);
        }
        return Values.haveNoSpread(values) ? Estimate.none(Estimate.Reason.NO_SPREAD) : Estimate.of(sdOf(values));
    }

    /**
     * The mean with its 95 % interval {@code mean ± t(0.975; n - 1) · SD / √n} (Student 1908, Biometrika 6:1-25), each value being
     * independent of the others; not estimable where {@link #sd} is not.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<TInterval> interval95(double[] values) {
        return sd(values).map(sd -> TInterval.of(meanOf(values), sd / Math.sqrt(values.length), values.length - 1.0));
    }

    /**
     * The mean with its 95 % interval where a patient can have several values. The variance is {@code G / (G - 1) · Σ s² / n²}, with
     * {@code s} the sum of a patient's residuals and G the number of patients: robust to patients as clusters, with the correction CR1
     * for few of them (Liang and Zeger 1986, Biometrika 73:13-22; Cameron and Miller 2015, J Hum Resour 50:317-372, equation 12, of which
     * the second factor (n - 1) / (n - 1) is 1 here). The interval takes t with G - 1 degrees of freedom.
     *
     * @throws IllegalArgumentException if a value is not finite, or there is not one patient for each
     */
    public static Estimate<TInterval> clusteredInterval95(double[] values, Clusters patients) {
        Values.requireSameLength(values.length, patients.size());
        return sd(values)
                .flatMap(sd -> LinearModel.fit(values).flatMap(model -> model.clusteredInterval95(0, patients)));
    }

    /**
     * Mean improvement over the SD of the baseline scores of the same cases (Kazis 1989, Med Care 27:S178-S189; cited from memory).
     *
     * @throws IllegalArgumentException if a value is not finite, or there is not one baseline for each improvement
     */
    public static Estimate<Double> effectSize(double[] improvements, double[] baselines) {
        Values.requireSameLength(improvements.length, baselines.length);
        return mean(improvements).flatMap(mean -> sd(baselines).map(sd -> mean / sd));
    }

    /**
     * The standardised response mean: mean improvement over the SD of the improvements (Liang 1990; cited from memory).
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> standardisedResponseMean(double[] improvements) {
        return sd(improvements).map(sd -> meanOf(improvements) / sd);
    }

    /** The mean of at least one value. */
    static double meanOf(double[] values) {
        return Mean.of(values).getAsDouble();
    }

    /** The SD of at least two values. */
    static double sdOf(double[] values) {
        return StandardDeviation.of(values).getAsDouble();
    }
}
