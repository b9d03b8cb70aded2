package lumbrical.workbook;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;
import java.util.stream.Collectors;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.scoring.Reason;

/**
 * The scores of an instrument as formulas of a spreadsheet: the same rules as {@link lumbrical.scoring.ScoringPlan}, written out from
 * the kinds of rule that a definition may name. Only functions that every spreadsheet of the last fifteen years knows.
 */
final class ScoreFormulas {
    private static final String COMPLETE = "complete";
    private static final String WITH_MISSING = "with-missing";

    private final EntryWorking working;
    private final ConversionTables tables;
    private final Instrument instrument;
    private final Map<Integer, String> values;
    private final Map<ScaleId, Map<Optional<Side>, Scored>> scored = new HashMap<>();

    /**
     * The steps that make up a score.
     *
     * @param state {@code complete}, {@code with-missing}, the reason there is no score, or empty: nothing to report
     * @param score the score, or empty
     * @param lowest the lowest possible score, or empty
     * @param highest the highest possible score, or empty
     * @param unanswered how many items that count are blank
     */
    record Scored(String state, String score, String lowest, String highest, String unanswered) {}

    private ScoreFormulas(
            EntryWorking working, ConversionTables tables, Instrument instrument, Map<Integer, String> values) {
        this.working = working;
        this.tables = tables;
        this.instrument = instrument;
        this.values = values;
    }

    /**
     * Adds the steps of every scale of an instrument.
     *
     * @param values by position of a response column, the step that holds its value
     */
    static ScoreFormulas of(
            EntryWorking working, ConversionTables tables, Instrument instrument, Map<Integer, String> values) {
        ScoreFormulas formulas = new ScoreFormulas(working, tables, instrument, values);
        instrument.scales().forEach(formulas::add);
        return formulas;
    }

    /** The steps of a scale for a hand, for both, or for the person. */
    Scored of(Scale scale, Optional<Side> hand) {
        return scored.get(scale.id()).get(hand);
    }

    /** Whether anything stands in one of these columns, allowed or not. */
    String anyEntered(List<Column> columns) {
        List<String> cells = columns.stream().map(c -> values.get(c.index())).toList();
        return count(cells) + "+" + notAllowed(cells) + ">0";
    }

    private void add(Scale scale) {
        if (!instrument.perHand(scale)) {
            put(scale, Optional.empty(), of(scale, Optional.empty(), scale.id().value()));
            return;
        }
        Scored right = hand(scale, Side.RIGHT);
        Scored left = hand(scale, Side.LEFT);
        if (instrument.facts().bothHands().isPresent()) {
            put(scale, Optional.of(Side.BOTH), bothHands(scale, right, left));
        }
    }

    private Scored hand(Scale scale, Side hand) {
        Scored made = of(scale, Optional.of(hand), scale.id() + " " + hand.code());
        put(scale, Optional.of(hand), made);
        return made;
    }

    private void put(Scale scale, Optional<Side> hand, Scored made) {
        scored.computeIfAbsent(scale.id(), id -> new LinkedHashMap<>()).put(hand, made);
    }

    private Scored of(Scale scale, Optional<Side> hand, String name) {
        String title = instrument.id() + " " + name;
        return scale.composition()
                .fold(
                        made -> new FromItems(scale, made, hand, title).add(),
                        made -> fromParts(scale, made, hand, title));
    }

    /** A scale computed from items, for the person or for one hand. */
    private final class FromItems {
        private final Scale scale;
        private final Composition.FromItems made;
        private final String title;
        private final List<Term> terms;
        private final List<String> cells;
        private final int asked;

        private FromItems(Scale scale, Composition.FromItems made, Optional<Side> hand, String title) {
            this.scale = scale;
            this.made = made;
            this.title = title;
            this.terms = made.items().stream()
                    .map(i -> Term.of(cell(i.item(), hand), i, made.skip()))
                    .toList();
            this.cells = terms.stream().map(Term::cell).toList();
            this.asked = terms.size();
        }

        private String cell(Item item, Optional<Side> hand) {
            return values.get(instrument.column(item, hand).index());
        }

        private Optional<String> skipCell() {
            return made.skip().flatMap(skip -> terms.stream()
                    .filter(t -> t.item().id().equals(skip.item().id()))
                    .map(Term::cell)
                    .findFirst());
        }

