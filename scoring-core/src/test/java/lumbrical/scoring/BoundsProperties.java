package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Range;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.EdgeCasesMode;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;

/**
 * Score and bounds of any small instrument against the plainest computation there is: the mean is written into each gap, and
 * for the bounds every code is tried in every gap.
 */
class BoundsProperties {
    /** One item as asked and answered; a blank is NaN. */
    record Asked(double[] codes, boolean reversed, double response) {
        double used(double code) {
            return reversed ? codes[0] + codes[codes.length - 1] - code : code;
        }
    }

    /** Rules of the instrument; the table is made to fit its items. */
    record Form(List<Asked> items, String rule, int required, int skipAt, double skipScore) {
        boolean skips() {
            return skipAt < items.size() && items.get(skipAt).codes().length > 1;
        }

        double skipCode() {
            return items.get(skipAt).codes()[skipAt % items.get(skipAt).codes().length];
        }
    }

    @Provide
    Arbitrary<Asked> anItem() {
        Arbitrary<double[]> codes = Arbitraries.integers()
                .between(-2, 5)
                .set()
                .ofMinSize(1)
                .ofMaxSize(4)
                .map(set -> set.stream().mapToDouble(i -> i).sorted().toArray());
        return Combinators.combine(
                        codes,
                        Arbitraries.of(true, false),
                        Arbitraries.integers().between(0, 6))
                .as((c, reversed, pick) -> new Asked(c, reversed, pick < c.length ? c[pick] : Double.NaN));
    }

    @Provide
    Arbitrary<Form> forms() {
        Arbitrary<String> rules = Arbitraries.of(
                "sum",
                "sum 4",
                "mean",
                "rescaled-mean 1 25",
                "rescaled-mean 5 -20",
                "rescaled-sum -3 9",
                "rescaled-sum 12 2",
                "table 1",
                "table -2");
        return Combinators.combine(
                        anItem().list().ofMinSize(1).ofMaxSize(4),
                        rules,
                        Arbitraries.integers().between(1, 4),
                        Arbitraries.integers().between(0, 7),
                        Arbitraries.of(-1.5, 0.0, 2.0, 40.0))
                .as(Form::new);
    }

    private static ItemRule rule(Form form) {
        if (!form.rule().startsWith("table")) {
            return RulesTest.rule(form.rule());
        }
        double step = Double.parseDouble(form.rule().substring(6));
        int low = (int) form.items().stream().mapToDouble(i -> i.codes()[0]).sum();
        int high = (int) form.items().stream()
                .mapToDouble(i -> i.codes()[i.codes().length - 1])
                .sum();
        List<ItemRule.Table.Row> rows = new ArrayList<>();
        for (int raw = low; raw <= Math.max(high, low + 1); raw++) {
            rows.add(new ItemRule.Table.Row(raw, 50 + step * raw, OptionalDouble.empty()));
        }
        return new ItemRule.Table(rows, PUBLISHED);
    }

    private static Instrument instrument(Form form) {
        ExampleInstrument made = ExampleInstrument.called("example10");
        String[] names = new String[form.items().size()];
        for (int i = 0; i < names.length; i++) {
            Asked asked = form.items().get(i);
            made.item(String.valueOf(i), ExampleInstrument.codes(PUBLISHED, asked.codes()));
            names[i] = (asked.reversed() ? "-" : "") + i;
        }
        ItemRule rule = rule(form);
        MissingRule missing = rule instanceof ItemRule.Table
                ? ExampleInstrument.noneMissing()
                : ExampleInstrument.atLeast(form.required());
        made.scale("total", rule, missing, new Range(-1000, 1000), names);
        if (form.skips()) {
            made.skip(String.valueOf(form.skipAt()), form.skipCode(), form.skipScore(), PUBLISHED);
        }
        return made.build();
    }

    /** The formula as docs/definitions.md states it, with every item filled. */
    private static double formula(ItemRule rule, double[] used) {
        double sum = DoubleStream.of(used).sum();
        if (rule instanceof ItemRule.Sum r) {
            return sum / r.dividedBy();
        } else if (rule instanceof ItemRule.Mean) {
            return sum / used.length;
        } else if (rule instanceof ItemRule.RescaledMean r) {
            return (sum / used.length - r.minus()) * r.times();
        } else if (rule instanceof ItemRule.RescaledSum r) {
            return 100 * (sum - r.zeroAt()) / (r.hundredAt() - r.zeroAt());
        }
        return ((ItemRule.Table) rule)
                .rows().stream()
                        .filter(row -> row.raw() == sum)
                        .findFirst()
                        .orElseThrow()
                        .score();
    }

