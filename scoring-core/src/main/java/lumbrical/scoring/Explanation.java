package lumbrical.scoring;

import static lumbrical.number.Numbers.format;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.instrument.Source;
import lumbrical.number.Numbers;

/**
 * The arithmetic of one score, so that a person can redo it with a pencil: the trace of the plan, in words.
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
     * The explanation of every score that {@code plan} gives for these responses.
     *
     * @throws IllegalArgumentException if the responses are another instrument's
     */
    public static List<Explanation> of(ScoringPlan plan, Responses responses, Optional<Side> side) {
        return plan.trace(responses, side).stream()
                .map(traced -> new Explanation(traced.result(), new Writer(plan, traced).lines()))
                .toList();
    }

    private static final class Writer implements ScaleTrace.Kinds<List<String>> {
        private final Instrument instrument;
        private final ScoreResult result;
        private final ScaleTrace trace;

        Writer(ScoringPlan plan, ScoringPlan.Traced traced) {
            this.instrument = plan.instrument();
            this.result = traced.result();
            this.trace = traced.trace();
        }

        List<String> lines() {
            List<String> lines = new ArrayList<>();
            Scale scale = instrument.requireScale(result.scale());
            lines.add(instrument.definition() + " " + scale.id() + " (" + scale.title() + ")"
                    + result.hand()
                            .map(h -> ", " + h.code() + (h == Side.BOTH ? " hands" : " hand"))
                            .orElse("")
                    + ": from " + format(scale.range().low()) + " to "
                    + format(scale.range().high()) + ", " + scale.better().code() + " is better");
            lines.addAll(trace.fold(this));
            lines.add(outcome());
            return lines;
        }

        @Override
        public List<String> bothHands(ScaleTrace.BothHands hands) {
            List<String> lines = new ArrayList<>();
            lines.add("  both hands: mean of the right and the left score");
            lines.add("    right: " + score(hands.right()));
            lines.add("    left: " + score(hands.left()));
            instrument.facts().bothHands().ifPresent(p -> lines.add("  source: " + cite(p)));
            return lines;
        }

        private static String score(OptionalDouble score) {
            return score.isPresent() ? format(score.getAsDouble()) : "no score";
        }

        @Override
        public List<String> fromItems(ScaleTrace.FromItems items) {
            List<String> lines = new ArrayList<>();
            lines.add("  responses used:");
            items.items().forEach(item -> lines.add(item(item)));
            if (items.skipped()) {
                items.made().skip().ifPresent(skip -> {
                    lines.add("  item " + skip.item().id() + " holds " + format(skip.code())
                            + ": the form lets the person skip the other items, and the score is "
                            + format(skip.score()));
                    lines.add("  source: " + cite(skip.provenance()));
                });
                return lines;
            }
            int answered = items.answered();
            String addends = items.items().stream()
                    .flatMap(i -> i.used().stream().boxed())
                    .map(Numbers::format)
                    .collect(Collectors.joining(" + "));
            lines.add("  sum of the answered: " + (answered == 0 ? "none" : addends)
                    + (answered < 2 ? "" : " = " + format(items.sum())) + ", answered " + answered + " of "
                    + items.items().size());
            lines.addAll(missing(items));
            result.scored().ifPresent(scored -> lines.addAll(formula(items, scored)));
            lines.add("  source of the formula: " + cite(items.made().rule().provenance()));
            return lines;
        }

        private String item(ScaleTrace.ItemUsed used) {
            Composition.ScaleItem scaleItem = used.item();
            String label = "    " + instrument.columns().get(used.column()).name() + " "
                    + scaleItem.item().topic() + ": ";
            if (used.response().isEmpty() || used.used().isEmpty()) {
                return label + (used.entered() ? "not allowed" : "not answered");
            }
            String response = format(used.response().getAsDouble());
            return label
                    + response
                    + (scaleItem.reversed()
                            ? ", reversed: "
                                    + format(scaleItem.item().responses().low()) + " + "
                                    + format(scaleItem.item().responses().high()) + " - " + response + " = "
                                    + format(used.used().getAsDouble())
                            : "");
        }

        private List<String> missing(ScaleTrace.FromItems items) {
            MissingRule rule = items.made().missing();
            int asked = items.items().size();
            String who = " (" + rule.statedBy().code() + "; " + cite(rule.provenance()) + ")";
            List<String> lines = new ArrayList<>();
            lines.add("  missing-item rule: "
                    + rule.fold(new MissingRule.Kinds<String>() {
                        @Override
                        public String noneAllowed(MissingRule.NoneAllowed none) {
                            return "all must be answered" + who;
                        }

                        @Override
                        public String meanOfAnswered(MissingRule.MeanOfAnswered mean) {
                            return "at least " + mean.minimum().required(asked) + " of " + asked
                                    + " must be answered; their mean stands in for each unanswered one" + who
                                    + (items.standInOff()
                                            ? "; switched off for this run, so all must be answered"
                                            : "");
                        }

                        @Override
                        public String ratedOnly(MissingRule.RatedOnly rated) {
                            return "items not rated do not count; at least " + items.required() + " must be rated"
                                    + who;
                        }
                    }));
            if (items.unanswered() > 0 && !rule.ratedOnly()) {
                lines.add("  unanswered: " + items.unanswered());
            }
            return lines;
        }

        private static List<String> formula(ScaleTrace.FromItems items, ScoreResult.Scored scored) {
            ItemRule rule = items.made().rule();
            double sum = items.sum();
            int n = items.answered();
            int k = scored.items();
            boolean standIn = n < k && rule.usesFullSum();
            String full = format(standIn ? sum * k / n : sum);
            List<String> lines = new ArrayList<>();
            if (standIn) {
                lines.add(
                        "  full sum with the mean standing in: " + format(sum) + " x " + k + " / " + n + " = " + full);
            }
            lines.add("  score: " + rule.fold(new Worked(format(sum), full, n)) + " = " + format(scored.value()));
            scored.precision()
                    .ifPresent(p -> lines.add("  standard error " + format(p.standardError()) + ", 95 % interval "
                            + format(p.interval95(scored.value()).low()) + " to "
                            + format(p.interval95(scored.value()).high())));
            return lines;
        }

        /** The formula with its numbers put in. */
        private record Worked(String sum, String full, int answered) implements ItemRule.Kinds<String> {
            @Override
            public String sum(ItemRule.Sum rule) {
                return rule.dividedBy() == 1 ? "sum" : full + " / " + format(rule.dividedBy());
            }

            @Override
            public String mean(ItemRule.Mean rule) {
                return sum + " / " + answered;
            }

            @Override
            public String rescaledMean(ItemRule.RescaledMean rule) {
                return "(" + sum + " / " + answered + " - " + format(rule.minus()) + ") x " + format(rule.times());
            }

            @Override
            public String rescaledSum(ItemRule.RescaledSum rule) {
                return "100 x (" + full + " - " + format(rule.zeroAt()) + ") / (" + format(rule.hundredAt()) + " - "
                        + format(rule.zeroAt()) + ")";
            }

            @Override
            public String table(ItemRule.Table rule) {
                return "row of the conversion table for the sum " + full;
            }
        }

        @Override
        public List<String> fromParts(ScaleTrace.FromParts parts) {
            List<String> lines = new ArrayList<>();
            List<String> terms = new ArrayList<>();
            for (ScaleTrace.PartUsed part : parts.parts()) {
                String shown = score(part.score());
                String label = "  part " + part.part().scale() + ": " + shown;
                if (part.part().reversed() && part.used().isPresent()) {
                    String turned = format(part.used().getAsDouble());
                    label += ", reversed: " + format(part.ends()) + " - " + shown + " = " + turned;
                    shown = turned;
                }
                lines.add(label);
                terms.add(shown);
            }
            String sum = String.join(" + ", terms);
            lines.add(result.scored()
                    .map(scored -> "  score: "
                            + parts.made().rule().fold(new PartRule.Kinds<String>() {
                                @Override
                                public String sumOfParts(PartRule.SumOfParts rule) {
                                    return sum;
                                }

                                @Override
                                public String meanOfParts(PartRule.MeanOfParts rule) {
                                    return "(" + sum + ") / " + terms.size();
                                }
                            })
                            + " = " + format(scored.value()))
                    .orElse("  every part is needed"));
            lines.add("  source of the formula: " + cite(parts.made().rule().provenance()));
            return lines;
        }

        private String outcome() {
            String bounds = result.bounds()
                    .filter(b -> b.width() > 0)
                    .map(b ->
                            "; any answers to the unanswered would give " + format(b.low()) + " to " + format(b.high()))
                    .orElse("");
            return "  outcome: " + result.outcome().code()
                    + result.reason().map(r -> ", " + r.code()).orElse("")
                    + result.scored().map(s -> ", score " + format(s.value())).orElse("") + bounds;
        }

        private String cite(Provenance provenance) {
            Optional<Source> seen = instrument.source(provenance.source());
            String source = seen.map(Source::inOneLine).orElse("no source");
            return switch (provenance.standing()) {
                case OURS -> "a convention of ours" + (seen.isPresent() ? "; see " + source : "");
                case FROM_MEMORY -> "from memory, to be checked";
                case SECOND_HAND -> "second-hand; " + source;
                case PUBLISHED -> source;
            };
        }
    }
}
