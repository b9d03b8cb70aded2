package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.change.BeyondError;
import lumbrical.change.Change;
import lumbrical.change.ReachesMcid;
import lumbrical.change.Verdict;
import lumbrical.change.VerdictReason;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ExampleThreshold;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Follow-ups of a clinic against their baselines: sections 4 and 7 of the formats, invented thresholds, worked by hand. */
class AssessedChangeTest {
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
            Verdict verdict,
            boolean couldReach,
            boolean acceptable) {
        ChangeRow row = clinic(running(way), both(before), both(after)).onlyRow();
        Change judged = row.change();
        assertEquals(true, row.used());
        assertEquals(
                AssignedScore.Use.BASELINE,
                row.assessed().baseline().orElseThrow().use());
        assertEquals(OptionalDouble.of(before), judged.baseline());
        assertEquals(OptionalDouble.of(after), judged.followUp());
        assertEquals(OptionalDouble.of(change), judged.change());
        assertEquals(OptionalDouble.of(improvement), judged.improvement());
        assertEquals(Optional.of(new Range(improvement, improvement)), judged.improvementBounds());
        assertEquals(verdict, judged.verdict());
        assertEquals(Optional.empty(), judged.reason());
        assertEquals(Optional.of(false), judged.gapsCouldChangeVerdict());
        assertEquals(Optional.of(couldReach), judged.couldReach());
        assertEquals(Optional.of(acceptable), judged.acceptableState());
        assertEquals(Optional.of("mcid"), judged.thresholds().mcid().map(Threshold::id));
        assertEquals(Optional.of("mdc"), judged.thresholds().mdc().map(Threshold::id));
        assertEquals(Optional.of("pass"), judged.thresholds().pass().map(Threshold::id));
    }

    /** Before 80, possible 40 to 90; after 50, possible 25 to 75: lower better -35 to 65, higher better -65 to 35. */
    @ParameterizedTest
    @CsvSource({"lower, -35, 65", "higher, -65, 35"})
    void gapsOfBothSittingsWidenTheImprovement(String way, double low, double high) {
        Change change = clinic(running(way), "1=80", "1=50").onlyChange();
        assertEquals(Optional.of(new Range(low, high)), change.improvementBounds());
        assertEquals(Optional.of(true), change.gapsCouldChangeVerdict());
        assertEquals(
                way.equals("lower") ? Verdict.IMPORTANT_IMPROVEMENT : Verdict.IMPORTANT_WORSENING, change.verdict());
    }

    @Test
    void ofThePublishedMcidsThoseOfTheEpisodesConditionCount() {
        ExampleClinic plain = clinic(LOWER, both(80), both(70));
        assertEquals(Optional.of(new Change.McidsMet(0, 1)), plain.onlyChange().mcidsMet());
        Change fracture = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1").condition("Fresh fracture"))
                .sitting(-1, LOWER, both(80))
                .sitting(42, LOWER, both(70))
                .onlyChange();
        assertEquals(Optional.of(new Change.McidsMet(1, 2)), fracture.mcidsMet());
        assertEquals(
                Optional.of(new Change.McidsMet(1, 1)),
                clinic(LOWER, both(80), both(60)).onlyChange().mcidsMet());
    }

    private static void assertNotAssessable(VerdictReason why, Change change) {
        assertEquals(Verdict.NOT_ASSESSABLE, change.verdict());
        assertEquals(Optional.of(why), change.reason());
        assertEquals(Optional.empty(), change.gapsCouldChangeVerdict());
    }

    @Test
    void withoutABaselineOnlyTheStateIsKnown() {
        ChangeRow row = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(42, LOWER, both(40))
                .onlyRow();
        assertEquals(Optional.empty(), row.assessed().baseline());
        Change change = row.change();
        assertNotAssessable(VerdictReason.NO_BASELINE, change);
        assertEquals(OptionalDouble.empty(), change.baseline());
        assertEquals(OptionalDouble.of(40), change.followUp());
        assertEquals(OptionalDouble.empty(), change.change());
        assertEquals(OptionalDouble.empty(), change.improvement());
        assertEquals(Optional.empty(), change.improvementBounds());
        assertEquals(Optional.empty(), change.mcidsMet());
        assertEquals(Optional.empty(), change.couldReach());
        assertEquals(Optional.of(true), change.acceptableState());
    }

    @Test
    void aFollowUpWithoutAScoreKeepsTheBaseline() {
        ChangeRow row = clinic(LOWER, both(80), "1=101").onlyRow();
        assertEquals(false, row.used());
        assertNotAssessable(VerdictReason.NOT_SCORED, row.change());
        assertEquals(OptionalDouble.of(80), row.change().baseline());
        assertEquals(OptionalDouble.empty(), row.change().followUp());
        assertEquals(OptionalDouble.empty(), row.change().change());
        assertEquals(Optional.empty(), row.change().improvementBounds());
        assertEquals(Optional.empty(), row.change().acceptableState());
        assertEquals(Optional.of(true), row.change().couldReach());
    }

    /** Two items needed, one answered 20: possible 10 to 60, so that the improvement from 80 lies between 20 and 70. */
    @Test
    void aFollowUpWithoutAScoreButBoundsShowsWhatTheImprovementCouldBe() {
        Instrument all = ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100))
                .build();
        Change change = clinic(all, both(80), "1=20").onlyChange();
        assertNotAssessable(VerdictReason.NOT_SCORED, change);
        assertEquals(Optional.of(new Range(20, 70)), change.improvementBounds());
    }

    @Test
    void withoutAnMcidTheChangeIsShownAndNotJudged() {
        Instrument bare = ExampleInstrument.called("level")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .build();
        Change change = clinic(bare, both(80), both(40)).onlyChange();
        assertNotAssessable(VerdictReason.NO_MCID, change);
        assertEquals(OptionalDouble.of(40), change.improvement());
        assertEquals(Optional.empty(), change.couldReach());
        assertEquals(Optional.of(new Change.McidsMet(0, 0)), change.mcidsMet());
        assertEquals(Optional.empty(), change.acceptableState());
    }

    @ParameterizedTest
    @CsvSource({"41, TOO_EARLY", "42, ", "43, "})
    void tooEarlyByTheDefinition(int day, VerdictReason why) {
        Instrument early = level().noVerdictBefore(42).build();
        Change change = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, early, both(80))
                .sitting(day, early, both(40))
                .onlyChange();
        assertEquals(Optional.ofNullable(why), change.reason());
        assertEquals(OptionalDouble.of(40), change.improvement());
        assertEquals(Optional.of(BeyondError.YES), change.beyondError());
        assertEquals(Optional.of(ReachesMcid.IMPROVED), change.reachesMcid());
    }

    @Test
    void tooEarlyByTheSchedule() {
        Visit baseline = ExampleClinic.visit("before", 0, -90, 0, Visit.Role.BASELINE);
        Visit early = new Visit("early", 14, 1, 27, Visit.Role.FOLLOW_UP, List.of(), false);
        Visit late = new Visit("late", 42, 28, 59, Visit.Role.FOLLOW_UP, List.of(), true);
        List<ChangeRow> changes = new ExampleClinic()
                .schedule(baseline, early, late)
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, LOWER, both(80))
                .sitting(14, LOWER, both(40))
                .sitting(42, LOWER, both(40))
                .changes();
        assertNotAssessable(VerdictReason.TOO_EARLY, changes.get(0).change());
        assertEquals(Optional.empty(), changes.get(1).change().reason());
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
        ChangeRow row = clinic(NAMED_ACTIVITIES, "1=2 2=4 3=9", "1=5 2=7 4=0").onlyRow();
        Change change = row.change();
        assertEquals(OptionalDouble.of(3), change.baseline());
        assertEquals(OptionalDouble.of(6), change.followUp());
        assertEquals(OptionalDouble.of(3), change.improvement());
        assertEquals(Verdict.IMPORTANT_IMPROVEMENT, change.verdict());
        assertEquals(4.0, row.followUp().result().scored().orElseThrow().value()); // the score itself stays
    }

    @Test
    void pairedItemsWithoutACommonActivityLeaveBothBlank() {
        Change change = clinic(NAMED_ACTIVITIES, "1=2", "2=7").onlyChange();
        assertNotAssessable(VerdictReason.NOT_SCORED, change);
        assertEquals(OptionalDouble.empty(), change.baseline());
        assertEquals(OptionalDouble.empty(), change.followUp());
        assertEquals(OptionalDouble.empty(), change.improvement());
        assertEquals(Optional.empty(), change.improvementBounds());
        assertEquals(Optional.empty(), change.couldReach());
    }

    /** An activity rated 99 makes the sitting one without a score; the others are not judged without it. */
    @Test
    void aResponseNotAllowedIsNeverLeftOutOfPairedItems() {
        Change change = clinic(NAMED_ACTIVITIES, "1=2 2=4", "1=9 2=99").onlyChange();
        assertNotAssessable(VerdictReason.NOT_SCORED, change);
        assertEquals(OptionalDouble.empty(), change.improvement());
    }

    @Test
    void aRatingOfChangeIsNotItselfCompared() {
        Instrument rating = ExampleInstrument.called("rating")
                .items(1, ExampleInstrument.codes(-7, 7))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(-7, 7))
                .change(ChangeRule.Kind.NONE)
                .build();
        ExampleClinic clinic = clinic(rating, "1=0", "1=5");
        assertEquals(List.of(), clinic.changes());
        assertEquals(List.of(), clinic.problems());
        assertEquals(
                List.of(AssignedScore.Use.BASELINE, AssignedScore.Use.FOLLOW_UP),
                clinic.scores().stream().map(AssignedScore::use).toList());
    }

    /** Two catalogues give two objects that state the same; the definition changes nothing, and neither does the object. */
    @Test
    void copiesOfOneDefinitionAreOneInstrument() {
        Change change = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, level().build(), both(80))
                .sitting(42, level().build(), both(30))
                .onlyChange();
        assertEquals(Verdict.IMPORTANT_IMPROVEMENT, change.verdict());
        assertEquals(OptionalDouble.of(50), change.improvement());
    }

    /** Version 4 has other items and an MCID of 5. */
    private static Instrument version4() {
        return ExampleInstrument.called("level")
                .version("4")
                .items(3, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .defaults("five", "", "")
                .threshold(ExampleThreshold.called("five", Threshold.Kind.MCID)
                        .value(5)
                        .build())
                .build();
    }

    @Test
    void scoresOfTwoVersionsAreNeverOneChange() {
        Change change = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, LOWER, both(80))
                .sitting(42, version4(), both(30))
                .onlyChange();
        assertNotAssessable(VerdictReason.DIFFERENT_VERSIONS, change);
        assertEquals(OptionalDouble.of(80), change.baseline());
        assertEquals(OptionalDouble.of(30), change.followUp());
        assertEquals(OptionalDouble.empty(), change.improvement());
        assertEquals(Optional.empty(), change.beyondError());
        assertEquals(Optional.empty(), change.improvementBounds());
    }

    /** Each follow-up is judged by its own version's baseline and thresholds, whatever the order of the rows. */
    @ParameterizedTest
    @CsvSource({"true", "false"})
    void eachVersionHasItsOwnBaselineAndThresholds(boolean turned) {
        ExampleClinic clinic = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-5, version4(), both(80))
                .sitting(-1, LOWER, both(60))
                .sitting(42, LOWER, both(54))
                .sitting(91, version4(), both(74));
        List<ScoredForm> forms = new ArrayList<>(clinic.forms());
        if (turned) {
            Collections.reverse(forms);
        }
        List<String> changes = clinic.analyse(forms)
                .changes()
                .map(r -> r.followUp().form().instrument().definition() + " "
                        + r.change().baseline().orElseThrow() + " "
                        + r.change().improvement().orElseThrow() + " "
                        + r.change().thresholds().mcid().map(Threshold::id).orElse("none") + " "
                        + r.change().verdict().code())
                .toList();
        assertEquals(
                List.of("level@3 60.0 6.0 mcid no-important-change", "level@4 80.0 6.0 five important-improvement"),
                changes);
        ScoreSeries series = clinic.analyse(forms).episodes().get(0).series().get(0);
        assertEquals("level@4", series.instrument().definition());
        assertEquals(
                "level@3", series.baseline().orElseThrow().form().instrument().definition());
    }

    @Test
    void theLastChangeIsTheOneThatCountsAtTheLastVisit() {
        ExampleClinic clinic = new ExampleClinic()
                .episodes(ExampleEpisode.called("E1"))
                .sitting(-1, LOWER, both(80))
                .sitting(42, LOWER, both(40))
                .sitting(91, LOWER, both(30))
                .sitting(100, LOWER, both(20)); // farther from the target
        ScoreSeries series = clinic.analyse().episodes().get(0).series().get(0);
        assertEquals(
                OptionalDouble.of(50),
                series.lastChange().orElseThrow().change().improvement());
        assertEquals(
                List.of(80.0, 40.0, 30.0),
                series.used()
                        .map(s -> s.result().scored().orElseThrow().value())
                        .toList());
        assertEquals(
                Optional.empty(),
                new ExampleClinic()
                        .episodes(ExampleEpisode.called("E1"))
                        .sitting(-1, LOWER, both(80))
                        .analyse()
                        .episodes()
                        .get(0)
                        .series()
                        .get(0)
                        .lastChange());
    }
}
