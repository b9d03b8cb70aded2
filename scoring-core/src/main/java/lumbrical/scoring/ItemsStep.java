package lumbrical.scoring;

import lumbrical.instrument.Composition;
import lumbrical.instrument.MissingRule;

/** Scores a scale from items, for the person or for one hand. */
final class ItemsStep implements Step {
    private final int slot;
    private final Term[] terms;
    private final int[] columns;
    private final Formula formula;
    private final int required;
    private final boolean ratedOnly;
    private final boolean silentWhenUnanswered;
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
     * @param silentWhenUnanswered an optional module or a scale of one item: no row without an answer
     */
    ItemsStep(
            int slot,
            Composition.FromItems made,
            int[] columns,
            boolean ruleOff,
            boolean missingOff,
            boolean silentWhenUnanswered) {
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
        this.formula = Formula.of(made.rule());
        this.ratedOnly = made.missing() instanceof MissingRule.RatedOnly;
        this.required = required(made.missing(), k, missingOff);
        this.silentWhenUnanswered = silentWhenUnanswered;
        this.ruleOff = ruleOff;
        this.skipPosition = skipAt;
        this.skipCode = made.skip().map(Composition.Skip::code).orElse(Double.NaN);
        this.skipScore = made.skip().map(Composition.Skip::score).orElse(Double.NaN);
    }

    private static int required(MissingRule rule, int items, boolean off) {
        if (rule instanceof MissingRule.RatedOnly rated) {
            return rated.minimum().required(items);
        }
        return rule instanceof MissingRule.MeanOfAnswered mean && !off
                ? Math.min(items, mean.minimum().required(items))
                : items;
    }

    @Override
    public void run(double[] responses, int offset, boolean known, RequestedColumns named, ScoreBuffer out) {
        double sum = 0;
        double openLow = 0;
        double openHigh = 0;
        int answered = 0;
        int notAllowed = 0;
        if (known) { // a loop of its own: one that asks for each item takes as long as looking at the response
            for (Term term : terms) {
                double response = responses[offset + term.column];
                if (Double.isNaN(response)) {
                    openLow += term.low;
                    openHigh += term.high;
                } else {
                    sum += term.shift + term.sign * response;
                    answered++;
                }
            }
        } else {
            for (Term term : terms) {
                double response = responses[offset + term.column];
                if (term.inRange(response) && term.isCode(response)) {
                    sum += term.shift + term.sign * response;
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
        boolean silent = silentWhenUnanswered && answered == 0 && !bad && !named.any(columns);
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
            double score = formula.score(sum, answered, counted);
            out.scored(slot, true, score, score, score);
            out.standardError[slot] = formula.standardError(sum);
            return;
        }
        int k = columns.length;
        double a = formula.score(sum + openLow, k, k);
        double b = formula.score(sum + openHigh, k, k);
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
            double score = formula.score(sum, answered, k);
            out.scored(slot, false, score, Math.min(lowest, score), Math.max(highest, score));
        }
    }
}