        Scored add() {
            Counting counting = counting(made.missing(), asked);
            String answered = working.add(title + " answered", count(cells));
            String bad = working.add(title + " not allowed", notAllowed(cells));
            String sum = working.add(title + " sum", sum());
            String whole = String.valueOf(asked);
            String atLow = working.add(
                    title + " blanks at their least", rule("(" + sum + open(Term::low) + ")", whole, whole));
            String atHigh = working.add(
                    title + " blanks at their most", rule("(" + sum + open(Term::high) + ")", whole, whole));
            boolean silent = scale.optional() || asked == 1;
            String counted = counting.allCount() ? whole : answered;
            String state = working.add(
                    title + " state",
                    "IF(" + bad + ">0," + reason(Reason.RESPONSE_NOT_ALLOWED) + ","
                            + skipped(
                                    quoted(COMPLETE),
                                    "IF(" + answered + "=0," + (silent ? "\"\"" : reason(Reason.NO_ANSWERS)) + ",IF("
                                            + answered + "<" + counting.required() + ","
                                            + reason(Reason.TOO_FEW_ANSWERED) + ",IF(" + answered + "=" + counted + ","
                                            + quoted(COMPLETE) + "," + quoted(WITH_MISSING) + ")))")
                            + ")");
            String score = working.add(
                    title + " score",
                    "IF(" + isScored(state) + ","
                            + skipped(
                                    made.skip()
                                            .map(s -> FormulaNumber.of(s.score()))
                                            .orElse(""),
                                    rule(sum, answered, counted))
                            + ",\"\")");
            String lowest = working.add(title + " lowest", bound("MIN", bad, state, score, atLow, atHigh));
            String highest = working.add(title + " highest", bound("MAX", bad, state, score, atLow, atHigh));
            String blank = counting.allCount()
                    ? whole + "-" + answered + "-" + bad
                    : "IF(" + answered + "+" + bad + "=0," + whole + ",0)";
            String unanswered =
                    working.add(title + " unanswered", "IF(AND(" + bad + "=0," + isSkipped() + "),0," + blank + ")");
            return new Scored(state, score, lowest, highest, unanswered);
        }

        /** The sum of what the answered items add. */
        private String sum() {
            List<String> plain =
                    terms.stream().filter(t -> !t.reversed()).map(Term::cell).toList();
            StringBuilder sum = new StringBuilder(plain.isEmpty() ? "0" : "SUM(" + ranges(plain) + ")");
            grouped(terms.stream().filter(Term::reversed).toList(), Term::shift)
                    .forEach((shift, reversed) -> sum.append('+')
                            .append(FormulaNumber.of(shift))
                            .append('*')
                            .append(count(reversed))
                            .append("-SUM(")
                            .append(ranges(reversed))
                            .append(')'));
            return sum.toString();
        }

        /** What the blank items add where each adds its least, or its most. */
        private String open(ToDoubleFunction<Term> end) {
            StringBuilder open = new StringBuilder();
            grouped(terms, end).forEach((value, group) -> {
                if (value != 0) {
                    open.append('+')
                            .append(FormulaNumber.of(value))
                            .append("*(")
                            .append(group.size())
                            .append('-')
                            .append(count(group))
                            .append(')');
                }
            });
            return open.toString();
        }

        private String rule(String sum, String answered, String counted) {
            return made.rule().fold(new RuleFormula(sum, answered, counted));
        }

        /** {@code then} where a response lets the person leave out the other items, else {@code otherwise}. */
        private String skipped(String then, String otherwise) {
            return made.skip().isPresent() ? "IF(" + isSkipped() + "," + then + "," + otherwise + ")" : otherwise;
        }

        private String isSkipped() {
            return made.skip()
                    .flatMap(skip -> skipCell().map(cell -> cell + "=" + FormulaNumber.of(skip.code())))
                    .orElse("FALSE");
        }

        private String bound(String end, String bad, String state, String score, String atLow, String atHigh) {
            String either = atLow + "," + atHigh
                    + made.skip()
                            .flatMap(skip -> skipCell()
                                    .map(cell -> ",IF(" + cell + "=\"\"," + FormulaNumber.of(skip.score()) + "," + atLow
                                            + ")"))
                            .orElse("");
            return "IF(" + bad + ">0,\"\",IF(" + state + "=" + quoted(COMPLETE) + "," + score + ",IF(" + state + "="
                    + quoted(WITH_MISSING) + "," + end + "(" + either + "," + score + ")," + end + "(" + either
                    + "))))";
        }

