package lumbrical.scoring;

/** Averages the right and the left score of a scale asked of each hand. */
final class HandsStep implements Step {
    private final int slot;
    private final int right;
    private final int left;
    private final int[] sharedColumns;
    private final AllowedCodes[] sharedCodes;
    private final boolean ruleOff;

    /**
     * @param sharedColumns columns that both hands' scores use, so that they are counted once
     * @param sharedCodes what these columns allow
     */
    HandsStep(int slot, int right, int left, int[] sharedColumns, AllowedCodes[] sharedCodes, boolean ruleOff) {
        this.slot = slot;
        this.right = right;
        this.left = left;
        this.sharedColumns = sharedColumns;
        this.sharedCodes = sharedCodes;
        this.ruleOff = ruleOff;
    }

    @Override
    public void run(double[] responses, int offset, boolean known, RequestedColumns named, ScoreBuffer out) {
        int sharedAnswered = 0;
        for (int i = 0; i < sharedColumns.length; i++) {
            if (sharedCodes[i].allows(responses[offset + sharedColumns[i]])) {
                sharedAnswered++;
            }
        }
        out.items[slot] = out.items[right] + out.items[left] - sharedColumns.length;
        out.answered[slot] = out.answered[right] + out.answered[left] - sharedAnswered;
        if (!out.hasRow(right) && !out.hasRow(left)) {
            out.noRow(slot, Double.NaN, Double.NaN);
        } else if (ruleOff) {
            out.notScored(slot, Reason.RULE_NOT_PUBLISHED);
        } else if (out.isScored(right) && out.isScored(left)) {
            boolean complete = out.outcome[right] == ScoreBuffer.COMPLETE && out.outcome[left] == ScoreBuffer.COMPLETE;
            double score = (out.value[right] + out.value[left]) / 2;
            out.scored(
                    slot,
                    complete,
                    score,
                    complete ? score : (out.low[right] + out.low[left]) / 2,
                    complete ? score : (out.high[right] + out.high[left]) / 2);
        } else {
            out.notScored(
                    slot,
                    Reason.PART_NOT_SCORED,
                    (out.low[right] + out.low[left]) / 2,
                    (out.high[right] + out.high[left]) / 2);
        }
    }
}
