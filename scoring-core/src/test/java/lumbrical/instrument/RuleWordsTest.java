package lumbrical.instrument;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.threshold.ExampleThreshold;
import org.junit.jupiter.api.Test;

/** Invented rules and thresholds; the words are those that a reader can redo the arithmetic from. */
class RuleWordsTest {
    private static Composition made(ItemRule rule, MissingRule missing) {
        return ExampleInstrument.called("words")
                .items(4, ExampleInstrument.codes(1, 5))
                .scale("total", rule, missing, new Range(0, 100))
                .build()
                .scales()
                .get(0)
                .composition();
    }

    private static String formula(ItemRule rule) {
        return RuleWords.formula(made(rule, ExampleInstrument.noneMissing()));
    }

    @Test
    void aFormulaCanBeRedone() {
        assertEquals("sum", formula(new ItemRule.Sum(1, PUBLISHED)));
        assertEquals("sum / 2", formula(new ItemRule.Sum(2, PUBLISHED)));
        assertEquals("mean", formula(new ItemRule.Mean(PUBLISHED)));
        assertEquals("(mean - 1) x 25", formula(new ItemRule.RescaledMean(1, 25, PUBLISHED)));
        assertEquals("100 x (sum - 4) / (20 - 4)", formula(new ItemRule.RescaledSum(4, 20, PUBLISHED)));
    }

    @Test
    void aTableSaysWhetherItHasStandardErrors() {
        List<ItemRule.Table.Row> bare = new java.util.ArrayList<>();
        List<ItemRule.Table.Row> sure = new java.util.ArrayList<>();
        for (int raw = 4; raw <= 20; raw++) {
            bare.add(new ItemRule.Table.Row(raw, 5 * raw, OptionalDouble.empty()));
            sure.add(new ItemRule.Table.Row(raw, 5 * raw, OptionalDouble.of(2)));
        }
        assertEquals("conversion table of the raw sum", formula(new ItemRule.Table(bare, PUBLISHED)));
        assertEquals(
                "conversion table of the raw sum, with standard errors", formula(new ItemRule.Table(sure, PUBLISHED)));
    }

    @Test
    void whatAnUnansweredItemDoes() {
        ItemRule mean = new ItemRule.Mean(PUBLISHED);
        assertEquals("none allowed", RuleWords.missing(made(mean, ExampleInstrument.noneMissing())));
        assertEquals(
                "at least 3 of 4; the mean of the answered stands in",
                RuleWords.missing(made(mean, ExampleInstrument.atLeast(3))));
        assertEquals(
                "items not rated do not count; at least 2", RuleWords.missing(made(mean, ExampleInstrument.rated(2))));
    }

    @Test
    void aScaleOfScalesNamesThem() {
        for (PartRule rule : List.of(new PartRule.SumOfParts(PUBLISHED), new PartRule.MeanOfParts(PUBLISHED))) {
            Composition parts = ExampleInstrument.called("words")
                    .items(2, ExampleInstrument.codes(0, 10))
                    .scale("a", new ItemRule.Mean(PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10), "1")
                    .scale("b", new ItemRule.Mean(PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10), "2")
                    .parts("total", rule, new Range(0, 20), "a", "b")
                    .build()
                    .requireScale(new ScaleId("total"))
                    .composition();
            String word = rule instanceof PartRule.SumOfParts ? "sum" : "mean";
            assertEquals(word + " of a, b", RuleWords.formula(parts));
            assertEquals("every part is needed", RuleWords.missing(parts));
        }
    }

    @Test
    void whichResponsesAreAllowedAndWhatTheyStandFor() {
        assertEquals("0, 1, 2", RuleWords.allowed(ExampleInstrument.codes(0, 2)));
        assertEquals("0 to 100, decimals too", RuleWords.allowed(ExampleInstrument.mark(0, 100)));
        assertEquals(
                "1 = none, 5 = extreme",
                RuleWords.labels(new ResponseSet.Codes(
                        "extent", List.of(1.0, 5.0), new TreeMap<>(Map.of(1.0, "none", 5.0, "extreme")), PUBLISHED)));
        assertEquals("", RuleWords.labels(ExampleInstrument.codes(0, 2)));
    }

    private static Threshold.Builder threshold(String id) {
        return ExampleThreshold.called(id, Threshold.Kind.MCID).value(3).build().toBuilder();
    }

    @Test
    void aThresholdIsANumberASpanOrNone() {
        Threshold number = threshold("n").build();
        assertEquals("3 " + number.metric().code(), ThresholdWords.value(number));
        assertEquals("", ThresholdWords.interval(number));
        Threshold span = threshold("s")
                .value(OptionalDouble.empty())
                .ends(Optional.of(new Range(2, 4.5)))
                .sd(OptionalDouble.of(1.5))
                .build();
        assertEquals("2 to 4.5 " + span.metric().code(), ThresholdWords.value(span));
        assertEquals("SD 1.5", ThresholdWords.interval(span));
        Threshold none = threshold("x")
                .value(OptionalDouble.empty())
                .interval(Optional.of(new Threshold.Interval(1, 2.5, 95)))
                .level(OptionalInt.empty())
                .build();
        assertEquals("no value", ThresholdWords.value(none));
        assertEquals("95 % 1 to 2.5", ThresholdWords.interval(none));
    }

    @Test
    void aThresholdSaysWhetherAndForWhomItIsUsed() {
        Threshold general = threshold("general").build();
        Threshold bound = threshold("bound").build();
        Threshold chosen = threshold("chosen").build();
        Threshold never =
                threshold("never").selectable(false, Optional.of("of rats")).build();
        Instrument instrument = ExampleInstrument.called("words")
                .items(1, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10))
                .defaults("general", "", "")
                .defaultsFor("trigger-finger", "bound", "", "")
                .threshold(general)
                .threshold(bound)
                .threshold(chosen)
                .threshold(never)
                .build();
        assertEquals("default", ThresholdWords.use(instrument, general));
        assertEquals("default for trigger-finger", ThresholdWords.use(instrument, bound));
        assertEquals("can be chosen", ThresholdWords.use(instrument, chosen));
        assertEquals("never used: of rats", ThresholdWords.use(instrument, never));
    }
}
