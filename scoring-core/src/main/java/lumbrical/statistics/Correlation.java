package lumbrical.statistics;

import java.util.Arrays;

/** How closely two measures of the same cases go together. */
public final class Correlation {
    private Correlation() {}

    /**
     * Spearman's rank correlation: Pearson's of the ranks, ties taking the mean of theirs (Spearman 1904, Am J Psychol 15:72-101). From
     * -1 to 1. Not estimable of fewer than two cases, or if either measure does not differ.
     *
     * @throws IllegalArgumentException if a value is not finite or the arrays differ in length
     */
    public static Estimate<Double> spearman(double[] x, double[] y) {
        Values.requireFinite(x);
        Values.requireFinite(y);
        return pearson(ranks(x), ranks(y));
    }

    /**
     * Pearson's product-moment correlation. From -1 to 1. Not estimable of fewer than two cases, or if either measure does not differ.
     *
     * @throws IllegalArgumentException if a value is not finite or the arrays differ in length
     */
    public static Estimate<Double> pearson(double[] x, double[] y) {
        Values.requireSameLength(x.length, y.length);
        return Means.sd(x).flatMap(sdX -> Means.sd(y).map(sdY -> {
            double meanX = Means.meanOf(x);
            double meanY = Means.meanOf(y);
            double products = 0;
            for (int i = 0; i < x.length; i++) {
                products += (x[i] - meanX) * (y[i] - meanY);
            }
            double r = products / (x.length - 1) / (sdX * sdY);
            return Math.max(-1, Math.min(1, r));
        }));
    }

    /** The ranks from 1, ties taking the mean of theirs. Counted rather than sorted with their places, for the values are few. */
    static double[] ranks(double[] values) {
        double[] distinct = Values.distinct(values);
        int[] places = new int[values.length];
        double[] ranks = new double[distinct.length];
        for (int i = 0; i < values.length; i++) {
            places[i] = Values.indexIn(distinct, values[i]);
            ranks[places[i]]++;
        }
        double below = 0;
        for (int i = 0; i < ranks.length; i++) {
            double here = ranks[i];
            ranks[i] = below + (here + 1) / 2;
            below += here;
        }
        return Arrays.stream(places).mapToDouble(p -> ranks[p]).toArray();
    }

    /** Each as a double. */
    static double[] doubles(int[] values) {
        return Arrays.stream(values).asDoubleStream().toArray();
    }
}