    /** The mean of the answered, after reversing, written into each gap. */
    private static double withGapsFilled(Form form, ItemRule rule) {
        double mean = form.items().stream()
                .filter(i -> !Double.isNaN(i.response()))
                .mapToDouble(i -> i.used(i.response()))
                .average()
                .orElseThrow();
        return formula(
                rule,
                form.items().stream()
                        .mapToDouble(i -> Double.isNaN(i.response()) ? mean : i.used(i.response()))
                        .toArray());
    }

    /** The score of every way to fill the gaps. */
    private static DoubleStream everyWay(Form form, ItemRule rule, double[] filled, int at) {
        if (at == filled.length) {
            boolean skipped = form.skips() && filled[form.skipAt()] == form.skipCode();
            double[] used = new double[filled.length];
            Arrays.setAll(used, i -> form.items().get(i).used(filled[i]));
            return DoubleStream.of(skipped ? form.skipScore() : formula(rule, used));
        }
        Asked asked = form.items().get(at);
        double[] options = Double.isNaN(asked.response()) ? asked.codes() : new double[] {asked.response()};
        return DoubleStream.of(options).flatMap(code -> {
            double[] next = filled.clone();
            next[at] = code;
            return everyWay(form, rule, next, at + 1);
        });
    }

    /** Responses that a reader has held against the items score as all others do. */
    @Property(edgeCases = EdgeCasesMode.NONE)
    void responsesKnownToBeAllowedScoreTheSame(@ForAll("forms") Form form) {
        ScoringPlan plan = ScoringPlan.of(instrument(form));
        double[] responses = form.items().stream().mapToDouble(Asked::response).toArray();
        ScoreBuffer looked = plan.newBuffer();
        ScoreBuffer known = plan.newBuffer();
        plan.scoreInto(responses, 0, false, looked);
        plan.scoreAllowedInto(responses, 0, false, known);
        assertArrayEquals(looked.outcome, known.outcome);
        assertArrayEquals(looked.reason, known.reason);
        assertArrayEquals(looked.value, known.value);
        assertArrayEquals(looked.low, known.low);
        assertArrayEquals(looked.high, known.high);
        assertArrayEquals(looked.items, known.items);
        assertArrayEquals(looked.answered, known.answered);
        assertArrayEquals(looked.standardError, known.standardError);
    }

    @Property(edgeCases = EdgeCasesMode.NONE)
    void scoreAndBoundsAreWhatTryingEveryCodeGives(@ForAll("forms") Form form) {
        Instrument instrument = instrument(form);
        ItemRule rule = rule(form);
        double[] responses = form.items().stream().mapToDouble(Asked::response).toArray();
        ScoreResult result = ScoringPlan.of(instrument)
                .score(Responses.of(instrument, responses), Optional.empty(), RequestedColumns.form(instrument))
                .get(0);
        int answered =
                (int) DoubleStream.of(responses).filter(r -> !Double.isNaN(r)).count();
        int items = form.items().size();
        int required = rule instanceof ItemRule.Table ? items : Math.min(items, form.required());
        boolean skipped = form.skips() && responses[form.skipAt()] == form.skipCode();
        OptionalDouble expected = OptionalDouble.empty();
        if (skipped) {
            expected = OptionalDouble.of(form.skipScore());
        } else if (answered >= required) {
            expected = OptionalDouble.of(withGapsFilled(form, rule));
        } else {
            assertEquals(Optional.of(answered == 0 ? Reason.NO_ANSWERS : Reason.TOO_FEW_ANSWERED), result.reason());
        }
        assertEquals(expected.isPresent(), result.scored().isPresent());
        expected.ifPresent(
                score -> assertEquals(score, result.scored().orElseThrow().value(), 1e-9));
        double[] ways = everyWay(form, rule, new double[items], 0).sorted().toArray();
        // where items differ in their codes, the mean of the answered may lie beyond what a gap allows
        double low = Math.min(ways[0], expected.orElse(ways[0]));
        double high = Math.max(ways[ways.length - 1], expected.orElse(ways[0]));
        assertEquals(low, result.bounds().orElseThrow().low(), 1e-9);
        assertEquals(high, result.bounds().orElseThrow().high(), 1e-9);
        assertEquals(skipped ? 1 : items, result.items());
        assertEquals(skipped ? 1 : answered, result.answered());
    }

