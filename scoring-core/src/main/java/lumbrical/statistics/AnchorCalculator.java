package lumbrical.statistics;

import java.util.Arrays;
import lumbrical.statistics.Estimate.Reason;

/**
 * Every {@link AnchorMethod} from counts of cases by improvement and rating.
 *
 * <p>Scores are few: thousands of cases fall on some hundred improvements. Counted once, a resample costs a pass over these rather than
 * over the cases, and nothing has to be sorted again. A workspace: not for two threads at once.
 */
final class AnchorCalculator {
    /** A correlation below it is none, far below any that ratings give. Ours. */
    private static final double SLIGHTEST = 1e-9;

    private static final int UNCHANGED = 1;
    private static final int FIRST_STEP = 2;

    /** Kinds of rating: below unchanged, unchanged, the first step up, further up. */
    private static final int RATINGS = 4;

    private static final int METHODS = AnchorMethod.values().length;

    /** The distinct improvements, ascending. */
    private final double[] values;
    /** The cell of each case: its improvement's index times {@link #RATINGS}, plus its rating. */
    private final int[] cells;

    private final int[] improved;
    private final int[] others;
    private final Roc roc;
    private final Logistic logistic;
    private final double[] estimates = new double[METHODS];
    /** For each method why it has no estimate; those that have one keep an older reason, so {@link #has} goes first. */
    private final Reason[] reasons = new Reason[METHODS];

    private final boolean[] has = new boolean[METHODS];
    private Estimate<LogisticModel> line = Estimate.none(Reason.NO_VALUES);
    private int allImproved;
    private int allOthers;

    private AnchorCalculator(double[] values, int[] cells) {
        this.values = values;
        this.cells = cells;
        this.improved = new int[values.length];
        this.others = new int[values.length];
        this.roc = new Roc(values.length);
        this.logistic = new Logistic(values);
        int[] once = new int[cells.length];
        Arrays.fill(once, 1);
        evaluate(counts(once));
        logistic.startHere();
    }

    /** A calculator that has counted every case once. */
    static AnchorCalculator of(double[] improvements, int[] steps) {
        Values.requireFinite(improvements);
        Values.requireSameLength(improvements.length, steps.length);
        double[] values = Values.distinct(improvements);
        int[] cells = new int[steps.length];
        for (int i = 0; i < cells.length; i++) {
            int rating = Math.max(-1, Math.min(2, steps[i])) + 1;
            cells[i] = RATINGS * Values.indexIn(values, improvements[i]) + rating;
        }
        return new AnchorCalculator(values, cells);
    }

    /** Another one for the same cases. */
    AnchorCalculator copy() {
        return new AnchorCalculator(values, cells);
    }

    /** How many cells there are. */
    int size() {
        return RATINGS * values.length;
    }

    /** The cell of the case {@code i}. */
    int cell(int i) {
        return cells[i];
    }

    /** How often each cell occurs when each case counts as often as its weight says. */
    int[] counts(int[] weights) {
        int[] counts = new int[size()];
        for (int i = 0; i < cells.length; i++) {
            counts[cells[i]] += weights[i];
        }
        return counts;
    }

    int improved() {
        return allImproved;
    }

    boolean has(AnchorMethod method) {
        return has[method.ordinal()];
    }

    /** The estimate by a method that {@link #has} one. */
    double valueOf(AnchorMethod method) {
        return estimates[method.ordinal()];
    }

    Estimate<Double> estimate(AnchorMethod method) {
        return has(method) ? Estimate.of(valueOf(method)) : Estimate.none(reasons[method.ordinal()]);
    }

    Estimate<LogisticModel> logistic() {
        return line;
    }

    Estimate<RocCurve> curve() {
        if (allImproved == 0 || allOthers == 0) {
            return Estimate.none(oneSided());
        }
        return Estimate.of(RocCurve.from(roc));
    }

