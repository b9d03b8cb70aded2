package lumbrical.statistics;

import java.util.Map;

/**
 * The cases of a group that have both an improvement and a rating of change (the anchor), for the group's own MCID.
 *
 * <p>Such a value holds for the patients and the anchor it came from. It depends on the method, and below about 50 cases, with a correlation
 * of improvement and anchor under 0.30 or a share improved outside 0.3 to 0.7 it is weak.
 */
public final class AnchorSample {
    private final double[] improvements;
    private final int[] steps;
    private final Clusters patients;
    private final AnchorCalculator calculator;

    private AnchorSample(double[] improvements, int[] steps, Clusters patients) {
        this.improvements = improvements;
        this.steps = steps;
        this.patients = patients;
        this.calculator = AnchorCalculator.of(improvements, steps);
    }

    /**
     * The sample.
     *
     * @param improvements of each case, positive when better
     * @param steps each case's rating in steps of the anchor: 0 unchanged, 1 the first step up (better), negative worse
     * @param patients whose case each is
     * @throws IllegalArgumentException if an improvement is not finite, or there is not one of each for every case
     */
    public static AnchorSample of(double[] improvements, int[] steps, Clusters patients) {
        Values.requireSameLength(improvements.length, patients.size());
        return new AnchorSample(improvements.clone(), steps.clone(), patients);
    }

    /** How many cases there are. */
    public int n() {
        return steps.length;
    }

    /** How many cases improved by the anchor: one step up or more. */
    public int improved() {
        return calculator.improved();
    }

    /** The MCID by {@code method}, in units of the score. */
    public Estimate<Double> estimate(AnchorMethod method) {
        return calculator.estimate(method);
    }

    /**
     * The MCID by {@code method} when each case counts as often as its weight says.
     *
     * @throws IllegalArgumentException if a weight is negative or there is not one for every case
     */
    public Estimate<Double> estimate(AnchorMethod method, int[] weights) {
        Values.requireSameLength(steps.length, weights.length);
        for (int weight : weights) {
            if (weight < 0) {
                throw new IllegalArgumentException("A case cannot count " + weight + " times");
            }
        }
        AnchorCalculator weighted = calculator.copy();
        weighted.evaluate(weighted.counts(weights), 0, Logistic.TO_THE_LAST_DIGIT);
        return weighted.estimate(method);
    }

    /** The curve of improvement against being improved by the anchor, with its cut-offs and their ties. */
    public Estimate<RocCurve> curve() {
        return calculator.curve();
    }

    /** The logistic line of being improved by the anchor on improvement. */
    public Estimate<LogisticModel> logistic() {
        return calculator.logistic();
    }

    /** Spearman's correlation of improvement and anchor. */
    public Estimate<Double> correlation() {
        return correlationWith(improvements);
    }

    /**
     * Spearman's correlation of the anchor with another measure of the same cases, as the baseline or the follow-up score: where these two
     * differ in size, ratings follow the present state more than the change (Guyatt et al. 2002; from memory).
     *
     * @throws IllegalArgumentException if a value is not finite, or there is not one for every case
     */
    public Estimate<Double> correlationWith(double[] measure) {
        return Correlation.spearman(measure, Correlation.doubles(steps));
    }

    /**
     * Percentile intervals of every method from {@code resamples} samples of the patients. The same cases and seed give the same
     * intervals, whatever the order of the cases.
     *
     * @throws IllegalArgumentException if {@code resamples < 1}
     */
    public Map<AnchorMethod, BootstrapInterval> bootstrap95(int resamples, long seed) {
        return PatientBootstrap.intervals95(
                calculator,
                PatientBootstrap.numbered(calculator, patients),
                patients.count() > 1,
                PatientResamples.of(patients.count(), resamples, seed));
    }

    /**
     * Percentile intervals of every method from samples that were drawn before, of these patients or of a larger group that has them all.
     *
     * @param numbers the number in {@code samples} of each case's patient
     * @throws IllegalArgumentException if there is not one for every case, or one is no patient of the samples
     */
    public Map<AnchorMethod, BootstrapInterval> bootstrap95(PatientResamples samples, int[] numbers) {
        Values.requireSameLength(steps.length, numbers.length);
        for (int number : numbers) {
            if (number < 0 || number >= samples.patients()) {
                throw new IllegalArgumentException(
                        "Patient " + number + " is not in samples of " + samples.patients() + " patients");
            }
        }
        return PatientBootstrap.intervals95(calculator, numbers, patients.count() > 1, samples);
    }
}
