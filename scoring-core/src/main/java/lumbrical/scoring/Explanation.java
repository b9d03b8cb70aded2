package lumbrical.scoring;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.instrument.Source;

/**
 * The arithmetic of one score, so that a person can redo it with a pencil.
 *
 * @param result the score explained
 * @param lines its steps, one line each
 */
public record Explanation(ScoreResult result, List<String> lines) {
    /** Copies the list. */
    public Explanation {
        lines = List.copyOf(lines);
    }

    /**
     * The explanation of every score that {@code plan} gives for these responses, steps of other scales included.
     *
     * @throws IllegalArgumentException if the responses are another instrument's
     */
    public static List<Explanation> of(ScoringPlan plan, Responses responses, Optional<Side> side) {
        List<ScoreResult> results = plan.score(responses, side);
        List<ScoreResult> steps = plan.scoreSteps(responses, side);
        return results.stream()
                .map(result -> new Explanation(result, new Writer(plan, responses, steps).explain(result)))
                .toList();
    }

    private static final class Writer {
        private final ScoringPlan plan;
        private final Instrument instrument;
        private final Responses responses;
        private final List<ScoreResult> results;
        private final List<String> lines = new ArrayList<>();

        Writer(ScoringPlan plan, Responses responses, List<ScoreResult> results) {
            this.plan = plan;
            this.instrument = plan.instrument();
            this.responses = responses;
            this.results = results;
        }

        List<String> explain(ScoreResult result) {
            Scale scale = instrument.scale(result.scale()).orElseThrow();
            lines.add(instrument.definition() + " " + scale.id() + " (" + scale.title() + ")"
                    + result.hand()
                            .map(h -> ", " + h.code() + (h == Side.BOTH ? " hands" : " hand"))
                            .orElse("")
                    + ": from " + number(scale.range().low()) + " to "
                    + number(scale.range().high()) + ", "
                    + scale.better().code() + " is better");
            if (result.hand().equals(Optional.of(Side.BOTH))) {
                hands(scale);
            } else if (scale.composition() instanceof Composition.FromItems made) {
                items(made, result);
            } else {
                parts((Composition.FromParts) scale.composition(), result);
            }
            outcome(result);
            return lines;
        }

        private void hands(Scale scale) {
            lines.add("  both hands: mean of the right and the left score");
            for (Side hand : List.of(Side.RIGHT, Side.LEFT)) {
                lines.add("    " + hand.code() + ": " + value(find(scale, Optional.of(hand))));
            }
            instrument.facts().hands().ifPresent(p -> lines.add("  source: " + cite(p)));
        }

        private Optional<ScoreResult> find(Scale scale, Optional<Side> hand) {
            return results.stream()
                    .filter(r -> r.scale().equals(scale.id()) && r.hand().equals(hand))
                    .findFirst();
        }

        private static String value(Optional<ScoreResult> result) {
            return result.flatMap(ScoreResult::scored)
                    .map(s -> number(s.value()))
                    .orElse("no score");
        }

        private void items(Composition.FromItems made, ScoreResult result) {
            double sum = 0;
            int answered = 0;
            int open = 0;
            List<String> addends = new ArrayList<>();
            lines.add("  responses used:");
            for (Composition.ScaleItem scaleItem : made.items()) {
                Column column = column(scaleItem, result.hand());
                double response = responses.at(column.index());
                String label = "    " + column.name() + " " + scaleItem.item().topic() + ": ";
                if (Double.isNaN(response)) {
                    lines.add(label + "not answered");
                    open++;
                } else if (!scaleItem.item().responses().allows(response)) {
                    lines.add(label + "not allowed");
                } else {
                    double used = response;
                    String recoding = "";
                    if (scaleItem.reversed()) {
                        double low = scaleItem.item().responses().low();
                        double high = scaleItem.item().responses().high();
                        used = low + high - response;
                        recoding = ", reversed: " + number(low) + " + " + number(high) + " - " + number(response)
                                + " = " + number(used);
                    }
                    lines.add(label + number(response) + recoding);
                    sum += used;
                    addends.add(number(used));
                    answered++;
                }
            }
            boolean skipped = made.skip().isPresent()
                    && responses.at(column(
                                            new Composition.ScaleItem(
                                                    made.skip().get().item(), false),
                                            result.hand())
                                    .index())
                            == made.skip().get().code();
            if (skipped) {
                Composition.Skip skip = made.skip().get();
                lines.add("  item " + skip.item().id() + " holds " + number(skip.code())
                        + ": the form lets the person skip the other items, and the score is " + number(skip.score()));
                lines.add("  source: " + cite(skip.provenance()));
                return;
            }
            String sumShown = addends.isEmpty() ? "none" : String.join(" + ", addends);
            lines.add("  sum of the answered: " + sumShown + (addends.size() < 2 ? "" : " = " + number(sum))
                    + ", answered " + answered + " of " + made.items().size());
            missing(made, open);
            if (result.scored().isPresent()) {
                formula(made, sum, answered, result.scored().get());
            }
            lines.add("  source of the formula: " + cite(made.rule().provenance()));
        }

        private Column column(Composition.ScaleItem scaleItem, Optional<Side> hand) {
            return instrument.columns().stream()
                    .filter(c -> c.item().id().equals(scaleItem.item().id()))
                    .filter(c -> c.hand().isEmpty() || c.hand().equals(hand))
                    .findFirst()
                    .orElseThrow();
        }