    /** Computes every method for cells that occur {@code counts} times. */
    void evaluate(int[] counts) {
        allImproved = 0;
        allOthers = 0;
        int unchanged = 0;
        int firstStep = 0;
        double sumImproved = 0;
        double sumOthers = 0;
        double sumUnchanged = 0;
        double sumFirstStep = 0;
        int unchangedValues = 0;
        for (int i = 0; i < values.length; i++) {
            int cell = RATINGS * i;
            int atUnchanged = counts[cell + UNCHANGED];
            int atFirstStep = counts[cell + FIRST_STEP];
            improved[i] = atFirstStep + counts[cell + FIRST_STEP + 1];
            others[i] = atUnchanged + counts[cell];
            allImproved += improved[i];
            allOthers += others[i];
            unchanged += atUnchanged;
            firstStep += atFirstStep;
            sumImproved += improved[i] * values[i];
            sumOthers += others[i] * values[i];
            sumUnchanged += atUnchanged * values[i];
            sumFirstStep += atFirstStep * values[i];
            unchangedValues += atUnchanged > 0 ? 1 : 0;
        }
        double meanUnchanged = sumUnchanged / unchanged;
        double meanFirstStep = sumFirstStep / firstStep;
        int n = allImproved + allOthers;
        double meanAll = (sumImproved + sumOthers) / n;
        double squares = 0;
        double squaresUnchanged = 0;
        for (int i = 0; i < values.length; i++) {
            double fromAll = values[i] - meanAll;
            double fromUnchanged = values[i] - meanUnchanged;
            squares += (improved[i] + others[i]) * fromAll * fromAll;
            squaresUnchanged += counts[RATINGS * i + UNCHANGED] * fromUnchanged * fromUnchanged;
        }
        Arrays.fill(has, false);
        if (n == 0) {
            Arrays.fill(reasons, Reason.NO_VALUES);
            line = Estimate.none(Reason.NO_VALUES);
            return;
        }
        if (firstStep == 0) {
            none(Reason.NOBODY_AT_FIRST_STEP, AnchorMethod.MEAN_CHANGE, AnchorMethod.MEAN_DIFFERENCE);
        } else {
            put(AnchorMethod.MEAN_CHANGE, meanFirstStep);
            put(AnchorMethod.MEAN_DIFFERENCE, meanFirstStep - meanUnchanged);
        }
        if (unchanged == 0) {
            none(Reason.NOBODY_UNCHANGED, AnchorMethod.MEAN_DIFFERENCE, AnchorMethod.LIMIT_95);
        } else if (unchangedValues == 1) {
            none(unchanged == 1 ? Reason.ONE_VALUE : Reason.NO_SPREAD, AnchorMethod.LIMIT_95);
        } else {
            put(
                    AnchorMethod.LIMIT_95,
                    meanUnchanged + Distributions.Z95 * Math.sqrt(squaresUnchanged / (unchanged - 1)));
        }
        if (allImproved == 0 || allOthers == 0) {
            none(
                    oneSided(),
                    AnchorMethod.ROC_YOUDEN,
                    AnchorMethod.ROC_CORNER,
                    AnchorMethod.PREDICTIVE,
                    AnchorMethod.PREDICTIVE_ADJUSTED);
            line = Estimate.none(oneSided());
            return;
        }
        roc.sweep(values, improved, others, allImproved, allOthers);
        if (roc.informative()) {
            put(AnchorMethod.ROC_YOUDEN, roc.thresholds[roc.bestYouden]);
            put(AnchorMethod.ROC_CORNER, roc.thresholds[roc.bestCorner]);
        } else {
            none(
                    roc.size == 0 ? Reason.NO_SPREAD : Reason.ANCHOR_REVERSED,
                    AnchorMethod.ROC_YOUDEN,
                    AnchorMethod.ROC_CORNER);
        }
        line = fit();
        double logOdds = Math.log((double) allImproved / allOthers);
        double sd = Math.sqrt(squares / (n - 1));
        double r = (sumImproved / allImproved - sumOthers / allOthers)
                * Math.sqrt((double) allImproved * allOthers / n / (n - 1))
                / sd;
        // The slope has the sign of the difference of the means; where these are equal it is 0 but for the last bits.
        if (line instanceof Estimate.Value<LogisticModel> fitted && r > SLIGHTEST) {
            double predictive =
                    (logOdds - fitted.value().intercept()) / fitted.value().slope();
            put(AnchorMethod.PREDICTIVE, predictive);
            put(AnchorMethod.PREDICTIVE_ADJUSTED, predictive - (0.090 + 0.103 * r) * sd * logOdds);
        } else {
            none(
                    line.whyNot().orElse(Reason.ANCHOR_REVERSED),
                    AnchorMethod.PREDICTIVE,
                    AnchorMethod.PREDICTIVE_ADJUSTED);
        }
    }

    private Estimate<LogisticModel> fit() {
        if (roc.size == 0) {
            return Estimate.none(Reason.NO_SPREAD);
        }
        // Separated if the two have at most one value in common, at their ends (Albert and Anderson 1984).
        if (last(others) <= first(improved) || last(improved) <= first(others) || !logistic.fit(improved, others)) {
            return Estimate.none(Reason.PERFECT_SEPARATION);
        }
        return Estimate.of(new LogisticModel(logistic.intercept(), logistic.slope()));
    }

    private Reason oneSided() {
        if (allOthers > 0) {
            return Reason.NOBODY_IMPROVED;
        }
        return allImproved > 0 ? Reason.EVERYONE_IMPROVED : Reason.NO_VALUES;
    }

    private void put(AnchorMethod method, double value) {
        estimates[method.ordinal()] = value;
        has[method.ordinal()] = true;
    }

    private void none(Reason reason, AnchorMethod... methods) {
        for (AnchorMethod method : methods) {
            reasons[method.ordinal()] = reason;
            has[method.ordinal()] = false;
        }
    }

    private static int first(int[] counts) {
        int i = 0;
        while (counts[i] == 0) {
            i++;
        }
        return i;
    }

    private static int last(int[] counts) {
        int i = counts.length - 1;
        while (counts[i] == 0) {
            i--;
        }
        return i;
    }
}
