package lumbrical.statistics;

/**
 * The logistic line {@code ln(p / (1 - p)) = intercept + slope x} of highest likelihood, p being the probability of improvement.
 *
 * @param intercept the log odds at x = 0
 * @param slope what a unit of x adds to the log odds
 */
public record LogisticModel(double intercept, double slope) {
    /**
     * Fits whether a case improved by the anchor to its improvement by the score. Not estimable if all or none improved, if the scores
     * do not differ, or if a threshold separates the improved from the others but for ties at it: then no slope is steep enough (Albert
     * and Anderson 1984, Biometrika 71:1-10).
     *
     * @throws IllegalArgumentException if a value is not finite or the arrays differ in length
     */
    public static Estimate<LogisticModel> fit(double[] improvements, boolean[] improved) {
        int[] steps = new int[improved.length];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = improved[i] ? 1 : 0;
        }
        return AnchorCalculator.of(improvements, steps).logistic();
    }
}
