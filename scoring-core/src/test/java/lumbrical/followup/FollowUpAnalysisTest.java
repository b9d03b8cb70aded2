package lumbrical.followup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Sittings in time. Expected values worked by hand from the rules of the files (docs), with invented data. */
class FollowUpAnalysisTest {
    private static final LocalDate INDEX = LocalDate.of(2024, 1, 31);
    private static final LocalDate AS_OF = LocalDate.of(2026, 11, 25);
    private static final Instrument FORM = FollowUpInstruments.tenItems();
    private static final ScoringPlan PLAN = ScoringPlan.of(FORM);

    private final List<ScoredForm> forms = new ArrayList<>();
    private final List<Episode> episodes = new ArrayList<>();
    private int row = 1;

    private static Episode episode(String id, Side side, LocalDate index) {
        return new Episode(
                "P1",
                id,
                side,
                Optional.of(index),
                Optional.empty(),
                Optional.empty(),
                OptionalInt.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(new InstrumentId("example10")),
                Optional.empty(),
                true,
                Map.of(),
                Place.of("episodes.csv", 2));
    }

    /** A sitting whose ten items all hold {@code code}, the last {@code open} of them left open. */
    private void sitting(
            LocalDate day, String time, Optional<Side> side, Optional<String> episode, double code, int open) {
        Sitting sitting = new Sitting(
                "P1",
                day,
                time.isEmpty() ? Optional.empty() : Optional.of(LocalTime.parse(time)),
                side,
                episode,
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("responses.csv", ++row));
        double[] values = new double[10];
        Arrays.fill(values, code);
        Arrays.fill(values, 10 - open, 10, Double.NaN);
        Responses responses = Responses.of(FORM, values);
        forms.add(new ScoredForm(sitting, FORM, responses, PLAN.score(responses, side)));
    }

    private void onDay(int day, double code) {
        sitting(INDEX.plusDays(day), "", Optional.of(Side.RIGHT), Optional.empty(), code, 0);
    }

    private FollowUpResult look() {
        if (episodes.isEmpty()) {
            episodes.add(episode("E1", Side.RIGHT, INDEX));
        }
        return FollowUpAnalysis.look(forms, episodes, Schedule.DEFAULT, AS_OF, ThresholdChoice.DEFAULTS);
    }

    private static List<String> codes(FollowUpResult clinic) {
        return clinic.problems().stream().map(Problem::code).map(c -> c.code()).toList();
    }

    @ParameterizedTest
    @CsvSource({
        "-91, unscheduled", "-90, baseline", "0, baseline", "1, unscheduled", "6, unscheduled", "7, 2 weeks",
                "27, 2 weeks",
        "28, 6 weeks", "59, 6 weeks", "60, 3 months", "136, 3 months", "137, 6 months", "273, 6 months",
                "274, 12 months",
        "547, 12 months", "548, 24 months", "912, 24 months", "913, unscheduled"
    })
    void theFirstAndLastDayOfEveryWindowBelongToIt(int day, String visit) {
        onDay(day, 3);
        assertEquals(Optional.of(visit), look().scores().get(0).visitName());
    }

    @Test
    void daysCountThroughALeapDay() {
        sitting(LocalDate.of(2024, 3, 1), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 0);
        assertEquals(
                OptionalInt.of(30),
                look().scores().get(0).placement().orElseThrow().day());
    }

    @Test
    void theBaselineIsTheLastScorableSittingOfItsWindow() {
        onDay(-30, 5);
        onDay(-2, 4);
        sitting(INDEX.minusDays(1), "", Optional.of(Side.RIGHT), Optional.empty(), 2, 9); // not scorable
        onDay(42, 2);
        Change change = look().changes().get(0);
        assertEquals(75.0, change.baselineScore().orElseThrow());
        assertEquals(50.0, change.improvement().orElseThrow());
        assertEquals(-50.0, change.change().orElseThrow());
    }

    @Test
    void ofTwoSittingsOfOneDayTheTimeDecides() {
        sitting(INDEX, "15:00", Optional.of(Side.RIGHT), Optional.empty(), 4, 0);
        sitting(INDEX, "08:00", Optional.of(Side.RIGHT), Optional.empty(), 5, 0);
        onDay(42, 2);
        assertEquals(75.0, look().changes().get(0).baselineScore().orElseThrow());
    }

    @Test
    void theNearestToTheTargetCountsAndOfTwoEquallyNearTheEarlier() {
        onDay(-1, 5);
        onDay(40, 3);
        onDay(44, 2);
        onDay(50, 1);
        List<Change> changes = look().changes();
        assertEquals(
                List.of(true, false, false), changes.stream().map(Change::used).toList());
        assertEquals(3, changes.size());
    }

