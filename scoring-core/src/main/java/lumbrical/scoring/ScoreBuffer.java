package lumbrical.scoring;

/**
 * Room for the results of one sitting, reused from sitting to sitting by whoever scores many: {@link ScoringPlan#scoreInto}
 * fills it and allocates nothing. Not safe to share between threads. One slot per {@link ScoringPlan.Output} and per step.
 */
public final class ScoreBuffer {
    /** Nothing to report: an optional module without an answer, or a hand that was not asked. */
    static final byte NO_ROW = 0;

    static final byte COMPLETE = 1;
    static final byte WITH_MISSING = 2;
    static final byte NOT_SCORED = 3;

    final byte[] outcome;
    final Reason[] reason;
    final double[] value;
    final double[] low;
    final double[] high;
    final double[] standardError;
    final int[] items;
    final int[] answered;
    private double[] responses = new double[0];

    ScoreBuffer(int slots) {
        outcome = new byte[slots];
        reason = new Reason[slots];
        value = new double[slots];
        low = new double[slots];
        high = new double[slots];
        standardError = new double[slots];
        items = new int[slots];
        answered = new int[slots];
    }

    /** The values of {@code given}, in room that is used again. */
    double[] roomFor(Responses given) {
        int columns = given.instrument().columns().size();
        if (responses.length < columns) {
            responses = new double[columns];
        }
        given.copyInto(responses);
        return responses;
    }

    /** Whether the output gives a row at all. */
    public boolean hasRow(int slot) {
        return outcome[slot] != NO_ROW;
    }

    /** Whether the output has a score. */
    public boolean isScored(int slot) {
        return outcome[slot] == COMPLETE || outcome[slot] == WITH_MISSING;
    }

    /**
     * How the output fared.
     *
     * @throws IllegalStateException if it has no row
     */
    public ScoreResult.Outcome outcome(int slot) {
        return switch (outcome[slot]) {
            case COMPLETE -> ScoreResult.Outcome.COMPLETE;
            case WITH_MISSING -> ScoreResult.Outcome.WITH_MISSING;
            case NOT_SCORED -> ScoreResult.Outcome.NOT_SCORED;
            default -> throw new IllegalStateException("Slot " + slot + " has no row");
        };
    }

    /**
     * Why there is no score.
     *
     * @throws IllegalStateException if there is one
     */
    public Reason reason(int slot) {
        if (outcome[slot] != NOT_SCORED) {
            throw new IllegalStateException("Slot " + slot + " is scored or has no row");
        }
        return reason[slot];
    }

    /** The score; meaningful only if {@link #isScored}. */
    public double value(int slot) {
        return value[slot];
    }

    /** Whether there are bounds. */
    public boolean hasBounds(int slot) {
        return !Double.isNaN(low[slot]);
    }

    /** The lowest possible score; meaningful only if {@link #hasBounds}. */
    public double low(int slot) {
        return low[slot];
    }

    /** The highest possible score; meaningful only if {@link #hasBounds}. */
    public double high(int slot) {
        return high[slot];
    }

    /** Whether the score comes with a standard error. */
    public boolean hasStandardError(int slot) {
        return isScored(slot) && !Double.isNaN(standardError[slot]);
    }

    /** Its standard error; meaningful only if {@link #hasStandardError}. */
    public double standardError(int slot) {
        return standardError[slot];
    }

    /** How many items count. */
    public int items(int slot) {
        return items[slot];
    }

    /** How many of them were answered. */
    public int answered(int slot) {
        return answered[slot];
    }

    void noRow(int slot, double lowest, double highest) {
        outcome[slot] = NO_ROW;
        low[slot] = lowest;
        high[slot] = highest;
    }

    void scored(int slot, boolean complete, double score, double lowest, double highest) {
        outcome[slot] = complete ? COMPLETE : WITH_MISSING;
        value[slot] = score;
        low[slot] = lowest;
        high[slot] = highest;
        standardError[slot] = Double.NaN;
    }

    void notScored(int slot, Reason why, double lowest, double highest) {
        outcome[slot] = NOT_SCORED;
        reason[slot] = why;
        low[slot] = lowest;
        high[slot] = highest;
    }

    void notScored(int slot, Reason why) {
        notScored(slot, why, Double.NaN, Double.NaN);
    }
}