    /** Codes 0 to 2, a blank written as 3; scale {@code a} is the mean of two items, {@code b} the sum of two. */
    @Provide
    Arbitrary<int[]> twoAndTwo() {
        return Arbitraries.integers().between(0, 3).array(int[].class).ofSize(4);
    }

    private static double part(int[] form, int from, boolean mean) {
        double sum = form[from] + form[from + 1];
        return mean ? sum / 2 : sum;
    }

    private static double total(int[] form, boolean mean, boolean aReversed, boolean bReversed) {
        double a = aReversed ? 2 - part(form, 0, true) : part(form, 0, true);
        double b = bReversed ? 4 - part(form, 2, false) : part(form, 2, false);
        return mean ? (a + b) / 2 : a + b;
    }

    @Property
    void boundsOfAScaleOfPartsAreWhatTryingEveryCodeGives(
            @ForAll("twoAndTwo") int[] form,
            @ForAll boolean mean,
            @ForAll boolean aReversed,
            @ForAll boolean bReversed,
            @ForAll boolean gapsAllowed) {
        MissingRule missing = ExampleInstrument.atLeast(gapsAllowed ? 1 : 2);
        Instrument instrument = ExampleInstrument.called("example10")
                .items(4, ExampleInstrument.codes(0, 2))
                .scale("a", new ItemRule.Mean(PUBLISHED), missing, new Range(0, 2), "1", "2")
                .scale("b", new ItemRule.Sum(1, PUBLISHED), missing, new Range(0, 4), "3", "4")
                .parts(
                        "total",
                        mean ? new PartRule.MeanOfParts(PUBLISHED) : new PartRule.SumOfParts(PUBLISHED),
                        new Range(0, 6),
                        aReversed ? "-a" : "a",
                        bReversed ? "-b" : "b")
                .build();
        double[] responses =
                Arrays.stream(form).mapToDouble(c -> c == 3 ? Double.NaN : c).toArray();
        List<ScoreResult> results = ScoringPlan.of(instrument)
                .score(Responses.of(instrument, responses), Optional.empty(), RequestedColumns.form(instrument));
        assertEquals(3, results.size());
        ScoreResult result = results.get(2);
        List<Double> ways = new ArrayList<>();
        for (int way = 0; way < 81; way++) {
            int[] filled = form.clone();
            int rest = way;
            for (int i = 0; i < 4; i++) {
                filled[i] = filled[i] == 3 ? rest % 3 : filled[i];
                rest /= 3;
            }
            ways.add(total(filled, mean, aReversed, bReversed));
        }
        Range bounds = result.bounds().orElseThrow();
        assertEquals(ways.stream().mapToDouble(w -> w).min().orElseThrow(), bounds.low(), 1e-9);
        assertEquals(ways.stream().mapToDouble(w -> w).max().orElseThrow(), bounds.high(), 1e-9);
        int[] gapsFilled = form.clone();
        boolean everyPart = true;
        for (int from = 0; from < 4; from += 2) {
            int open = (form[from] == 3 ? 1 : 0) + (form[from + 1] == 3 ? 1 : 0);
            everyPart &= open == 0 || open == 1 && gapsAllowed;
            gapsFilled[from] = form[from] == 3 ? form[from + 1] : form[from]; // of two items the mean is the other one
            gapsFilled[from + 1] = form[from + 1] == 3 ? form[from] : form[from + 1];
        }
        assertEquals(everyPart ? Optional.empty() : Optional.of(Reason.PART_NOT_SCORED), result.reason());
        if (everyPart) {
            assertEquals(
                    total(gapsFilled, mean, aReversed, bReversed),
                    result.scored().orElseThrow().value(),
                    1e-9);
        }
        int answered = (int) Arrays.stream(form).filter(c -> c != 3).count();
        assertEquals(List.of(4, answered), List.of(result.items(), result.answered()));
    }
}
