package lumbrical.instrument;

import java.util.Map;
import java.util.stream.Collectors;
import lumbrical.number.Numbers;

/** The rules of a definition in words, as lists and pages print them. */
public final class RuleWords {
    private RuleWords() {}

    /** Of what a score is made, such as {@code (mean - 1) x 25}. */
    public static String formula(Composition composition) {
        return composition.fold(
                items -> items.rule().fold(FORMULAS),
                parts -> parts.rule().fold(PARTS)
                        + " of "
                        + parts.parts().stream()
                                .map(p -> p.scale() + (p.reversed() ? " reversed" : ""))
                                .collect(Collectors.joining(", ")));
    }

    /** What an unanswered item does, such as {@code at least 10 of 11; the mean of the answered stands in}. */
    public static String missing(Composition composition) {
        return composition.fold(RuleWords::missingItems, parts -> "every part is needed");
    }

    /** Which responses a set allows, such as {@code 1, 2, 3, 4, 5} or {@code 0 to 100, decimals too}. */
    public static String allowed(ResponseSet set) {
        return set.fold(new ResponseSet.Kinds<>() {
            @Override
            public String codes(ResponseSet.Codes listed) {
                return listed.codes().stream().map(Numbers::format).collect(Collectors.joining(", "));
            }

            @Override
            public String continuous(ResponseSet.Continuous any) {
                return Numbers.format(any.low()) + " to " + Numbers.format(any.high()) + ", decimals too";
            }
        });
    }

    /** What the responses stand for, where the definition says so, such as {@code 1 = none, 5 = extreme}; else empty. */
    public static String labels(ResponseSet set) {
        return set.labels().entrySet().stream()
                .sorted(Map.Entry.comparingByKey())
                .map(e -> Numbers.format(e.getKey()) + " = " + e.getValue())
                .collect(Collectors.joining(", "));
    }

    private static String missingItems(Composition.FromItems made) {
        int k = made.items().size();
        return made.missing().fold(new MissingRule.Kinds<>() {
            @Override
            public String noneAllowed(MissingRule.NoneAllowed rule) {
                return "none allowed";
            }

            @Override
            public String meanOfAnswered(MissingRule.MeanOfAnswered rule) {
                return "at least " + rule.minimum().required(k) + " of " + k + "; the mean of the answered stands in";
            }

            @Override
            public String ratedOnly(MissingRule.RatedOnly rule) {
                return "items not rated do not count; at least "
                        + rule.minimum().required(k);
            }
        });
    }

    private static final PartRule.Kinds<String> PARTS = new PartRule.Kinds<>() {
        @Override
        public String sumOfParts(PartRule.SumOfParts sum) {
            return "sum";
        }

        @Override
        public String meanOfParts(PartRule.MeanOfParts mean) {
            return "mean";
        }
    };

    private static final ItemRule.Kinds<String> FORMULAS = new ItemRule.Kinds<>() {
        @Override
        public String sum(ItemRule.Sum rule) {
            return rule.dividedBy() == 1 ? "sum" : "sum / " + Numbers.format(rule.dividedBy());
        }

        @Override
        public String mean(ItemRule.Mean rule) {
            return "mean";
        }

        @Override
        public String rescaledMean(ItemRule.RescaledMean rule) {
            return "(mean - " + Numbers.format(rule.minus()) + ") x " + Numbers.format(rule.times());
        }

        @Override
        public String rescaledSum(ItemRule.RescaledSum rule) {
            return "100 x (sum - " + Numbers.format(rule.zeroAt()) + ") / (" + Numbers.format(rule.hundredAt()) + " - "
                    + Numbers.format(rule.zeroAt()) + ")";
        }

        @Override
        public String table(ItemRule.Table rule) {
            return "conversion table of the raw sum" + (rule.hasStandardError() ? ", with standard errors" : "");
        }
    };
}
