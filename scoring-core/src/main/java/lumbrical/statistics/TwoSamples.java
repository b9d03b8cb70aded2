package lumbrical.statistics;

import java.util.function.Supplier;

/** Two groups of independent cases, A and B. */
public final class TwoSamples {
    private TwoSamples() {}

    /**
     * The difference mean(A) - mean(B) with its 95 % interval where the groups need not be equally spread: standard error {@code √(sA²/nA
     * + sB²/nB)}, degrees of freedom {@code (vA + vB)² / (vA²/(nA - 1) + vB²/(nB - 1))} with {@code v = s²/n} (Welch 1947, Biometrika
     * 34:28-35; Satterthwaite 1946). Not estimable if a group has fewer than two values, or if neither group has a spread.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<TInterval> welch(double[] a, double[] b) {
        return ifBothHaveTwo(a, b, () -> {
            double va = square(Means.sdOf(a)) / a.length;
            double vb = square(Means.sdOf(b)) / b.length;
            double freedom = square(va + vb) / (va * va / (a.length - 1) + vb * vb / (b.length - 1));
            return TInterval.of(Means.meanOf(a) - Means.meanOf(b), Math.sqrt(va + vb), freedom);
        });
    }

    /**
     * The probability that a case of A has the larger value than a case of B, ties counting one half: Mann and Whitney's U over nA nB
     * (Mann and Whitney 1947, Ann Math Stat 18:50-60). From 0 to 1; 0.5 if the groups are alike. Not estimable if a group is empty.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> probabilityLarger(double[] a, double[] b) {
        Values.requireFinite(a);
        Values.requireFinite(b);
        if (a.length == 0 || b.length == 0) {
            return Estimate.none(Estimate.Reason.NO_VALUES);
        }
        double[] ranks = Correlation.ranks(Values.joined(a, b));
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += ranks[i];
        }
        double u = sum - a.length * (a.length + 1.0) / 2;
        return Estimate.of(u / ((double) a.length * b.length));
    }

    /**
     * The difference mean(A) - mean(B) over the pooled SD, {@code √(((nA - 1) sA² + (nB - 1) sB²) / (nA + nB - 2))} (Cohen 1988). Not
     * estimable if a group has fewer than two values, or if neither group has a spread.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> standardisedDifference(double[] a, double[] b) {
        return ifBothHaveTwo(a, b, () -> {
            double squares = (a.length - 1) * square(Means.sdOf(a)) + (b.length - 1) * square(Means.sdOf(b));
            return (Means.meanOf(a) - Means.meanOf(b)) / Math.sqrt(squares / (a.length + b.length - 2));
        });
    }

    private static <T> Estimate<T> ifBothHaveTwo(double[] a, double[] b, Supplier<T> estimate) {
        Values.requireFinite(a);
        Values.requireFinite(b);
        if (a.length == 0 || b.length == 0) {
            return Estimate.none(Estimate.Reason.NO_VALUES);
        }
        if (a.length == 1 || b.length == 1) {
            return Estimate.none(Estimate.Reason.ONE_VALUE);
        }
        return Values.haveNoSpread(a) && Values.haveNoSpread(b)
                ? Estimate.none(Estimate.Reason.NO_SPREAD)
                : Estimate.of(estimate.get());
    }

    private static double square(double x) {
        return x * x;
    }
}