    @ParameterizedTest
    @CsvSource({
        // baseline code, follow-up code, verdict: 25 points a code; MCID 25, MDC 50 (invented)
        "5, 3, IMPORTANT_IMPROVEMENT",
        "5, 4, IMPROVEMENT_WITHIN_ERROR",
        "3, 3, NO_IMPORTANT_CHANGE",
        "3, 4, WORSENING_WITHIN_ERROR",
        "1, 3, IMPORTANT_WORSENING"
    })
    void theVerdictSetsTheChangeAgainstBothThresholdsAndEqualCounts(
            double before, double after, Change.Verdict verdict) {
        onDay(-1, before);
        onDay(42, after);
        Change change = look().changes().get(0);
        assertEquals(verdict, change.verdict());
        assertEquals(Optional.of(true), change.certain());
        assertEquals(Optional.of(before > 1), change.couldReach());
    }

    @Test
    void gapsCanMakeAVerdictUncertain() {
        onDay(-1, 5);
        sitting(INDEX.plusDays(42), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 2); // 50, possible 40 to 60
        Change change = look().changes().get(0);
        assertEquals(Change.Verdict.IMPORTANT_IMPROVEMENT, change.verdict());
        assertEquals(40.0, change.improvementBounds().orElseThrow().low(), 1e-9);
        assertEquals(60.0, change.improvementBounds().orElseThrow().high(), 1e-9);
        assertEquals(Optional.of(false), change.certain());
    }

    @Test
    void countsPublishedMcidsOncePerStudy() {
        onDay(-1, 5);
        onDay(42, 4); // improvement 25
        // studies: a 25 (the default); b 10 and 20 -> median 15; c 40 recommended beside 5; shoulder, remembered and
        // bound ones not
        assertEquals(Optional.of(new Change.Met(2, 3)), look().changes().get(0).mcidMet());
    }

    @Test
    void tooEarlyIsNotAssessableWithTheReason() {
        onDay(-1, 5);
        onDay(14, 3);
        Change change = look().changes().get(0);
        assertEquals(Change.Verdict.NOT_ASSESSABLE, change.verdict());
        assertEquals(Optional.of("too early, before day 21"), change.whyNotAssessable());
    }

    @Test
    void withoutBaselineNothingIsAssessable() {
        onDay(42, 3);
        FollowUpResult clinic = look();
        assertEquals(Optional.of("no baseline score"), clinic.changes().get(0).whyNotAssessable());
        assertEquals(List.of("note-baseline-missing"), codes(clinic));
    }