        private void missing(Composition.FromItems made, int open) {
            int k = made.items().size();
            MissingRule rule = made.missing();
            String who = " (" + rule.statedBy().code() + "; " + cite(rule.provenance()) + ")";
            boolean off = plan.options().completeOnly()
                    || plan.options().publishedOnly() && !rule.provenance().published();
            String stated;
            if (rule instanceof MissingRule.MeanOfAnswered mean) {
                int required = mean.minimum().required(k);
                stated = "at least " + required + " of " + k
                        + " must be answered; their mean stands in for each unanswered one" + who;
                if (off) {
                    stated += "; switched off for this run, so all must be answered";
                }
            } else if (rule instanceof MissingRule.RatedOnly rated) {
                stated = "items not rated do not count; at least "
                        + rated.minimum().required(k) + " must be rated" + who;
            } else {
                stated = "all must be answered" + who;
            }
            lines.add("  missing-item rule: " + stated);
            if (open > 0 && !(rule instanceof MissingRule.RatedOnly)) {
                lines.add("  unanswered: " + open);
            }
        }

        private void formula(Composition.FromItems made, double sum, int n, ScoreResult.Scored scored) {
            int k = scored.items();
            String full = number(sum);
            if (n < k && !(made.rule() instanceof ItemRule.Mean) && !(made.rule() instanceof ItemRule.RescaledMean)) {
                double fullSum = sum * k / n;
                lines.add("  full sum with the mean standing in: " + number(sum) + " x " + k + " / " + n + " = "
                        + number(fullSum));
                full = number(fullSum);
            }
            String worked;
            if (made.rule() instanceof ItemRule.Sum r) {
                worked = r.dividedBy() == 1 ? "sum" : full + " / " + number(r.dividedBy());
            } else if (made.rule() instanceof ItemRule.Mean) {
                worked = number(sum) + " / " + n;
            } else if (made.rule() instanceof ItemRule.RescaledMean r) {
                worked = "(" + number(sum) + " / " + n + " - " + number(r.minus()) + ") x " + number(r.times());
            } else if (made.rule() instanceof ItemRule.RescaledSum r) {
                worked = "100 x (" + full + " - " + number(r.zeroAt()) + ") / (" + number(r.hundredAt()) + " - "
                        + number(r.zeroAt()) + ")";
            } else {
                worked = "row of the conversion table for the sum " + full;
            }
            lines.add("  score: " + worked + " = " + number(scored.value()));
            scored.precision()
                    .ifPresent(p -> lines.add("  standard error " + number(p.standardError()) + ", 95 % interval "
                            + number(p.interval95(scored.value()).low()) + " to "
                            + number(p.interval95(scored.value()).high())));
        }

        private void parts(Composition.FromParts made, ScoreResult result) {
            List<String> terms = new ArrayList<>();
            for (Composition.Part part : made.parts()) {
                Scale scale = instrument.scale(part.scale()).orElseThrow();
                Optional<Side> hand = instrument.perHand(scale) ? result.hand() : Optional.empty();
                Optional<ScoreResult> found = find(scale, hand);
                String shown = value(found);
                String label = "  part " + scale.id() + ": " + shown;
                if (part.reversed() && found.flatMap(ScoreResult::scored).isPresent()) {
                    double ends = scale.range().low() + scale.range().high();
                    double turned =
                            ends - found.flatMap(ScoreResult::scored).get().value();
                    label += ", reversed: " + number(ends) + " - " + shown + " = " + number(turned);
                    shown = number(turned);
                }
                lines.add(label);
                terms.add(shown);
            }
            if (result.scored().isPresent()) {
                String sum = String.join(" + ", terms);
                boolean mean = made.rule() instanceof PartRule.MeanOfParts;
                lines.add("  score: " + (mean ? "(" + sum + ") / " + terms.size() : sum) + " = "
                        + number(result.scored().get().value()));
            } else {
                lines.add("  every part is needed");
            }
            lines.add("  source of the formula: " + cite(made.rule().provenance()));
        }

        private void outcome(ScoreResult result) {
            String bounds = result.bounds()
                    .filter(b -> b.width() > 0)
                    .map(b ->
                            "; any answers to the unanswered would give " + number(b.low()) + " to " + number(b.high()))
                    .orElse("");
            lines.add("  outcome: " + result.outcome().code()
                    + result.reason().map(r -> ", " + r.code()).orElse("")
                    + result.scored().map(s -> ", score " + number(s.value())).orElse("") + bounds);
        }

        private String cite(Provenance provenance) {
            String source = instrument
                    .source(provenance.source())
                    .map(Source::inOneLine)
                    .orElse("no source");
            return switch (provenance.standing()) {
                case OURS ->
                    "a convention of ours"
                            + (instrument.source(provenance.source()).isPresent() ? "; see " + source : "");
                case FROM_MEMORY -> "from memory, to be checked";
                case SECOND_HAND -> "second-hand; " + source;
                case PUBLISHED -> source;
            };
        }
    }

    /** At most six decimals, as everywhere in the output. */
    static String number(double value) {
        BigDecimal exact = new BigDecimal(Double.toString(value)).setScale(6, RoundingMode.HALF_UP);
        return exact.signum() == 0 ? "0" : exact.stripTrailingZeros().toPlainString();
    }
}
