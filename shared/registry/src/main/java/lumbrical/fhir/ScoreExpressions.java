package lumbrical.fhir;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.columns.FhirNames;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;

/**
 * The scores of an instrument as FHIRPath over a QuestionnaireResponse: the same rules as {@link ScoringPlan}, written out from the
 * kinds of rule that a definition may name. An expression gives the score, or nothing where there is none. Only functions of the
 * normative FHIRPath 2.0 and {@code aggregate}: engines of R4 know no {@code weight()}, {@code sum()} or {@code avg()}.
 */
final class ScoreExpressions {
    /** A quotient takes as many digits as its operands have in the engine that we tried, so that a dividend is given some first. */
    private static final String DIGITS = " * 1.000000000000";

    private static final String NOTHING = "{}";

    private final Instrument instrument;

    private ScoreExpressions(Instrument instrument) {
        this.instrument = instrument;
    }

    /**
     * A score as an item of the Questionnaire.
     *
     * @param linkId {@code score_<scale>}, with the hand where one is asked about
     */
    record ScoreItem(String linkId, Scale scale, Optional<Side> hand, String expression) {}

    /** Every score that the instrument can give, in the order of the definition. */
    static List<ScoreItem> of(Instrument instrument) {
        ScoreExpressions expressions = new ScoreExpressions(instrument);
        return ScoringPlan.of(instrument, ScoringOptions.AS_DEFINED).outputs().stream()
                .map(o -> new ScoreItem(
                        "score_" + o.scale().id()
                                + o.hand().map(h -> "_" + h.code()).orElse(""),
                        o.scale(),
                        o.hand(),
                        expressions.of(o.scale(), o.hand())))
                .toList();
    }

    private String of(Scale scale, Optional<Side> hand) {
        if (instrument.perHand(scale) && hand.equals(Optional.of(Side.BOTH))) {
            return ofBothHands(scale);
        }
        return scale.composition().fold(made -> fromItems(made, hand), made -> fromParts(made, hand));
    }

    /** Where the form is about both hands, the mean of the two. */
    private String ofBothHands(Scale scale) {
        String both = "%resource.extension(" + quoted(FhirNames.ATTRIBUTE) + ").where(extension('name').value = 'side')"
                + ".extension('value').value = " + quoted(Side.BOTH.code());
        String mean = "((" + of(scale, Optional.of(Side.RIGHT)) + ") + (" + of(scale, Optional.of(Side.LEFT)) + "))"
                + DIGITS + " / 2";
        return "iif(" + both + ", " + mean + ", " + NOTHING + ")";
    }

    private String fromParts(Composition.FromParts made, Optional<Side> hand) {
        List<String> parts = new ArrayList<>();
        for (Composition.Part part : made.parts()) {
            Scale scale = instrument.part(part);
            Range range = scale.range();
            String score = "(" + of(scale, instrument.perHand(scale) ? hand : Optional.empty()) + ")";
            parts.add(part.reversed() ? "(" + decimal(range.low() + range.high()) + " - " + score + ")" : score);
        }
        String sum = "(" + String.join(" + ", parts) + ")"; // nothing, if any part is nothing
        return made.rule().fold(new PartRule.Kinds<>() {
            @Override
            public String sumOfParts(PartRule.SumOfParts rule) {
                return sum;
            }

            @Override
            public String meanOfParts(PartRule.MeanOfParts rule) {
                return sum + DIGITS + " / " + parts.size();
            }
        });
    }

    private String fromItems(Composition.FromItems made, Optional<Side> hand) {
        Map<Column, Boolean> columns = new LinkedHashMap<>();
        made.items().forEach(i -> columns.put(instrument.column(i.item(), hand), i.reversed()));
        String all = items(List.copyOf(columns.keySet()));
        String answered = all + ".answer.value.count()";
        int asked = columns.size();
        boolean ratedOnly = made.missing().ratedOnly();
        String sum = sum(columns);
        String rule = made.rule().fold(new RuleExpression(sum, answered, stands(made.missing()) ? asked : 0));
        String scored = "iif(" + answered + " >= " + required(made.missing(), asked, ratedOnly) + ", " + rule + ", "
                + NOTHING + ")";
        String withSkip = made.skip()
                .map(skip -> "iif("
                        + items(List.of(instrument.column(skip.item(), hand))) + ".answer.value."
                        + value(skip.item().responses()) + " = " + decimal(skip.code()) + ", " + decimal(skip.score())
                        + ", " + scored + ")")
                .orElse(scored);
        String refused =
                all + ".extension(" + quoted(FhirNames.DATA_ABSENT_REASON) + ").where(value = 'error').exists()";
        return "iif(" + refused + ", " + NOTHING + ", " + withSkip + ")";
    }

