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
    private final int[] all;
    private final Logistic logistic;
    private final CutOffs cutOffs;
    private final double[] estimates = new double[METHODS];
    /** For each method why it has no estimate; those that have one keep an older reason, so {@link #has} goes first. */
    private final Reason[] reasons = new Reason[METHODS];

    private final boolean[] has = new boolean[METHODS];
    /** Why there is no logistic line; looked at only where there is none. */
    private Reason noLine = Reason.NO_VALUES;

    private boolean hasLine;
    /** By how much the predictive estimates may be off. */
    private double off;

    /** Squares are taken about the mean of the cases counted once, so that nothing cancels out. */
    private final double centre;

    private int allImproved;
    private int allOthers;

    private AnchorCalculator(double[] values, int[] cells) {
        this.values = values;
        this.cells = cells;
        this.improved = new int[values.length];
        this.all = new int[values.length];
        this.logistic = new Logistic(values);
        this.cutOffs = new CutOffs(values.length);
        this.centre = Arrays.stream(cells)
                .mapToDouble(c -> values[c / RATINGS])
                .average()
                .orElse(0);
        int[] once = new int[cells.length];
        Arrays.fill(once, 1);
        evaluate(counts(once), 0, Logistic.TO_THE_LAST_DIGIT);
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

    /**
     * Another one for resamples of the same cases: its fits start from the one of all cases, and are as exact as resamples need.
     *
     * @param quick whether the last digits of a fit may be off
     */
    AnchorCalculator ofResamples(boolean quick) {
        AnchorCalculator another = copy();
        if (another.hasLine) {
            another.logistic.startHere(quick);
        }
        return another;
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
    long[] counts(int[] weights) {
        long[] counts = new long[size()];
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

    /** By how much, beyond the last digits, a quick fit may have the predictive estimates off; 0 where there are none. */
    double off() {
        return has(AnchorMethod.PREDICTIVE) ? off : 0;
    }

    Estimate<Double> estimate(AnchorMethod method) {
        return has(method) ? Estimate.of(valueOf(method)) : Estimate.none(reasons[method.ordinal()]);
    }

    Estimate<LogisticModel> logistic() {
        return hasLine ? Estimate.of(new LogisticModel(logistic.intercept(), logistic.slope())) : Estimate.none(noLine);
    }

    Estimate<RocCurve> curve() {
        if (allImproved == 0 || allOthers == 0) {
            return Estimate.none(oneSided());
        }
        return Estimate.of(RocCurve.of(values, improved, all));
    }

    /**
     * Computes every method for cells that occur {@code counts} times.
     *
     * @param shift by how many bits the counts, of 31 bits, stand there: 0 or 32
     * @param precision of the logistic line, as {@link Logistic#fit}
     */
    void evaluate(long[] counts, int shift, double precision) {
        int unchanged = 0;
        int firstStep = 0;
        int inAll = 0;
        int inImproved = 0;
        double sumAll = 0;
        double sumImproved = 0;
        double sumUnchanged = 0;
        double sumFirstStep = 0;
        double squares = 0;
        double squaresUnchanged = 0;
        for (int i = 0; i < values.length; i++) {
            int cell = RATINGS * i;
            int atUnchanged = (int) (counts[cell + UNCHANGED] >>> shift);
            int atFirstStep = (int) (counts[cell + FIRST_STEP] >>> shift);
            int better = atFirstStep + (int) (counts[cell + FIRST_STEP + 1] >>> shift);
            int n = better + atUnchanged + (int) (counts[cell] >>> shift);
            improved[i] = better;
            all[i] = n;
            inAll += n;
            inImproved += better;
            unchanged += atUnchanged;
            firstStep += atFirstStep;
            double value = values[i];
            double square = (value - centre) * (value - centre);
            sumAll += n * value;
            sumImproved += better * value;
            sumUnchanged += atUnchanged * value;
            sumFirstStep += atFirstStep * value;
            squares += n * square;
            squaresUnchanged += atUnchanged * square;
        }
        allImproved = inImproved;
        allOthers = inAll - inImproved;
        hasLine = false;
        Arrays.fill(has, false);
        if (inAll == 0) {
            Arrays.fill(reasons, Reason.NO_VALUES);
            noLine = Reason.NO_VALUES;
            return;
        }
        double meanUnchanged = sumUnchanged / unchanged;
        double meanFirstStep = sumFirstStep / firstStep;
        if (firstStep == 0) {
            none(Reason.NOBODY_AT_FIRST_STEP, AnchorMethod.MEAN_CHANGE, AnchorMethod.MEAN_DIFFERENCE);
        } else {
            put(AnchorMethod.MEAN_CHANGE, meanFirstStep);
            put(AnchorMethod.MEAN_DIFFERENCE, meanFirstStep - meanUnchanged);
        }
        if (unchanged == 0) {
            none(Reason.NOBODY_UNCHANGED, AnchorMethod.MEAN_DIFFERENCE, AnchorMethod.LIMIT_95);
        } else if (unchangedAreAlike(counts, shift)) {
            none(unchanged == 1 ? Reason.ONE_VALUE : Reason.NO_SPREAD, AnchorMethod.LIMIT_95);
        } else {
            put(
                    AnchorMethod.LIMIT_95,
                    meanUnchanged + Distributions.Z95 * sd(squaresUnchanged, meanUnchanged, unchanged));
        }
        if (allImproved == 0 || allOthers == 0) {
            noLine = oneSided();
            none(
                    noLine,
                    AnchorMethod.ROC_YOUDEN,
                    AnchorMethod.ROC_CORNER,
                    AnchorMethod.PREDICTIVE,
                    AnchorMethod.PREDICTIVE_ADJUSTED);
            return;
        }
        boolean oneValue = occursAlone();
        if (!oneValue && cutOffs.find(improved, all, allImproved, allOthers)) {
            put(AnchorMethod.ROC_YOUDEN, threshold(cutOffs.youden()));
            put(AnchorMethod.ROC_CORNER, threshold(cutOffs.corner()));
        } else {
            none(
                    oneValue ? Reason.NO_SPREAD : Reason.ANCHOR_REVERSED,
                    AnchorMethod.ROC_YOUDEN,
                    AnchorMethod.ROC_CORNER);
        }
        fit(oneValue, precision);
        double logOdds = Math.log((double) allImproved / allOthers);
        double sd = sd(squares, sumAll / inAll, inAll);
        double r = (sumImproved / allImproved - (sumAll - sumImproved) / allOthers)
                * Math.sqrt((double) allImproved * allOthers / inAll / (inAll - 1))
                / sd;
        // The slope has the sign of the difference of the means; where these are equal it is 0 but for the last bits.
        if (hasLine && r > SLIGHTEST) {
            double predictive = (logOdds - logistic.intercept()) / logistic.slope();
            off = logistic.off(logOdds);
            put(AnchorMethod.PREDICTIVE, predictive);
            put(AnchorMethod.PREDICTIVE_ADJUSTED, predictive - (0.090 + 0.103 * r) * sd * logOdds);
        } else {
            none(hasLine ? Reason.ANCHOR_REVERSED : noLine, AnchorMethod.PREDICTIVE, AnchorMethod.PREDICTIVE_ADJUSTED);
        }
    }

    /** Whether a single value occurs. There are cases. */
    private boolean occursAlone() {
        int lowest = 0;
        while (all[lowest] == 0) {
            lowest++;
        }
        int highest = values.length - 1;
        while (all[highest] == 0) {
            highest--;
        }
        return lowest == highest;
    }

    /** Whether the unchanged have a single value. There are unchanged. */
    private static boolean unchangedAreAlike(long[] counts, int shift) {
        int lowest = UNCHANGED;
        while ((int) (counts[lowest] >>> shift) == 0) {
            lowest += RATINGS;
        }
        int highest = counts.length - RATINGS + UNCHANGED;
        while ((int) (counts[highest] >>> shift) == 0) {
            highest -= RATINGS;
        }
        return lowest == highest;
    }

    /** The SD of {@code n} values from their squares about the centre. */
    private double sd(double squaresAboutCentre, double mean, int n) {
        double off = mean - centre;
        return Math.sqrt(Math.max(0, squaresAboutCentre - n * off * off) / (n - 1));
    }

    /** The mid-point between the values that occur below the one at {@code index} and from it on. */
    private double threshold(int index) {
        int below = index - 1;
        while (all[below] == 0) {
            below--;
        }
        int from = index;
        while (all[from] == 0) {
            from++;
        }
        return (values[below] + values[from]) / 2;
    }

    private void fit(boolean oneValue, double precision) {
        if (oneValue) {
            noLine = Reason.NO_SPREAD;
        } else if (separated() || !logistic.fit(improved, all, precision)) {
            noLine = Reason.PERFECT_SEPARATION;
        } else {
            hasLine = true;
        }
    }

    /** Whether the two have at most one value in common, at their ends (Albert and Anderson 1984). */
    private boolean separated() {
        int firstImproved = 0;
        while (improved[firstImproved] == 0) {
            firstImproved++;
        }
        int firstOther = 0;
        while (all[firstOther] == improved[firstOther]) {
            firstOther++;
        }
        int lastImproved = values.length - 1;
        while (improved[lastImproved] == 0) {
            lastImproved--;
        }
        int lastOther = values.length - 1;
        while (all[lastOther] == improved[lastOther]) {
            lastOther--;
        }
        return lastOther <= firstImproved || lastImproved <= firstOther;
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
}
