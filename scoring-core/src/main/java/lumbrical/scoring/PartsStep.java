package lumbrical.scoring;

import lumbrical.instrument.Composition;
import lumbrical.instrument.PartRule;

/** Scores a scale from other scales, for the person or for one hand. */
final class PartsStep implements Step {
    private final int slot;
    private final int[] parts;
    private final double[] sign;
    private final double[] shift;
    private final double dividedBy;
    private final boolean ruleOff;
    private final boolean silentWhenUnanswered;

    /**
     * @param parts slot of each part
     * @param shift low end plus high end for a reversed part, else 0
     */
    PartsStep(
            int slot,
            Composition.FromParts made,
            int[] parts,
            double[] shift,
            boolean ruleOff,
            boolean silentWhenUnanswered) {
        this.slot = slot;
        this.parts = parts;
        this.shift = shift;
        this.sign = made.parts().stream()
                .mapToDouble(part -> part.reversed() ? -1 : 1)
                .toArray();
        this.dividedBy = made.rule() instanceof PartRule.MeanOfParts ? parts.length : 1;
        this.ruleOff = ruleOff;
        this.silentWhenUnanswered = silentWhenUnanswered;
    }

    @Override
    public void run(double[] responses, int offset, boolean known, RequestedColumns named, ScoreBuffer out) {
        double sum = 0;
        double low = 0;
        double high = 0;
        int items = 0;
        int answered = 0;
        boolean everyPart = true;
        boolean noPartHasRow = true;
        boolean complete = true;
        for (int i = 0; i < parts.length; i++) {
            int part = parts[i];
            noPartHasRow &= !out.hasRow(part);
            everyPart &= out.isScored(part);
            complete &= out.outcome[part] == ScoreBuffer.COMPLETE;
            items += out.items[part];
            answered += out.answered[part];
            sum += shift[i] + sign[i] * out.value[part];
            double a = shift[i] + sign[i] * out.low[part];
            double b = shift[i] + sign[i] * out.high[part];
            low += Math.min(a, b); // NaN where a part has no bounds, and then throughout
            high += Math.max(a, b);
        }
        out.items[slot] = items;
        out.answered[slot] = answered;
        if (noPartHasRow && silentWhenUnanswered) {
            out.noRow(slot, low / dividedBy, high / dividedBy);
        } else if (ruleOff) {
            out.notScored(slot, Reason.RULE_NOT_PUBLISHED);
        } else if (everyPart) {
            double score = sum / dividedBy;
            out.scored(slot, complete, score, complete ? score : low / dividedBy, complete ? score : high / dividedBy);
        } else {
            out.notScored(slot, Reason.PART_NOT_SCORED, low / dividedBy, high / dividedBy);
        }
    }
}