    @Test
    void aBlankSideWithEpisodesOnBothSidesIsAmbiguous() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E2", Side.LEFT, INDEX));
        sitting(INDEX, "", Optional.empty(), Optional.empty(), 3, 0);
        FollowUpResult clinic = look();
        assertTrue(codes(clinic).contains("episode-ambiguous"));
        assertEquals(Optional.empty(), clinic.scores().get(0).placement());
    }

    @Test
    void aSittingOfBothSidesStandsOnceForEachEpisode() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E2", Side.LEFT, INDEX));
        sitting(INDEX, "", Optional.of(Side.BOTH), Optional.empty(), 3, 0);
        assertEquals(
                List.of("E1", "E2"),
                look().scores().stream()
                        .map(s -> s.placement().orElseThrow().episode().id())
                        .toList());
    }

    @Test
    void ofSeveralEpisodesOfOneSideTheWindowDecidesAndThenTheLatest() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E2", Side.RIGHT, INDEX.plusDays(400)));
        onDay(20, 3); // only in a window of E1
        onDay(420, 3); // in windows of both: E2 began last
        assertEquals(
                List.of("E1", "E2"),
                look().scores().stream()
                        .map(s -> s.placement().orElseThrow().episode().id())
                        .toList());
    }

    @Test
    void whatDoesNotFitAnEpisodeSaysSoAndIsStillListed() {
        sitting(INDEX, "", Optional.of(Side.LEFT), Optional.empty(), 3, 0);
        sitting(INDEX.plusDays(1), "", Optional.of(Side.RIGHT), Optional.of("E9"), 3, 0);
        sitting(INDEX.plusDays(40), "", Optional.of(Side.LEFT), Optional.of("E1"), 3, 0);
        FollowUpResult clinic = look();
        assertEquals(3, clinic.scores().size());
        assertEquals(
                List.of("episode-not-found", "episode-not-found", "side-differs-from-episode"),
                codes(clinic).stream().filter(c -> !c.startsWith("note-")).toList());
        assertEquals(List.of(), clinic.changes());
    }

    @Test
    void theSameFormTwiceCountsOnceWithTheSameAnswersAndNotAtAllWithOthers() {
        onDay(-1, 5);
        onDay(42, 3);
        onDay(42, 3);
        assertEquals(1, look().changes().size());
        assertTrue(codes(look()).contains("duplicate-sitting"));
        onDay(42, 4);
        assertEquals(0, look().changes().size());
    }

    @Test
    void theFutureIsNotPlacedInTime() {
        sitting(AS_OF.plusDays(1), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 0);
        assertEquals(Optional.empty(), look().scores().get(0).visitName());
    }

    @ParameterizedTest
    @CsvSource({
        // as of this many days after the index date, the state of the 6 weeks' form: window 28 to 59, target 42
        "27, NOT_YET",
        "28, DUE",
        "42, DUE",
        "43, OVERDUE",
        "59, OVERDUE",
        "60, MISSED"
    })
    void anExpectedFormIsDueByItsWindow(int today, ExpectedForm.State state) {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        onDay(-1, 5);
        ExpectedForm due =
                FollowUpAnalysis.look(
                                forms, episodes, Schedule.DEFAULT, INDEX.plusDays(today), ThresholdChoice.DEFAULTS)
                        .due()
                        .stream()
                        .filter(d -> d.visit().name().equals("6 weeks"))
                        .findFirst()
                        .orElseThrow();
        assertEquals(state, due.state());
        assertEquals(59 - today, due.daysLeft());
    }

    @Test
    void aFormThatCameButCannotBeScoredNamesItsBlankItems() {
        onDay(-1, 5);
        sitting(INDEX.plusDays(42), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 6);
        ExpectedForm due = look().due().stream()
                .filter(d -> d.visit().name().equals("6 weeks"))
                .findFirst()
                .orElseThrow();
        assertEquals(ExpectedForm.State.RECEIVED_NOT_SCORABLE, due.state());
        assertEquals(6, due.blankItems().size());
        VisitCount count = look().counts().stream()
                .filter(c -> c.visit().name().equals("6 weeks"))
                .findFirst()
                .orElseThrow();
        assertEquals(List.of(1, 1, 0), List.of(count.expected(), count.received(), count.scorable()));
    }

    @Test
    void nothingIsDueAfterAnEpisodeIsClosed() {
        Episode e = episode("E1", Side.RIGHT, INDEX);
        episodes.add(new Episode(
                e.patient(),
                e.id(),
                e.treatedSide(),
                e.indexDate(),
                e.dominantSide(),
                e.sex(),
                e.birthYear(),
                e.condition(),
                e.procedure(),
                e.forms(),
                Optional.of(new Episode.Closure(INDEX.plusDays(30), "moved")),
                true,
                Map.of(),
                e.place()));
        onDay(-1, 5);
        assertEquals(
                List.of("baseline received", "2 weeks missed"),
                look().due().stream()
                        .map(d -> d.visit().name() + " " + d.state().code())
                        .toList());
    }

    @Test
    void aClosureStillToComeClosesNothingYet() {
        Episode e = episode("E1", Side.RIGHT, INDEX);
        episodes.add(new Episode(
                e.patient(),
                e.id(),
                e.treatedSide(),
                e.indexDate(),
                e.dominantSide(),
                e.sex(),
                e.birthYear(),
                e.condition(),
                e.procedure(),
                e.forms(),
                Optional.of(new Episode.Closure(INDEX.plusDays(60), "moved")),
                true,
                Map.of(),
                e.place()));
        onDay(-1, 5);
        VisitCount count =
                FollowUpAnalysis.look(forms, episodes, Schedule.DEFAULT, INDEX.plusDays(50), ThresholdChoice.DEFAULTS)
                        .counts()
                        .stream()
                        .filter(c -> c.visit().name().equals("12 months"))
                        .findFirst()
                        .orElseThrow();
        assertEquals(List.of(0, 1), List.of(count.closed(), count.notYet()));
    }

    @Test
    void ofTwoBaselinesOfOneMomentTheOneThatStandsLastCounts() {
        sitting(INDEX, "", Optional.of(Side.RIGHT), Optional.empty(), 5, 0);
        sitting(INDEX, "", Optional.of(Side.RIGHT), Optional.of("E1"), 4, 0);
        onDay(42, 2);
        assertEquals(75.0, look().changes().get(0).baselineScore().orElseThrow());
    }

    @Test
    void overlappingWindowsAreRefused() {
        Visit a = new Visit("a", 10, 5, 20, Visit.Role.FOLLOW_UP, List.of(), true);
        Visit b = new Visit("b", 25, 20, 30, Visit.Role.FOLLOW_UP, List.of(), true);
        IllegalArgumentException refused = org.junit.jupiter.api.Assertions.assertThrows(
                IllegalArgumentException.class, () -> new Schedule(List.of(a, b)));
        assertEquals("The windows of 'a' (5 to 20) and 'b' (20 to 30) overlap", refused.getMessage());
    }
}
