package lumbrical.change;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotSame;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.Reason;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;
import lumbrical.threshold.ExampleThreshold;
import lumbrical.threshold.ThresholdSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What of two sittings is compared: section 7 of the formats, invented instruments, worked by hand. */
class ScorePairTest {
    /** Up to five activities that the person names, 0 to 10, higher is better, two must be rated; MCID 2, PASS 6. */
    private static ExampleInstrument activities(int items) {
        return ExampleInstrument.called("activities")
                .items(items, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(2), new Range(0, 10))
                .higherIsBetter()
                .defaults("mcid", "", "pass")
                .change(ChangeRule.Kind.PAIRED_ITEMS)
                .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                        .value(2)
                        .build())
                .threshold(ExampleThreshold.called("pass", Threshold.Kind.PASS)
                        .value(6)
                        .build());
    }

    private static final Instrument ACTIVITIES = activities(5).build();

    private static ScoreResult score(Instrument instrument, Responses responses) {
        return ScoringPlan.of(instrument).score(responses, Optional.empty()).get(0);
    }

    private static ScorePair pair(Instrument first, String before, Instrument second, String after) {
        Responses a = ExampleInstrument.answers(first, before);
        Responses b = ExampleInstrument.answers(second, after);
        return ScorePair.of(second.scales().get(0), a, score(first, a), b, score(second, b));
    }

    private static Change change(Instrument first, String before, Instrument second, String after) {
        Scale scale = second.scales().get(0);
        return Change.of(scale, pair(first, before, second, after), ThresholdSet.defaultsOf(second, scale));
    }

    @ParameterizedTest
    @CsvSource({
        // rated before, rated after; means over what was rated at both, verdict, reason, own score at least 6
        "1=2 2=4 3=9, 1=5 2=7 4=0, 3, 6, important-improvement, , false", // 4 after, all counted
        "1=2 2=4, 1=2 2=4, 3, 3, no-important-change, , false",
        "1=2 2=4, 2=8 3=10, 4, 8, important-improvement, , true",
        "1=2 2=4, 3=8 4=10, , , not-assessable, not-scored, true",
        // a follow-up that is not scored gives nothing to compare
        "1=2 2=4, 1=9, , , not-assessable, not-scored, ",
        "1=2 2=4, 1=9 2=11, , , not-assessable, not-scored, ",
        "1=2 2=4, 1=9 2=9 3=x, , , not-assessable, not-scored, ",
        // nor does a baseline that is not
        "1=2, 1=9 2=9, , , not-assessable, no-baseline, true",
        "1=2 2=4 3=x, 1=9 2=9, , , not-assessable, no-baseline, true",
        "1=2, 1=9, , , not-assessable, no-baseline, "
    })
    void pairedItemsAreThoseRatedAtBothSittings(
            String before, String after, Double first, Double second, String verdict, String reason, Boolean pass) {
        Change change = change(ACTIVITIES, before, ACTIVITIES, after);
        assertEquals(
                Optional.ofNullable(first), change.baseline().stream().boxed().findFirst());
        assertEquals(
                Optional.ofNullable(second), change.followUp().stream().boxed().findFirst());
        assertEquals(verdict, change.verdict().code());
        assertEquals(Optional.ofNullable(reason), change.reason().map(VerdictReason::code));
        assertEquals(Optional.ofNullable(pass), change.acceptableState());
        assertEquals(
                first == null ? Optional.empty() : Optional.of(new Range(second - first, second - first)),
                change.improvementBounds());
    }

    @Test
    void pairedItemsLookAtTheItemsOfTheScaleAlone() {
        Instrument two = ExampleInstrument.called("activities")
                .items(3, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(1), new Range(0, 10), "1", "2")
                .change(ChangeRule.Kind.PAIRED_ITEMS)
                .build();
        Change change = change(two, "1=8 3=0", two, "1=5 3=10");
        assertEquals(OptionalDouble.of(8), change.baseline());
        assertEquals(OptionalDouble.of(3), change.improvement());
    }

    private static ExampleInstrument level() {
        return ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .defaults("mcid", "", "")
                .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                        .value(20)
                        .build());
    }

    /** The definitions of two catalogues state the same and are two objects: 80 to 30 is an important improvement of 50. */
    @Test
    void copiesOfOneDefinitionBelongTogether() {
        Instrument first = level().build();
        Instrument second = level().build();
        assertNotSame(first, second);
        Change change = change(first, "1=80 2=80", second, "1=30 2=30");
        assertEquals(Verdict.IMPORTANT_IMPROVEMENT, change.verdict());
        assertEquals(OptionalDouble.of(50), change.improvement());
        Change paired = change(activities(5).build(), "1=2 2=4", activities(5).build(), "1=5 2=7");
        assertEquals(Verdict.IMPORTANT_IMPROVEMENT, paired.verdict());
        assertEquals(OptionalDouble.of(3), paired.improvement());
    }

    @Test
    void twoVersionsOfADefinitionDoNot() {
        Change change = change(level().version("2").build(), "1=80 2=80", level().build(), "1=30 2=30");
        assertEquals(Optional.of(VerdictReason.DIFFERENT_VERSIONS), change.reason());
        assertEquals(Verdict.NOT_ASSESSABLE, change.verdict());
        assertEquals(OptionalDouble.empty(), change.improvement());
        assertEquals(OptionalDouble.empty(), change.change());
        assertEquals(Optional.empty(), change.improvementBounds());
        assertEquals(OptionalDouble.of(80), change.baseline());
        assertEquals(OptionalDouble.of(30), change.followUp());
    }

    /** The later version asks more items than the earlier has columns; each score stands for itself. */
    @Test
    void twoVersionsOfPairedItemsAreNotCompared() {
        Change change = change(activities(3).version("2").build(), "1=2 2=4", ACTIVITIES, "1=5 2=7 5=9");
        assertEquals(Optional.of(VerdictReason.DIFFERENT_VERSIONS), change.reason());
        assertEquals(OptionalDouble.of(3), change.baseline());
        assertEquals(OptionalDouble.of(7), change.followUp());
        assertEquals(OptionalDouble.empty(), change.improvement());
    }

    @Test
    void twoInstrumentsOrScalesAreRefused() {
        Instrument two = ExampleInstrument.called("two")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("a", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100), "1")
                .scale("b", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100), "2")
                .build();
        assertEquals(
                "Responses to level@3 are never set against responses to two@3",
                assertThrows(IllegalArgumentException.class, () -> pair(two, "1=80 2=80", level().build(), "1=30 2=30"))
                        .getMessage());
        Responses responses = ExampleInstrument.answers(two, "1=1 2=2");
        ScoreResult a = ScoringPlan.of(two).score(responses, Optional.empty()).get(0);
        ScoreResult b = ScoringPlan.of(two).score(responses, Optional.empty()).get(1);
        assertEquals(
                "A score of b is never set against one of a",
                assertThrows(IllegalArgumentException.class, () -> ScorePair.of(two, a, b))
                        .getMessage());
    }

    private static ScoreResult result(String definition, String scale, Optional<Side> hand, double value) {
        return new ScoreResult.Scored(
                definition, new ScaleId(scale), hand, value, 1, 1, new Range(value, value), Optional.empty());
    }

    @Test
    void scoresOfTwoInstrumentsHandsOrKindsAreNeverSetAgainstEachOther() {
        Instrument level = level().build();
        ScoreResult good = result("level@3", "total", Optional.empty(), 40);
        for (ScoreResult other : List.of(
                result("levels@3", "total", Optional.empty(), 50), result("other@3", "total", Optional.empty(), 50))) {
            assertEquals(
                    "A score of " + other.definition() + " is never set against one of level@3",
                    assertThrows(IllegalArgumentException.class, () -> ScorePair.of(level, good, other))
                            .getMessage());
            assertThrows(IllegalArgumentException.class, () -> ScorePair.of(level, other, good));
        }
        ScoreResult right = result("level@3", "total", Optional.of(Side.RIGHT), 40);
        ScoreResult left = result("level@3", "total", Optional.of(Side.LEFT), 60);
        assertEquals(
                "A score of hand left is never set against one of hand right",
                assertThrows(IllegalArgumentException.class, () -> ScorePair.of(level, right, left))
                        .getMessage());
        assertThrows(IllegalArgumentException.class, () -> ScorePair.of(level, right, good));
        ScoreResult noScale = result("level@3", "none", Optional.empty(), 40);
        assertThrows(IllegalArgumentException.class, () -> ScorePair.of(level, noScale, noScale));
        assertEquals(
                "activities@3 compares the items rated at both sittings; the responses of both are needed",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> ScorePair.of(
                                        ACTIVITIES,
                                        result("activities@3", "total", Optional.empty(), 2),
                                        result("activities@3", "total", Optional.empty(), 5)))
                        .getMessage());
    }

    @Test
    void twoVersionsOfADefinitionAreToldApart() {
        Instrument level = level().build();
        ScorePair pair = ScorePair.of(
                level,
                result("level@2", "total", Optional.empty(), 40),
                result("level@3", "total", Optional.empty(), 50));
        assertEquals(true, pair.differentVersions());
        Scale scale = level.scales().get(0);
        assertEquals(
                OptionalDouble.empty(),
                Change.of(scale, pair, ThresholdSet.defaultsOf(level, scale)).improvement());
    }

    @Test
    void aResultIsOneOfItsSitting() {
        Instrument level = level().build();
        Scale scale = level.scales().get(0);
        Responses responses = ExampleInstrument.answers(level, "1=80 2=80");
        ScoreResult own = score(level, responses);
        ScoreResult foreign = result("level@2", "total", Optional.empty(), 40);
        assertEquals(
                "A result of level@2 total is none of level@3 total",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> ScorePair.of(scale, responses, own, responses, foreign))
                        .getMessage());
        assertThrows(IllegalArgumentException.class, () -> ScorePair.of(scale, responses, foreign, responses, own));
        assertThrows(
                IllegalArgumentException.class,
                () -> ScorePair.of(ACTIVITIES.scales().get(0).toBuilder().build(), responses, foreign, responses, own));
    }

    @Test
    void aScaleOfAnotherInstrumentHasNoThresholdsHereAndTakesNoScoresOfThis() {
        Instrument level = level().build();
        Scale foreign = ACTIVITIES.scales().get(0);
        assertEquals(
                "The scale total given is not that of level@3",
                assertThrows(IllegalArgumentException.class, () -> ThresholdSet.defaultsOf(level, foreign))
                        .getMessage());
        ScoreResult forty = result("level@3", "total", Optional.empty(), 40);
        ScorePair pair = ScorePair.of(level, forty, forty);
        ThresholdSet none = ThresholdSet.defaultsOf(ACTIVITIES, foreign);
        assertEquals(
                "A score of 40 lies outside the range of total, 0 to 10",
                assertThrows(IllegalArgumentException.class, () -> Change.of(foreign, pair, none))
                        .getMessage());
    }

    @Test
    void aScoreAndAReasonAreMeasuredAsTheyAre() {
        Instrument level = level().build();
        ScoreResult gap = score(level, ExampleInstrument.answers(level, "1=80"));
        ScoreResult wrong = score(level, ExampleInstrument.answers(level, "1=101"));
        assertEquals(Optional.of(Reason.RESPONSE_NOT_ALLOWED), wrong.reason());
        ScorePair pair = ScorePair.of(level, gap, wrong);
        assertEquals(
                new ScorePair.Measured(OptionalDouble.of(80), Optional.of(new Range(40, 90))),
                pair.baseline().orElseThrow());
        assertEquals(new ScorePair.Measured(OptionalDouble.empty(), Optional.empty()), pair.followUp());
        ScorePair alone = ScorePair.withoutBaseline(gap);
        assertEquals(Optional.empty(), alone.baseline());
        assertEquals(OptionalDouble.of(80), alone.followUp().score());
        assertEquals(OptionalDouble.of(80), alone.state());
    }
}
