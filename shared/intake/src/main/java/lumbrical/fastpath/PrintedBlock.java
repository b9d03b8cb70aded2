package lumbrical.fastpath;

import java.util.Arrays;
import lumbrical.scoring.ScoreResult;

/** The score rows of one block, printed, with all that is to be counted in the order of the file. Used again and again. */
final class PrintedBlock {
    private static final int OUTCOMES = ScoreResult.Outcome.values().length;
    private static final int EXPECTED_BYTES = 1 << 17;

    private final ByteRow bytes = new ByteRow(EXPECTED_BYTES);
    private final int[] outcomes;
    private long[] hashes = new long[1_024];
    private int[] hashLines = new int[1_024];
    private int[] hashPlans = new int[1_024];
    private int hashCount;
    private long scored;
    private long nothing;
    private long blankForms;

    /** @param outputs number of scores that the instruments can give */
    PrintedBlock(int outputs) {
        this.outcomes = new int[outputs * OUTCOMES];
    }

    /** Forgets what it held. */
    void clear() {
        bytes.clear();
        Arrays.fill(outcomes, 0);
        hashCount = 0;
        scored = 0;
        nothing = 0;
        blankForms = 0;
    }

    ByteRow bytes() {
        return bytes;
    }

    void countBlankForm() {
        blankForms++;
    }

    void countRow(boolean anyScoreRow) {
        if (anyScoreRow) {
            scored++;
        } else {
            nothing++;
        }
    }

    void count(int output, ScoreResult.Outcome outcome) {
        outcomes[output * OUTCOMES + outcome.ordinal()]++;
    }

    /** Adds how often each output had each outcome to {@code totals}. */
    void addOutcomes(long[] totals) {
        for (int i = 0; i < outcomes.length; i++) {
            totals[i] += outcomes[i];
        }
    }

    /**
     * Notes a form.
     *
     * @param form its hash
     * @param plan which instrument's
     * @param line where in the block
     */
    void addHash(long form, int plan, int line) {
        if (hashCount == hashes.length) {
            hashes = Arrays.copyOf(hashes, hashCount * 2);
            hashLines = Arrays.copyOf(hashLines, hashCount * 2);
            hashPlans = Arrays.copyOf(hashPlans, hashCount * 2);
        }
        hashes[hashCount] = form;
        hashPlans[hashCount] = plan;
        hashLines[hashCount] = line;
        hashCount++;
    }

    int hashCount() {
        return hashCount;
    }

    /** The hashes noted; those from {@link #hashCount} on mean nothing. */
    long[] hashes() {
        return hashes;
    }

    int hashLine(int i) {
        return hashLines[i];
    }

    int hashPlan(int i) {
        return hashPlans[i];
    }

    long scored() {
        return scored;
    }

    long nothing() {
        return nothing;
    }

    long blankForms() {
        return blankForms;
    }
}
