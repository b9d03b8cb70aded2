package lumbrical.scoring;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import lumbrical.instrument.Composition;
import lumbrical.instrument.ItemRule;

/** Scores a scale from items, for the person or for one hand. */
final class ItemsStep implements Step {
    private final int slot;
    private final Composition.FromItems made;
    private final boolean standInOff;
    private final Term[] terms;
    private final int[] columns;
    private final ItemRule rule;
    private final int required;
    private final boolean ratedOnly;
    private final boolean omittedIfUnanswered;
    private final boolean ruleOff;
    private final int skipPosition;
    private final double skipCode;
    private final double skipScore;

    /**
     * What an item adds to the sum: {@code shift + sign * response}.
     *
     * @param column position of its response
     * @param codes the responses allowed
     * @param consecutive whether these are all whole numbers from the least to the most
     * @param low the least it can add, not answered
     * @param high the most it can add, not answered
     */
    private record Term(
            int column,
            AllowedCodes codes,
            double least,
            double most,
            boolean consecutive,
            double shift,
            double sign,
            double low,
            double high) {
        static Term of(int column, Composition.ScaleItem item, double except) {
            AllowedCodes codes = AllowedCodes.of(item.item().responses());
            double sign = item.reversed() ? -1 : 1;
            double shift = item.reversed() ? codes.low + codes.high : 0;
            double a = shift + sign * codes.lowExcept(except);
            double b = shift + sign * codes.highExcept(except);
            return new Term(
                    column,
                    codes,
                    codes.low,
                    codes.high,
                    codes.consecutive(),
                    shift,
                    sign,
                    Math.min(a, b),
                    Math.max(a, b));
        }

        /** What a response adds to the sum. */
        double used(double response) {
            return shift + sign * response;
        }

        boolean inRange(double response) {
            return response >= least && response <= most;
        }

        /** Whether a response in range is allowed; short, since whole codes without a gap are what forms have. */
        boolean isCode(double response) {
            return consecutive ? response == (int) response : codes.allows(response);
        }
    }

    /**
     * @param columns position of each item's column for this hand
     * @param ruleOff the formula or codes are not published and only published ones count
     * @param missingOff the missing-item rule is not used
     * @param omittedIfUnanswered an optional module or a scale of one item: no row without an answer
     */
    ItemsStep(
            int slot,
            Composition.FromItems made,
            int[] columns,
            boolean ruleOff,
            boolean missingOff,
            boolean omittedIfUnanswered) {
        int k = columns.length;
        this.slot = slot;
        this.columns = columns;
        this.terms = new Term[k];
        int skipAt = -1;
        for (int i = 0; i < k; i++) {
            Composition.ScaleItem item = made.items().get(i);
            boolean decidesSkip = made.skip().isPresent()
                    && made.skip().get().item().id().equals(item.item().id());
            if (decidesSkip) {
                skipAt = i;
            }
            terms[i] = Term.of(columns[i], item, decidesSkip ? made.skip().get().code() : Double.NaN);
        }
        this.rule = made.rule();
        this.ratedOnly = made.missing().ratedOnly();
        this.required = made.missing().required(k, missingOff);
        this.made = made;
        this.standInOff = missingOff;
        this.omittedIfUnanswered = omittedIfUnanswered;
        this.ruleOff = ruleOff;
        this.skipPosition = skipAt;
        this.skipCode = made.skip().map(Composition.Skip::code).orElse(Double.NaN);
        this.skipScore = made.skip().map(Composition.Skip::score).orElse(Double.NaN);
    }

    @Override
    public void run(double[] responses, int offset, boolean validated, RequestedColumns requested, ScoreBuffer out) {
        double sum = 0;
        double openLow = 0;
        double openHigh = 0;
        int answered = 0;
        int notAllowed = 0;
        if (validated) { // a loop of its own: one that asks for each item takes as long as looking at the response
            for (Term term : terms) {
                double response = responses[offset + term.column];
                if (Double.isNaN(response)) {
                    openLow += term.low;
                    openHigh += term.high;
                } else {
                    sum += term.used(response);
                    answered++;
                }
            }
        } else {
            for (Term term : terms) {
                double response = responses[offset + term.column];
                if (term.inRange(response) && term.isCode(response)) {
                    sum += term.used(response);
                    answered++;
                } else if (Double.isNaN(response)) {
                    openLow += term.low;
                    openHigh += term.high;
                } else {
                    notAllowed++;
                }
            }
        }
        int k = terms.length;
        boolean bad = notAllowed > 0;
        int counted = ratedOnly ? answered + notAllowed : k;
        out.items[slot] = counted == 0 ? k : counted;
        out.answered[slot] = answered;
        boolean silent = omittedIfUnanswered && answered == 0 && !bad && !requested.any(columns);
        if (ruleOff && !silent) {
            out.notScored(slot, Reason.RULE_NOT_PUBLISHED);
        } else if (bad) {
            out.notScored(slot, Reason.RESPONSE_NOT_ALLOWED);
        } else if (skipPosition >= 0 && responses[offset + columns[skipPosition]] == skipCode) {
            out.items[slot] = 1;
            out.answered[slot] = 1;
            out.scored(slot, true, skipScore, skipScore, skipScore);
        } else {
            score(responses, offset, sum, openLow, openHigh, answered, counted, silent, out);
        }
    }

    private void score(
            double[] responses,
            int offset,
            double sum,
            double openLow,
            double openHigh,
            int answered,
            int counted,
            boolean silent,
            ScoreBuffer out) {
        if (answered > 0 && answered == counted && answered >= required) {
            double score = rule.score(sum, answered, counted);
            out.scored(slot, true, score, score, score);
            if (rule.hasStandardError()) {
                out.standardError[slot] = rule.standardError(sum);
            }
            return;
        }
        int k = columns.length;
        double a = rule.score(sum + openLow, k, k);
        double b = rule.score(sum + openHigh, k, k);
        double lowest = Math.min(a, b);
        double highest = Math.max(a, b);
        if (skipPosition >= 0 && Double.isNaN(responses[offset + columns[skipPosition]])) {
            lowest = Math.min(lowest, skipScore);
            highest = Math.max(highest, skipScore);
        }
        if (silent) {
            out.noRow(slot, lowest, highest);
        } else if (answered == 0) {
            out.notScored(slot, Reason.NO_ANSWERS, lowest, highest);
        } else if (answered < required) {
            out.notScored(slot, Reason.TOO_FEW_ANSWERED, lowest, highest);
        } else {
            double score = rule.score(sum, answered, k);
            out.scored(slot, false, score, Math.min(lowest, score), Math.max(highest, score));
        }
    }

    @Override
    public ScaleTrace trace(double[] responses, int offset, ScoreBuffer out) {
        List<ScaleTrace.ItemUsed> items = new ArrayList<>();
        for (int i = 0; i < terms.length; i++) {
            double response = responses[offset + terms[i].column];
            boolean allowed = terms[i].inRange(response) && terms[i].isCode(response);
            items.add(new ScaleTrace.ItemUsed(
                    made.items().get(i),
                    terms[i].column,
                    allowed ? OptionalDouble.of(response) : OptionalDouble.empty(),
                    allowed ? OptionalDouble.of(terms[i].used(response)) : OptionalDouble.empty(),
                    !Double.isNaN(response)));
        }
        boolean skipped = skipPosition >= 0 && responses[offset + columns[skipPosition]] == skipCode;
        return new ScaleTrace.FromItems(made, items, skipped, required, standInOff);
    }
}