    private static int required(MissingRule missing, int asked, boolean ratedOnly) {
        return Math.max(
                1, ratedOnly ? missing.required(asked, false) : Math.min(asked, missing.required(asked, false)));
    }

    /** Whether something stands in for an unanswered item. */
    private static boolean stands(MissingRule missing) {
        return missing.fold(new MissingRule.Kinds<>() {
            @Override
            public Boolean noneAllowed(MissingRule.NoneAllowed rule) {
                return false;
            }

            @Override
            public Boolean meanOfAnswered(MissingRule.MeanOfAnswered rule) {
                return true;
            }

            @Override
            public Boolean ratedOnly(MissingRule.RatedOnly rule) {
                return false;
            }
        });
    }

    private static String items(List<Column> columns) {
        return "%resource.item.where(linkId in ("
                + columns.stream().map(c -> quoted(c.shortName())).collect(Collectors.joining(" | ")) + "))";
    }

    private static String value(ResponseSet set) {
        return set.fold(new ResponseSet.Kinds<>() {
            @Override
            public String codes(ResponseSet.Codes codes) {
                return "code.toDecimal()";
            }

            @Override
            public String continuous(ResponseSet.Continuous range) {
                return "toDecimal()";
            }
        });
    }

    /** The sum of what the answered items add: of each group of items alike in kind and shift one aggregate, since a union drops equal values. */
    private static String sum(Map<Column, Boolean> columns) {
        Map<String, List<Column>> groups = new LinkedHashMap<>();
        columns.forEach((column, reversed) -> {
            ResponseSet set = column.item().responses();
            String shift = reversed ? decimal(set.low() + set.high()) + " - " : "";
            groups.computeIfAbsent(shift + value(set), k -> new ArrayList<>()).add(column);
        });
        return groups.entrySet().stream()
                .map(g ->
                        items(g.getValue()) + ".answer.value.select(" + g.getKey() + ").aggregate($this + $total, 0.0)")
                .collect(Collectors.joining(" + ", "(", ")"));
    }

    /** The formula of each kind of rule; what the words mean says {@link ItemRule}. */
    private static final class RuleExpression implements ItemRule.Kinds<String> {
        private final String sum;
        private final String answered;
        private final int counted;

        /** @param counted how many items count, where a mean stands in for those unanswered; else 0 */
        RuleExpression(String sum, String answered, int counted) {
            this.sum = sum;
            this.answered = answered;
            this.counted = counted;
        }

        private String fullSum() {
            return counted == 0 ? sum : "(" + sum + " * " + counted + DIGITS + " / " + answered + ")";
        }

        @Override
        public String sum(ItemRule.Sum rule) {
            return rule.dividedBy() == 1 ? fullSum() : fullSum() + DIGITS + " / " + divisor(rule.dividedBy());
        }

        @Override
        public String mean(ItemRule.Mean rule) {
            return sum + DIGITS + " / " + answered;
        }

        @Override
        public String rescaledMean(ItemRule.RescaledMean rule) {
            return "(" + sum + DIGITS + " / " + answered + " - " + decimal(rule.minus()) + ") * "
                    + decimal(rule.times());
        }

        @Override
        public String rescaledSum(ItemRule.RescaledSum rule) {
            boolean turned = rule.hundredAt() < rule.zeroAt();
            String from =
                    turned ? decimal(rule.zeroAt()) + " - " + fullSum() : fullSum() + " - " + decimal(rule.zeroAt());
            return "(" + from + ") * 100" + DIGITS + " / " + divisor(Math.abs(rule.hundredAt() - rule.zeroAt()));
        }

        /** Whole sums, held against the middle between two rows, since engines differ in whether 27.0 equals 27. */
        @Override
        public String table(ItemRule.Table rule) {
            StringBuilder table = new StringBuilder(sum).append(".select(");
            List<ItemRule.Table.Row> rows = rule.rows();
            for (ItemRule.Table.Row row : rows.subList(0, rows.size() - 1)) {
                table.append("iif($this < ").append(decimal(row.raw() + 0.5)).append(", ");
                table.append(decimal(row.score())).append(", ");
            }
            return table.append(decimal(rows.get(rows.size() - 1).score()))
                    .append(")".repeat(rows.size()))
                    .toString();
        }
    }

    /** A decimal of FHIRPath; one below 0 in brackets, since a sign binds weakly. */
    private static String decimal(double number) {
        String text = Numbers.format(number);
        String decimal = text.contains(".") ? text : text + ".0";
        return number < 0 ? "(" + decimal + ")" : decimal;
    }

    /** An integer where it is one, else a decimal of many digits: a short decimal would cut the quotient to its own digits. */
    private static String divisor(double number) {
        return number == Math.rint(number) ? Numbers.format(number) : decimal(number) + "000000000000";
    }

    private static String quoted(String text) {
        return "'" + text + "'";
    }
}