        /** The formula of each kind of rule; what the letters mean says {@link ItemRule}. */
        private final class RuleFormula implements ItemRule.Kinds<String> {
            private final String sum;
            private final String answered;
            private final String counted;

            RuleFormula(String sum, String answered, String counted) {
                this.sum = sum;
                this.answered = answered;
                this.counted = counted;
            }

            private String fullSum() {
                return answered.equals(counted) ? sum : sum + "*" + counted + "/" + answered;
            }

            @Override
            public String sum(ItemRule.Sum rule) {
                return fullSum() + (rule.dividedBy() == 1 ? "" : "/" + FormulaNumber.of(rule.dividedBy()));
            }

            @Override
            public String mean(ItemRule.Mean rule) {
                return sum + "/" + answered;
            }

            @Override
            public String rescaledMean(ItemRule.RescaledMean rule) {
                return "(" + sum + "/" + answered + "-" + FormulaNumber.of(rule.minus()) + ")*"
                        + FormulaNumber.of(rule.times());
            }

            @Override
            public String rescaledSum(ItemRule.RescaledSum rule) {
                return "100*(" + fullSum() + "-" + FormulaNumber.of(rule.zeroAt()) + ")/"
                        + FormulaNumber.of(rule.hundredAt() - rule.zeroAt()) + "+0"; // no negative zero
            }

            @Override
            public String table(ItemRule.Table rule) {
                return tables.lookUp(title, rule, sum);
            }
        }
    }

    /**
     * What an item adds to the sum: its response, or {@code shift - response}.
     *
     * @param cell the step that holds its value
     * @param low the least it can add if it is blank
     * @param high the most it can add if it is blank
     */
    private record Term(Item item, String cell, boolean reversed, double shift, double low, double high) {
        static Term of(String cell, Composition.ScaleItem scaleItem, Optional<Composition.Skip> skip) {
            ResponseSet set = scaleItem.item().responses();
            Range ends = skip.filter(s -> s.item().id().equals(scaleItem.item().id()))
                    .map(s -> endsWithout(set, s.code()))
                    .orElse(new Range(set.low(), set.high()));
            double shift = scaleItem.reversed() ? set.low() + set.high() : 0;
            return scaleItem.reversed()
                    ? new Term(scaleItem.item(), cell, true, shift, shift - ends.high(), shift - ends.low())
                    : new Term(scaleItem.item(), cell, false, 0, ends.low(), ends.high());
        }

        /** The lowest and the highest response but the one that skips the others, which has a score of its own. */
        private static Range endsWithout(ResponseSet set, double code) {
            return set.fold(new ResponseSet.Kinds<>() {
                @Override
                public Range codes(ResponseSet.Codes listed) {
                    List<Double> others =
                            listed.codes().stream().filter(c -> c != code).toList();
                    return others.isEmpty()
                            ? new Range(code, code)
                            : new Range(others.get(0), others.get(others.size() - 1));
                }

                @Override
                public Range continuous(ResponseSet.Continuous range) {
                    return range.range();
                }
            });
        }
    }

    /**
     * What a missing-item rule asks for.
     *
     * @param required the fewest answered items that give a score
     * @param allCount whether a blank item counts, instead of being left out
     */
    private record Counting(int required, boolean allCount) {}

    private static Counting counting(MissingRule missing, int asked) {
        return missing.fold(new MissingRule.Kinds<>() {
            @Override
            public Counting noneAllowed(MissingRule.NoneAllowed rule) {
                return new Counting(rule.required(asked, false), true);
            }

            @Override
            public Counting meanOfAnswered(MissingRule.MeanOfAnswered rule) {
                return new Counting(rule.required(asked, false), true);
            }

            @Override
            public Counting ratedOnly(MissingRule.RatedOnly rule) {
                return new Counting(rule.required(asked, false), false);
            }
        });
    }

    private Scored fromParts(Scale scale, Composition.FromParts made, Optional<Side> hand, String title) {
        List<Scored> parts = made.parts().stream().map(p -> part(p, hand)).toList();
        String divided = made.rule().fold(new PartRule.Kinds<String>() {
            @Override
            public String sumOfParts(PartRule.SumOfParts rule) {
                return "";
            }

            @Override
            public String meanOfParts(PartRule.MeanOfParts rule) {
                return "/" + parts.size();
            }
        });
        List<String> sums = new ArrayList<>();
        List<String> lows = new ArrayList<>();
        List<String> highs = new ArrayList<>();
        for (int i = 0; i < parts.size(); i++) {
            Composition.Part part = made.parts().get(i);
            Range range = instrument.part(part).range();
            String from = part.reversed() ? FormulaNumber.of(range.low() + range.high()) + "-" : "";
            sums.add(from + parts.get(i).score());
            lows.add(from
                    + (part.reversed() ? parts.get(i).highest() : parts.get(i).lowest()));
            highs.add(from
                    + (part.reversed() ? parts.get(i).lowest() : parts.get(i).highest()));
        }
        return combined(
                title,
                parts,
                scale.optional(),
                "(" + String.join("+", sums) + ")" + divided,
                "(" + String.join("+", lows) + ")" + divided,
                "(" + String.join("+", highs) + ")" + divided,
                joined(parts, Scored::unanswered, "+"));
    }

