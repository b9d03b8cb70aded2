package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a plan did, so that it can be done again by hand: invented instruments, worked by hand. */
class ScaleTraceTest {
    /** Three items of 1 to 5, the second reversed, one may be missing; 1 of item 1 skips the others. */
    private static final Instrument ITEMS = ExampleInstrument.called("example10")
            .items(3, ExampleInstrument.codes(1, 5))
            .scale(
                    "total",
                    new ItemRule.Sum(1, PUBLISHED),
                    ExampleInstrument.atLeast(2),
                    new Range(3, 15),
                    "1",
                    "-2",
                    "3")
            .skip("1", 1, 3, PUBLISHED)
            .build();

    private static ScoringPlan.Traced first(Instrument instrument, ScoringOptions options, String answers) {
        return ScoringPlan.of(instrument, options)
                .trace(ExampleInstrument.answers(instrument, answers), Optional.of(Side.BOTH))
                .get(0);
    }

    private static ScaleTrace.FromItems items(ScaleTrace trace) {
        return trace.fold(new Only<ScaleTrace.FromItems>() {
            @Override
            public ScaleTrace.FromItems fromItems(ScaleTrace.FromItems items) {
                return items;
            }
        });
    }

    /** Every kind is a failure but the one that is wanted. */
    private interface Only<T> extends ScaleTrace.Kinds<T> {
        @Override
        default T fromItems(ScaleTrace.FromItems trace) {
            throw new AssertionError(trace);
        }

        @Override
        default T fromParts(ScaleTrace.FromParts trace) {
            throw new AssertionError(trace);
        }

        @Override
        default T bothHands(ScaleTrace.BothHands trace) {
            throw new AssertionError(trace);
        }
    }

    @ParameterizedTest
    @CsvSource({
        // answers; used of each item, sum, answered, unanswered, skipped: reversed 1 + 5 - 2 = 4
        "1=4 2=2 3=3, 4 4 3, 11, 3, 0, false",
        "1=4 3=3, 4 - 3, 7, 2, 1, false",
        "1=4 2=9 3=3, 4 - 3, 7, 2, 0, false",
        "1=4 2=x, 4 - -, 4, 1, 1, false",
        "1=1 3=3, 1 - 3, 4, 2, 1, true"
    })
    void itemsSayWhatEachAdded(String answers, String used, double sum, int answered, int unanswered, boolean skipped) {
        ScoringPlan.Traced traced = first(ITEMS, ScoringOptions.AS_DEFINED, answers);
        ScaleTrace.FromItems items = items(traced.trace());
        assertEquals(
                List.of(used.split(" ")),
                items.items().stream()
                        .map(i -> i.used().isPresent()
                                ? String.valueOf((int) i.used().getAsDouble())
                                : "-")
                        .toList());
        assertEquals(sum, items.sum());
        assertEquals(List.of(answered, unanswered), List.of(items.answered(), items.unanswered()));
        assertEquals(skipped, items.skipped());
        assertEquals(2, items.required());
        assertEquals(false, items.standInOff());
        assertEquals(
                ScoringPlan.of(ITEMS)
                        .score(ExampleInstrument.answers(ITEMS, answers), Optional.of(Side.BOTH))
                        .get(0),
                traced.result());
    }

    @Test
    void anItemKeepsItsResponseBesideWhatItAdded() {
        ScaleTrace.ItemUsed reversed = items(
                        first(ITEMS, ScoringOptions.AS_DEFINED, "2=2").trace())
                .items()
                .get(1);
        assertEquals(OptionalDouble.of(2), reversed.response());
        assertEquals(OptionalDouble.of(4), reversed.used());
        assertEquals(true, reversed.entered());
        assertEquals(1, reversed.column());
        assertEquals(true, reversed.item().reversed());
    }

    @Test
    void aRuleSwitchedOffAsksForAll() {
        ScaleTrace.FromItems items =
                items(first(ITEMS, new ScoringOptions(true, false), "1=4 3=3").trace());
        assertEquals(3, items.required());
        assertEquals(true, items.standInOff());
    }

    /** Part b runs from 0 to 10 and is turned round: 0 + 10 - 4 = 6. */
    @Test
    void partsSayTheirScoresAndWhatTheyAdded() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(0, 10))
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10), "1")
                .onlyStep()
                .scale("b", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10), "2")
                .onlyStep()
                .parts("total", new PartRule.SumOfParts(PUBLISHED), new Range(0, 20), "a", "-b")
                .build();
        assertEquals(
                List.of("a 3.0 3.0 0.0", "b 4.0 6.0 10.0"),
                parts(first(instrument, ScoringOptions.AS_DEFINED, "1=3 2=4")));
        assertEquals(
                List.of("a 3.0 3.0 0.0", "b none none 10.0"),
                parts(first(instrument, ScoringOptions.AS_DEFINED, "1=3")));
    }

    private static List<String> parts(ScoringPlan.Traced traced) {
        return traced.trace().fold(new Only<List<String>>() {
            @Override
            public List<String> fromParts(ScaleTrace.FromParts trace) {
                return trace.parts().stream()
                        .map(p -> p.part().scale() + " " + text(p.score()) + " " + text(p.used()) + " " + p.ends())
                        .toList();
            }
        });
    }

    private static String text(OptionalDouble value) {
        return value.isPresent() ? String.valueOf(value.getAsDouble()) : "none";
    }

    @Test
    void handsSayTheirScores() {
        Instrument instrument = ExampleInstrument.called("example10")
                .itemPerHand("p", ExampleInstrument.codes(0, 4))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4))
                .handsAveraged(OURS)
                .build();
        ScoringPlan plan = ScoringPlan.of(instrument);
        ScaleTrace both = plan.trace(
                        ExampleInstrument.answers(instrument, "p_right=1 p_left=4"), Optional.of(Side.BOTH))
                .get(2)
                .trace();
        assertEquals(new ScaleTrace.BothHands(OptionalDouble.of(1), OptionalDouble.of(4)), bothHands(both));
        ScaleTrace one = plan.trace(ExampleInstrument.answers(instrument, "p_right=1"), Optional.of(Side.BOTH))
                .get(1)
                .trace();
        assertEquals(new ScaleTrace.BothHands(OptionalDouble.of(1), OptionalDouble.empty()), bothHands(one));
        assertThrows(AssertionError.class, () -> items(both));
    }

    private static ScaleTrace.BothHands bothHands(ScaleTrace trace) {
        return trace.fold(new Only<ScaleTrace.BothHands>() {
            @Override
            public ScaleTrace.BothHands bothHands(ScaleTrace.BothHands hands) {
                return hands;
            }
        });
    }

    @Test
    void aBlankFormLeavesNoTrace() {
        assertEquals(List.of(), ScoringPlan.of(ITEMS).trace(Responses.blankForm(ITEMS), Optional.empty()));
    }
}
