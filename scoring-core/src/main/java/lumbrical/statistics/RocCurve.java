package lumbrical.statistics;

import java.util.List;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;

/**
 * How well each threshold of improvement by the score tells those improved by the anchor from the others. A case is above a threshold when
 * its improvement is larger; thresholds are the mid-points between neighbouring improvements seen.
 *
 * @param points the thresholds, ascending
 * @param auc the area under the curve: the probability that a case improved by the anchor has the larger improvement than another, ties
 *     counting one half (Hanley and McNeil 1982, Radiology 143:29-36); from 0 to 1
 * @param youden the threshold with the largest {@code sensitivity + specificity - 1} (Youden 1950, Cancer 3:32-35)
 * @param corner the threshold nearest to the corner of sensitivity and specificity 1, by {@code (1 - sensitivity)² + (1 -
 *     specificity)²}
 */
public record RocCurve(List<Point> points, double auc, Estimate<CutOff> youden, Estimate<CutOff> corner) {
    public RocCurve {
        points = List.copyOf(points);
    }

    /**
     * A threshold.
     *
     * @param threshold in units of the score
     * @param sensitivity share of the improved that are above it, from 0 to 1
     * @param specificity share of the others that are not, from 0 to 1
     */
    public record Point(double threshold, double sensitivity, double specificity) {}

    /**
     * The best threshold by a criterion.
     *
     * @param best the smallest of the best thresholds
     * @param tied all that are as good within 1e-12, ascending, the smallest included
     */
    public record CutOff(Point best, List<Double> tied) {
        public CutOff {
            tied = List.copyOf(tied);
        }
    }

    /**
     * The curve. Not estimable if all or none improved; its cut-offs not if no threshold does better than chance.
     *
     * @throws IllegalArgumentException if a value is not finite or the arrays differ in length
     */
    public static Estimate<RocCurve> of(double[] improvements, boolean[] improved) {
        int[] steps = new int[improved.length];
        for (int i = 0; i < steps.length; i++) {
            steps[i] = improved[i] ? 1 : 0;
        }
        return AnchorCalculator.of(improvements, steps).curve();
    }

    /** The curve of counts at ascending values. At least one case improved and one did not. */
    static RocCurve of(double[] values, int[] improved, int[] all) {
        Roc roc = new Roc(values, improved, all);
        return new RocCurve(
                IntStream.range(0, roc.size).mapToObj(i -> point(roc, i)).toList(),
                roc.auc,
                cutOff(roc, roc.bestYouden, roc::youden),
                cutOff(roc, roc.bestCorner, roc::corner));
    }

    private static Estimate<CutOff> cutOff(Roc roc, int best, IntToDoubleFunction criterion) {
        if (!roc.informative()) {
            return Estimate.none(roc.size == 0 ? Estimate.Reason.NO_SPREAD : Estimate.Reason.ANCHOR_REVERSED);
        }
        double value = criterion.applyAsDouble(best);
        return Estimate.of(new CutOff(
                point(roc, best),
                IntStream.range(0, roc.size)
                        .filter(i -> Math.abs(criterion.applyAsDouble(i) - value) <= Roc.TIED)
                        .mapToObj(i -> roc.thresholds[i])
                        .toList()));
    }

    private static Point point(Roc roc, int i) {
        return new Point(roc.thresholds[i], roc.sensitivities[i], roc.specificities[i]);
    }
}