    private Scored part(Composition.Part part, Optional<Side> hand) {
        Map<Optional<Side>, Scored> hands = scored.get(part.scale());
        return Optional.ofNullable(hands.get(hand)).orElseGet(() -> hands.get(Optional.<Side>empty()));
    }

    private Scored bothHands(Scale scale, Scored right, Scored left) {
        List<Scored> hands = List.of(right, left);
        List<String> shared = instrument.columns().stream()
                .filter(c -> c.hand().isEmpty() && instrument.uses(scale, c.item()))
                .map(c -> values.get(c.index()))
                .toList();
        String blankTwice =
                shared.isEmpty() ? "" : "-(" + shared.size() + "-" + count(shared) + "-(" + notAllowed(shared) + "))";
        return combined(
                instrument.id() + " " + scale.id() + " both",
                hands,
                true,
                "(" + joined(hands, Scored::score, "+") + ")/2",
                "(" + joined(hands, Scored::lowest, "+") + ")/2",
                "(" + joined(hands, Scored::highest, "+") + ")/2",
                joined(hands, Scored::unanswered, "+") + blankTwice);
    }

    /** A score made of others, every one of which must be there. */
    private Scored combined(
            String title,
            List<Scored> parts,
            boolean silent,
            String score,
            String lowest,
            String highest,
            String unanswered) {
        String all = "COUNT(" + joined(parts, Scored::score, ",") + ")=" + parts.size();
        String ifAny = "IF(" + all + ",IF(AND(" + joined(parts, p -> p.state() + "=" + quoted(COMPLETE), ",") + "),"
                + quoted(COMPLETE) + "," + quoted(WITH_MISSING) + ")," + reason(Reason.PART_NOT_SCORED) + ")";
        String state = working.add(
                title + " state",
                silent ? "IF(AND(" + joined(parts, p -> p.state() + "=\"\"", ",") + "),\"\"," + ifAny + ")" : ifAny);
        String value = working.add(title + " score", "IF(" + isScored(state) + "," + score + ",\"\")");
        String bounded = "IF(" + state + "=" + quoted(COMPLETE) + "," + value + ",IF(COUNT("
                + joined(parts, Scored::lowest, ",") + ")=" + parts.size() + ",";
        return new Scored(
                state,
                value,
                working.add(title + " lowest", bounded + lowest + ",\"\"))"),
                working.add(title + " highest", bounded + highest + ",\"\"))"),
                working.add(title + " unanswered", unanswered));
    }

    private static String joined(List<Scored> parts, Function<Scored, String> step, String by) {
        return parts.stream().map(step).collect(Collectors.joining(by));
    }

    /** Whether a state is that of a score. */
    static String isScored(String state) {
        return "OR(" + state + "=" + quoted(COMPLETE) + "," + state + "=" + quoted(WITH_MISSING) + ")";
    }

    private static String reason(Reason reason) {
        return quoted(reason.code());
    }

    private static String quoted(String text) {
        return ResponseFormulas.quoted(text);
    }

    private static Map<Double, List<String>> grouped(List<Term> terms, ToDoubleFunction<Term> by) {
        return terms.stream()
                .collect(Collectors.groupingBy(
                        by::applyAsDouble, LinkedHashMap::new, Collectors.mapping(Term::cell, Collectors.toList())));
    }

    private static String count(List<String> cells) {
        return "COUNT(" + ranges(cells) + ")";
    }

    private static String notAllowed(List<String> cells) {
        return StepRanges.of(cells).stream()
                .map(range -> "COUNTIF(" + range + "," + quoted(ResponseFormulas.NOT_ALLOWED) + ")")
                .collect(Collectors.joining("+"));
    }

    private static String ranges(List<String> cells) {
        return String.join(",", StepRanges.of(cells));
    }
}
