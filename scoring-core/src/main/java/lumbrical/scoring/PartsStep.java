package lumbrical.scoring;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lumbrical.instrument.Composition;

/** Scores a scale from other scales, for the person or for one hand. */
final class PartsStep implements Step {
    private final int slot;
    private final Composition.FromParts made;
    private final int[] parts;
    private final double[] sign;
    private final double[] shift;
    private final double dividedBy;
    private final boolean ruleOff;
    private final boolean omittedIfUnanswered;

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
            boolean omittedIfUnanswered) {
        this.slot = slot;
        this.parts = parts;
        this.shift = shift;
        this.sign = made.parts().stream()
                .mapToDouble(part -> part.reversed() ? -1 : 1)
                .toArray();
        this.dividedBy = made.rule().dividedBy(parts.length);
        this.made = made;
        this.ruleOff = ruleOff;
        this.omittedIfUnanswered = omittedIfUnanswered;
    }

    @Override
    public void run(double[] responses, int offset, boolean validated, RequestedColumns requested, ScoreBuffer out) {
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
            sum += used(i, out.value[part]);
            double a = used(i, out.low[part]);
            double b = used(i, out.high[part]);
            low += Math.min(a, b); // NaN where a part has no bounds, and then throughout
            high += Math.max(a, b);
        }
        out.items[slot] = items;
        out.answered[slot] = answered;
        if (noPartHasRow && omittedIfUnanswered) {
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

    private double used(int part, double score) {
        return shift[part] + sign[part] * score;
    }

    @Override
    public ScaleTrace trace(double[] responses, int offset, ScoreBuffer out) {
        List<ScaleTrace.PartUsed> used = new ArrayList<>();
        for (int i = 0; i < parts.length; i++) {
            boolean scored = out.isScored(parts[i]);
            used.add(new ScaleTrace.PartUsed(
                    made.parts().get(i),
                    scored ? OptionalDouble.of(out.value[parts[i]]) : OptionalDouble.empty(),
                    scored ? OptionalDouble.of(used(i, out.value[parts[i]])) : OptionalDouble.empty(),
                    shift[i]));
        }
        return new ScaleTrace.FromParts(made, used);
    }
}
