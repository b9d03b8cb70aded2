package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.threshold.ExampleThreshold;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** A follow-up against its baseline: the rules of section 7 of the formats, with invented thresholds, worked by hand. */
class ChangeJudgeTest {
    /** Mean of two marks from 0 to 100, at least one answered; MCID 20, MDC 30, PASS 40. */
    private static ExampleInstrument level() {
        return ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .defaults("mcid", "mdc", "pass")
                .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                        .value(20)
                        .study("a")
                        .build())
                .threshold(ExampleThreshold.called("mdc", Threshold.Kind.MDC)
                        .value(30)
                        .build())
                .threshold(ExampleThreshold.called("pass", Threshold.Kind.PASS)
                        .value(40)
                        .build())
                .threshold(ExampleThreshold.called("bound", Threshold.Kind.MCID)
                        .value(5)
                        .study("b")
                        .boundTo("fresh fracture")
                        .build());
    }

    private static final Instrument LOWER = level().build();
    private static final Instrument HIGHER = level().higherIsBetter().build();

    private static ExampleClinic clinic(Instrument instrument, String before, String after) {
        return new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, instrument, before)
                .sitting(42, instrument, after);
    }

    private static String both(double value) {
        return "1=" + value + " 2=" + value;
    }

    private static Instrument running(String way) {
        return way.equals("lower") ? LOWER : HIGHER;
    }

    @ParameterizedTest
    @CsvSource({
        // improvement, MCID, MDC (blank: none known), verdict
        "20, 20, 20, IMPORTANT_IMPROVEMENT", "20, 20, 20.1, IMPROVEMENT_WITHIN_ERROR",
        "19.9, 20, 10, NO_IMPORTANT_CHANGE", "0, 20, 10, NO_IMPORTANT_CHANGE",
        "-19.9, 20, 10, NO_IMPORTANT_CHANGE", "-20, 20, 20.1, WORSENING_WITHIN_ERROR",
        "-20, 20, 20, IMPORTANT_WORSENING", "35, 20, 30, IMPORTANT_IMPROVEMENT",
        "20, 20, , IMPORTANT_IMPROVEMENT", "-20, 20, , IMPORTANT_WORSENING",
        "10, 20, , NO_IMPORTANT_CHANGE"
    })
    void theVerdict(double improvement, double mcid, Double mdc, Change.Verdict verdict) {
        OptionalDouble error = mdc == null ? OptionalDouble.empty() : OptionalDouble.of(mdc);
        assertEquals(verdict, ChangeJudge.verdict(improvement, mcid, error));
    }

    @ParameterizedTest
    @CsvSource({
        // scale, before, after; change, improvement, verdict, room for the MCID, PASS (40) reached
        "lower, 80, 50, -30, 30, IMPORTANT_IMPROVEMENT, true, false",
        "lower, 80, 60, -20, 20, IMPROVEMENT_WITHIN_ERROR, true, false",
        "lower, 20, 40, 20, -20, WORSENING_WITHIN_ERROR, true, true",
        "lower, 19, 49, 30, -30, IMPORTANT_WORSENING, false, false",
        "lower, 50, 39, -11, 11, NO_IMPORTANT_CHANGE, true, true",
        "higher, 50, 80, 30, 30, IMPORTANT_IMPROVEMENT, true, true",
        "higher, 60, 80, 20, 20, IMPROVEMENT_WITHIN_ERROR, true, true",
        "higher, 80, 60, -20, -20, WORSENING_WITHIN_ERROR, true, true",
        "higher, 81, 39, -42, -42, IMPORTANT_WORSENING, false, false",
        "higher, 50, 40, -10, -10, NO_IMPORTANT_CHANGE, true, true"
    })
    void improvementIsPositiveWhicheverWayTheScaleRuns(
            String way,
            double before,
            double after,
            double change,
            double improvement,
            Change.Verdict verdict,
            boolean couldReach,
            boolean acceptable) {
        Change judged = clinic(running(way), both(before), both(after)).onlyChange();
        assertEquals(OptionalDouble.of(before), judged.baselineScore());
        assertEquals(OptionalDouble.of(change), judged.change());
        assertEquals(OptionalDouble.of(improvement), judged.improvement());
        assertEquals(Optional.of(new Range(improvement, improvement)), judged.improvementBounds());
        assertEquals(verdict, judged.verdict());
        assertEquals(Optional.empty(), judged.whyNotAssessable());
        assertEquals(Optional.of(true), judged.certain());
        assertEquals(Optional.of(couldReach), judged.couldReach());
        assertEquals(Optional.of(acceptable), judged.acceptableState());
        assertEquals(Optional.of("mcid"), judged.mcid().map(Threshold::id));
        assertEquals(Optional.of("mdc"), judged.mdc().map(Threshold::id));
        assertEquals(Optional.of("pass"), judged.pass().map(Threshold::id));
    }

    /** Before 80, possible 40 to 90; after 50, possible 25 to 75: lower better -35 to 65, higher better -65 to 35. */
    @ParameterizedTest
    @CsvSource({"lower, -35, 65", "higher, -65, 35"})
    void gapsOfBothSittingsWidenTheImprovement(String way, double low, double high) {
        Change change = clinic(running(way), "1=80", "1=50").onlyChange();
        assertEquals(Optional.of(new Range(low, high)), change.improvementBounds());
        assertEquals(Optional.of(false), change.certain());
        assertEquals(
                way.equals("lower") ? Change.Verdict.IMPORTANT_IMPROVEMENT : Change.Verdict.IMPORTANT_WORSENING,
                change.verdict());
    }

    /** On a scale from 1 to 5 a baseline of 2 leaves 1 to the best end when lower is better, one of 3 leaves 2 either way. */
    @ParameterizedTest
    @CsvSource({"lower, 2, false", "lower, 3, true", "higher, 4, false", "higher, 3, true"})
    void theRoomIsCountedFromTheBestEndOfTheScale(String way, double before, boolean couldReach) {
        ExampleInstrument made = ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(1, 5))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(1, 5))
                .defaults("mcid", "", "")
                .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                        .value(1.5)
                        .build());
        Instrument instrument =
                way.equals("lower") ? made.build() : made.higherIsBetter().build();
        assertEquals(
                Optional.of(couldReach),
                clinic(instrument, both(before), both(3)).onlyChange().couldReach());
    }

    @Test
    void ofThePublishedMcidsThoseOfTheEpisodesConditionCount() {
        ExampleClinic plain = clinic(LOWER, both(80), both(70));
        assertEquals(Optional.of(new Change.Met(0, 1)), plain.onlyChange().mcidMet());
        Change fracture = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1").condition("Fresh fracture"))
                .sitting(-1, LOWER, both(80))
                .sitting(42, LOWER, both(70))
                .onlyChange();
        assertEquals(Optional.of(new Change.Met(1, 2)), fracture.mcidMet());
        assertEquals(
                Optional.of(new Change.Met(1, 1)),
                clinic(LOWER, both(80), both(60)).onlyChange().mcidMet());
    }

    private static void assertNotAssessable(String why, Change change) {
        assertEquals(Change.Verdict.NOT_ASSESSABLE, change.verdict());
        assertEquals(Optional.of(why), change.whyNotAssessable());
        assertEquals(Optional.empty(), change.certain());
    }

    @Test
    void withoutABaselineOnlyTheStateIsKnown() {
        Change change = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(42, LOWER, both(40))
                .onlyChange();
        assertNotAssessable("no baseline score", change);
        assertEquals(OptionalDouble.empty(), change.baselineScore());
        assertEquals(OptionalDouble.empty(), change.change());
        assertEquals(OptionalDouble.empty(), change.improvement());
        assertEquals(Optional.empty(), change.improvementBounds());
        assertEquals(Optional.empty(), change.mcidMet());
        assertEquals(Optional.empty(), change.couldReach());
        assertEquals(Optional.of(true), change.acceptableState());
    }

    @Test
    void aFollowUpWithoutAScoreKeepsTheBaseline() {
        Change change = clinic(LOWER, both(80), "1=101").onlyChange();
        assertNotAssessable("follow-up not scored", change);
        assertEquals(OptionalDouble.of(80), change.baselineScore());
        assertEquals(OptionalDouble.empty(), change.change());
        assertEquals(Optional.empty(), change.acceptableState());
        assertEquals(false, change.used());
    }

    @Test
    void withoutAnMcidTheChangeIsShownAndNotJudged() {
        Instrument bare = ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .build();
        Change change = clinic(bare, both(80), both(40)).onlyChange();
        assertNotAssessable("no MCID known", change);
        assertEquals(OptionalDouble.of(40), change.improvement());
        assertEquals(Optional.empty(), change.couldReach());
        assertEquals(Optional.of(new Change.Met(0, 0)), change.mcidMet());
        assertEquals(Optional.empty(), change.acceptableState());
    }

    @ParameterizedTest
    @CsvSource({"41, 'too early, before day 42'", "42, ", "43, "})
    void tooEarlyByTheDefinition(int day, String why) {
        Instrument early = level().noVerdictBefore(42).build();
        Change change = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, early, both(80))
                .sitting(day, early, both(40))
                .onlyChange();
        assertEquals(Optional.ofNullable(why), change.whyNotAssessable());
        assertEquals(OptionalDouble.of(40), change.improvement());
    }

    @Test
    void tooEarlyByTheSchedule() {
        Visit baseline = ExampleClinic.visit("before", 0, -90, 0, Visit.Role.BASELINE);
        Visit early = new Visit("early", 14, 1, 27, Visit.Role.FOLLOW_UP, List.of(), false);
        Visit late = new Visit("late", 42, 28, 59, Visit.Role.FOLLOW_UP, List.of(), true);
        List<Change> changes = new ExampleClinic()
                .schedule(baseline, early, late)
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, LOWER, both(80))
                .sitting(14, LOWER, both(40))
                .sitting(42, LOWER, both(40))
                .look()
                .changes();
        assertNotAssessable("too early by the schedule", changes.get(0));
        assertEquals(Optional.empty(), changes.get(1).whyNotAssessable());
    }

    /** Up to five activities that the person names, 0 to 10, higher is better; MCID 2. */
    private static final Instrument NAMED_ACTIVITIES = ExampleInstrument.called("activities")
            .items(5, ExampleInstrument.codes(0, 10))
            .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(1), new Range(0, 10))
            .higherIsBetter()
            .defaults("mcid", "", "")
            .change(ChangeRule.Kind.PAIRED_ITEMS)
            .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                    .value(2)
                    .build())
            .build();

    /** Rated before 2, 4 and 9, after 5, 7 and 0: only items 1 and 2 stand in both, 3 before and 6 after. */
    @Test
    void pairedItemsCompareTheActivitiesRatedAtBothSittings() {
        Change change = clinic(NAMED_ACTIVITIES, "1=2 2=4 3=9", "1=5 2=7 4=0").onlyChange();
        assertEquals(OptionalDouble.of(3), change.baselineScore());
        assertEquals(OptionalDouble.of(3), change.change());
        assertEquals(OptionalDouble.of(3), change.improvement());
        assertEquals(Optional.of(new Range(3, 3)), change.improvementBounds());
        assertEquals(Change.Verdict.IMPORTANT_IMPROVEMENT, change.verdict());
        assertEquals(Optional.of(true), change.couldReach());
        assertEquals(4.0, change.followUp().result().scored().orElseThrow().value()); // the score itself stays
    }

    @Test
    void pairedItemsWithoutACommonActivityAreNotAssessable() {
        Change change = clinic(NAMED_ACTIVITIES, "1=2", "2=7").onlyChange();
        assertNotAssessable("no item rated at both sittings", change);
        assertEquals(OptionalDouble.empty(), change.improvement());
        assertEquals(OptionalDouble.of(2), change.baselineScore());
    }

    @Test
    void pairedItemsLookAtTheItemsOfTheScaleAlone() {
        Instrument two = ExampleInstrument.called("activities")
                .items(3, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(1), new Range(0, 10), "1", "2")
                .change(ChangeRule.Kind.PAIRED_ITEMS)
                .build();
        Change change = clinic(two, "1=8 3=0", "1=5 3=10").onlyChange();
        assertEquals(OptionalDouble.of(8), change.baselineScore());
        assertEquals(OptionalDouble.of(3), change.improvement());
    }

    @Test
    void aRatingOfChangeIsNotItselfCompared() {
        Instrument rating = ExampleInstrument.called("rating")
                .items(1, ExampleInstrument.codes(-7, 7))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(-7, 7))
                .change(ChangeRule.Kind.NONE)
                .build();
        ExampleClinic clinic = clinic(rating, "1=0", "1=5");
        assertEquals(List.of(), clinic.look().changes());
        assertEquals(List.of(), clinic.problems());
        assertEquals(
                List.of(AssignedScore.Use.BASELINE, AssignedScore.Use.FOLLOW_UP),
                clinic.look().scores().stream()
                        .map(s -> s.placement().orElseThrow().use())
                        .toList());
    }

    @Test
    void anEpisodeTreatsOneSide() {
        Episode right = ExampleEpisode.called("E1").build();
        assertEquals(
                "An episode treats one side; episodes.csv row 2 says both",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new Episode(
                                        "P1",
                                        "E1",
                                        Side.BOTH,
                                        right.indexDate(),
                                        right.dominantSide(),
                                        right.sex(),
                                        right.birthYear(),
                                        right.condition(),
                                        right.procedure(),
                                        right.forms(),
                                        right.closure(),
                                        true,
                                        right.carried(),
                                        right.place()))
                        .getMessage());
    }
}
