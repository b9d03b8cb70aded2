package org.handoutcomes.batch;

import java.util.Arrays;
import org.handoutcomes.output.ByteRow;
import org.handoutcomes.scoring.ScoreResult;
import org.handoutcomes.table.RowBlock;

/** The score rows of one block, printed, with all that is to be counted in the order of the file. */
final class PrintedBlock {
    private static final int OUTCOMES = ScoreResult.Outcome.values().length;
    private static final int MAX_OUTPUTS = 32;

    private final RowBlock block;
    private final ByteRow bytes;
    private final long[] outcomes;
    private final boolean[] seen;
    private long[] hashes = new long[1_024];
    private int[] hashRows = new int[1_024];
    private String[] hashInstruments = new String[1_024];
    private int hashCount;
    private long scored;
    private long nothing;
    private long blankForms;

    PrintedBlock(RowBlock block, int plans) {
        this.block = block;
        this.bytes = new ByteRow(Math.max(1 << 12, block.bytes().length * 5 / 2));
        this.outcomes = new long[OUTCOMES];
        this.seen = new boolean[plans * MAX_OUTPUTS * OUTCOMES];
    }

    RowBlock block() {
        return block;
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

    void count(int plan, int output, ScoreResult.Outcome outcome) {
        outcomes[outcome.ordinal()]++;
        if (output < MAX_OUTPUTS) {
            seen[(plan * MAX_OUTPUTS + output) * OUTCOMES + outcome.ordinal()] = true;
        }
    }

    void count(ScoreResult.Outcome outcome) {
        outcomes[outcome.ordinal()]++;
    }

    /** Whether an output of a plan had that outcome in the block. */
    boolean seen(int plan, int output, ScoreResult.Outcome outcome) {
        return output < MAX_OUTPUTS && seen[(plan * MAX_OUTPUTS + output) * OUTCOMES + outcome.ordinal()];
    }

    void addHash(long form, String instrument, int row) {
        if (hashCount == hashes.length) {
            hashes = Arrays.copyOf(hashes, hashCount * 2);
            hashRows = Arrays.copyOf(hashRows, hashCount * 2);
            hashInstruments = Arrays.copyOf(hashInstruments, hashCount * 2);
        }
        hashes[hashCount] = form;
        hashInstruments[hashCount] = instrument;
        hashRows[hashCount] = row;
        hashCount++;
    }

    int hashCount() {
        return hashCount;
    }

    long hash(int i) {
        return hashes[i];
    }

    int hashRow(int i) {
        return hashRows[i];
    }

    String hashInstrument(int i) {
        return hashInstruments[i];
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

    long outcome(ScoreResult.Outcome outcome) {
        return outcomes[outcome.ordinal()];
    }
}
