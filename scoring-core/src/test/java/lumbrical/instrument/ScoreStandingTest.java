package lumbrical.instrument;

import static lumbrical.scoring.ExampleInstrument.FROM_MEMORY;
import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static lumbrical.scoring.ExampleInstrument.SECOND_HAND;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The order of standings is that of section 5 of the formats: from memory, ours, second-hand, published. */
class ScoreStandingTest {
    private static final Range RANGE = new Range(0, 4);

    @ParameterizedTest
    @CsvSource({
        "PUBLISHED, PUBLISHED, PUBLISHED", "PUBLISHED, SECOND_HAND, SECOND_HAND", "SECOND_HAND, OURS, OURS",
        "OURS, FROM_MEMORY, FROM_MEMORY", "PUBLISHED, FROM_MEMORY, FROM_MEMORY", "OURS, OURS, OURS"
    })
    void theWeakerOfTwo(Standing a, Standing b, Standing weaker) {
        assertEquals(weaker, a.weaker(b));
        assertEquals(weaker, b.weaker(a));
    }

    private static ResponseSet codes(Provenance provenance) {
        return ExampleInstrument.codes(provenance, 0, 1);
    }

    private static Instrument instrument() {
        return ExampleInstrument.called("example10")
                .item("1", codes(PUBLISHED))
                .item("2", codes(PUBLISHED))
                .item("3", codes(SECOND_HAND))
                .scale(
                        "published",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.atLeast(1, FROM_MEMORY),
                        RANGE,
                        "1",
                        "2")
                .scale("codes", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.atLeast(1, OURS), RANGE, "1", "3")
                .scale("formula", new ItemRule.Sum(1, OURS), ExampleInstrument.atLeast(1, PUBLISHED), RANGE, "1", "3")
                .scale(
                        "skipping",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.atLeast(1, PUBLISHED),
                        RANGE,
                        "1",
                        "2")
                .skip("1", 1, 0, FROM_MEMORY)
                .parts("parts", new PartRule.SumOfParts(PUBLISHED), RANGE, "published", "codes")
                .parts("weak-parts", new PartRule.SumOfParts(FROM_MEMORY), RANGE, "published", "codes")
                .build();
    }

    @ParameterizedTest
    @CsvSource({
        "published, PUBLISHED, FROM_MEMORY",
        "codes, SECOND_HAND, OURS",
        "formula, OURS, OURS",
        "skipping, FROM_MEMORY, FROM_MEMORY",
        "parts, SECOND_HAND, FROM_MEMORY",
        "weak-parts, FROM_MEMORY, FROM_MEMORY"
    })
    void theWeakestOfWhatAScoreRestsOn(String scale, Standing complete, Standing withMissing) {
        Instrument instrument = instrument();
        Scale of = instrument.scale(new ScaleId(scale)).orElseThrow();
        assertEquals(complete, ScoreStanding.of(instrument, of, false));
        assertEquals(withMissing, ScoreStanding.of(instrument, of, true));
    }

    @Test
    void aScaleOfAnotherInstrumentIsRefused() {
        Instrument other = ExampleInstrument.called("example11")
                .item("1", codes(PUBLISHED))
                .scale("only", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 1))
                .build();
        Scale parts = instrument().scale(new ScaleId("parts")).orElseThrow();
        assertEquals(
                "example11@3 has no scale published",
                assertThrows(IllegalArgumentException.class, () -> ScoreStanding.of(other, parts, false))
                        .getMessage());
    }

    /** Codes and formula second-hand; averaging the hands published, ours, or stated by nobody. */
    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {
                "OURS, RIGHT, SECOND_HAND",
                "OURS, -, SECOND_HAND",
                "OURS, BOTH, OURS",
                "PUBLISHED, BOTH, SECOND_HAND",
                "-, BOTH, SECOND_HAND"
            })
    void ofBothHandsTheAveragingCountsToo(Standing averaging, Side hand, Standing weakest) {
        ExampleInstrument made = ExampleInstrument.called("example10")
                .itemPerHand("p", codes(SECOND_HAND))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), RANGE);
        Optional.ofNullable(averaging).ifPresent(s -> made.handsAveraged(new Provenance(s, "paper")));
        Instrument instrument = made.build();
        assertEquals(
                weakest, ScoreStanding.of(instrument, instrument.scales().get(0), Optional.ofNullable(hand), false));
    }

    private static List<String> main(List<Scale> scales) {
        return Scale.mainOf(scales).stream().map(s -> s.id().value()).toList();
    }

    private static Scale.Builder scale(String id) {
        Scale any = instrument().scales().get(0);
        return Scale.builder(new ScaleId(id), id, any.composition(), any.range(), any.metric());
    }

    @Test
    void aSummarySpeaksOfTheMarkedScalesOrTheTotalOrAllThatAreNotOptional() {
        Scale a = scale("a").build();
        Scale module = scale("module").optional(true).build();
        Scale step = scale("step").reported(false).build();
        Scale total = scale("total").build();
        assertEquals(List.of("a"), main(List.of(a, module, step)));
        assertEquals(List.of("total"), main(List.of(a, module, total)));
        assertEquals(
                List.of("module"), main(List.of(a, scale("module").main(true).build(), total)));
    }

    @Test
    void aBuilderStartsLawfulAndMadeFromAScaleOrThresholdMakesItAgain() {
        Scale bare = scale("bare").build();
        assertEquals(Direction.LOWER, bare.better());
        assertEquals(true, bare.reported());
        Scale full = scale("full")
                .better(Direction.HIGHER)
                .optional(true)
                .main(true)
                .noVerdictBefore(Optional.of(new Scale.NoVerdictBefore(3, "why", OURS)))
                .defaults(Optional.of(new Scale.Defaults(Optional.of("a"), Optional.empty(), Optional.empty(), "why")))
                .conditionDefaults(List.of(new Scale.ConditionDefaults(
                        "c", new Scale.Defaults(Optional.of("b"), Optional.empty(), Optional.empty(), "why"))))
                .build();
        assertEquals(full, full.toBuilder().build());
        Threshold threshold = Threshold.builder(
                        "t",
                        new ScaleId("full"),
                        Threshold.Kind.MDC,
                        Metric.SUM,
                        new Provenance(Standing.PUBLISHED, "p"))
                .build();
        assertEquals("p", threshold.study());
        assertEquals(true, threshold.selectable());
        Threshold all = threshold.toBuilder()
                .value(3)
                .ends(Optional.of(RANGE))
                .interval(Optional.of(new Threshold.Interval(1, 2, 95)))
                .sd(java.util.OptionalDouble.of(1))
                .level(java.util.OptionalInt.of(90))
                .better(Direction.HIGHER)
                .population("some", Threshold.Group.OTHER)
                .condition(Optional.of("word"))
                .conditions(List.of("c"))
                .treatment(Optional.of("splint"))
                .baseline(Optional.of(Threshold.Baseline.NOT_STATED))
                .n(java.util.OptionalInt.of(7))
                .method("anchor")
                .followUp(Optional.of("a year"))
                .study("s")
                .recommended(true)
                .ofOneItem(true)
                .selectable(false, Optional.of("no"))
                .note(Optional.of("read"))
                .build();
        assertEquals(all, all.toBuilder().build());
        assertEquals("not stated", all.baseline().orElseThrow().words());
    }
}
