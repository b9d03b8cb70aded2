package lumbrical.followup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.Stream;
import lumbrical.change.Change;
import lumbrical.change.Verdict;
import lumbrical.change.VerdictReason;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ExampleInstrument;
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
        return treatment(id, side, index).build();
    }

    private static Episode.Builder treatment(String id, Side side, LocalDate index) {
        return Episode.builder("P1", id, side)
                .indexDate(index)
                .forms(List.of(new InstrumentId("example10")))
                .place(Place.of("episodes.csv", 2));
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
        Responses responses = ExampleInstrument.responses(FORM, values);
        forms.add(new ScoredForm(sitting, FORM, responses, PLAN.score(responses, side)));
    }

    private void onDay(int day, double code) {
        sitting(INDEX.plusDays(day), "", Optional.of(Side.RIGHT), Optional.empty(), code, 0);
    }

    private FollowUpResult analyse() {
        return analyse(AS_OF);
    }

    private FollowUpResult analyse(LocalDate asOf) {
        if (episodes.isEmpty()) {
            episodes.add(episode("E1", Side.RIGHT, INDEX));
        }
        return FollowUpAnalysis.analyse(forms, episodes, Schedule.DEFAULT, asOf, ThresholdChoice.DEFAULTS);
    }

    private List<AssignedForm> assigned() {
        return analyse().forms().stream()
                .flatMap(f -> f.fold(Stream::of, u -> Stream.<AssignedForm>empty()))
                .toList();
    }

    private List<ChangeRow> rows() {
        return analyse().changes().toList();
    }

    private Change firstChange() {
        return rows().get(0).change();
    }

    private ExpectedForm expected(String visit, LocalDate asOf) {
        return analyse(asOf)
                .expected()
                .filter(d -> d.visit().name().equals(visit))
                .findFirst()
                .orElseThrow();
    }

    private static VisitCount count(FollowUpResult clinic, String visit) {
        return clinic.counts().stream()
                .filter(c -> c.visit().name().equals(visit))
                .findFirst()
                .orElseThrow();
    }

    private static List<String> codes(FollowUpResult clinic) {
        return clinic.problems().stream()
                .map(Problem::code)
                .filter(c -> c != ProblemCode.NOTE_SCHEDULE_MAY_DIFFER)
                .map(ProblemCode::code)
                .toList();
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
        assertEquals(Optional.of(visit), assigned().get(0).at().visitName());
    }

    @Test
    void daysCountThroughALeapDay() {
        sitting(LocalDate.of(2024, 3, 1), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 0);
        assertEquals(OptionalInt.of(30), assigned().get(0).at().day());
    }

    @Test
    void theBaselineIsTheLastScorableSittingOfItsWindow() {
        onDay(-30, 5);
        onDay(-2, 4);
        sitting(INDEX.minusDays(1), "", Optional.of(Side.RIGHT), Optional.empty(), 2, 9); // not scorable
        onDay(42, 2);
        Change change = firstChange();
        assertEquals(75.0, change.baseline().orElseThrow());
        assertEquals(50.0, change.improvement().orElseThrow());
        assertEquals(-50.0, change.change().orElseThrow());
    }

    @Test
    void ofTwoSittingsOfOneDayTheTimeDecides() {
        sitting(INDEX, "15:00", Optional.of(Side.RIGHT), Optional.empty(), 4, 0);
        sitting(INDEX, "08:00", Optional.of(Side.RIGHT), Optional.empty(), 5, 0);
        onDay(42, 2);
        assertEquals(75.0, firstChange().baseline().orElseThrow());
    }

    @Test
    void theNearestToTheTargetCountsAndOfTwoEquallyNearTheEarlier() {
        onDay(-1, 5);
        onDay(40, 3);
        onDay(44, 2);
        onDay(50, 1);
        assertEquals(
                List.of(true, false, false),
                rows().stream().map(ChangeRow::used).toList());
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
    void theVerdictSetsTheChangeAgainstBothThresholdsAndEqualCounts(double before, double after, Verdict verdict) {
        onDay(-1, before);
        onDay(42, after);
        Change change = firstChange();
        assertEquals(verdict, change.verdict());
        assertEquals(Optional.of(false), change.gapsCouldChangeVerdict());
        assertEquals(Optional.of(before > 1), change.couldReach());
    }

    @Test
    void gapsCanMakeAVerdictUncertain() {
        onDay(-1, 5);
        sitting(INDEX.plusDays(42), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 2); // 50, possible 40 to 60
        Change change = firstChange();
        assertEquals(Verdict.IMPORTANT_IMPROVEMENT, change.verdict());
        assertEquals(40.0, change.improvementBounds().orElseThrow().low(), 1e-9);
        assertEquals(60.0, change.improvementBounds().orElseThrow().high(), 1e-9);
        assertEquals(Optional.of(true), change.gapsCouldChangeVerdict());
    }

    @Test
    void countsPublishedMcidsOncePerStudy() {
        onDay(-1, 5);
        onDay(42, 4); // improvement 25
        // studies: a 25 (the default); b 10 and 20 -> median 15; c 40 recommended beside 5; shoulder, remembered and
        // bound ones not
        assertEquals(Optional.of(new Change.McidsMet(2, 3)), firstChange().mcidsMet());
    }

    @Test
    void tooEarlyIsNotAssessableWithTheReason() {
        onDay(-1, 5);
        onDay(14, 3);
        Change change = firstChange();
        assertEquals(Verdict.NOT_ASSESSABLE, change.verdict());
        assertEquals(Optional.of(VerdictReason.TOO_EARLY), change.reason());
    }

    @Test
    void withoutBaselineNothingIsAssessable() {
        onDay(42, 3);
        assertEquals(Optional.of(VerdictReason.NO_BASELINE), firstChange().reason());
        assertEquals(List.of("note-baseline-missing"), codes(analyse()));
    }

    @Test
    void aBlankSideWithEpisodesOnBothSidesIsAmbiguous() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E2", Side.LEFT, INDEX));
        sitting(INDEX, "", Optional.empty(), Optional.empty(), 3, 0);
        FollowUpResult clinic = analyse();
        assertEquals(List.of("episode-ambiguous"), codes(clinic));
        assertEquals(List.of(new UnassignedForm(forms.get(0), ProblemCode.EPISODE_AMBIGUOUS)), clinic.forms());
    }

    @Test
    void aSittingOfBothSidesStandsOnceForEachEpisode() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E2", Side.LEFT, INDEX));
        sitting(INDEX, "", Optional.of(Side.BOTH), Optional.empty(), 3, 0);
        assertEquals(
                List.of("E1", "E2"),
                assigned().stream().map(f -> f.at().episode().id()).toList());
    }

    @Test
    void ofSeveralEpisodesOfOneSideTheWindowDecidesAndThenTheLatest() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E2", Side.RIGHT, INDEX.plusDays(400)));
        onDay(20, 3); // only in a window of E1
        onDay(420, 3); // in windows of both: E2 began last
        assertEquals(
                List.of("E1", "E2"),
                assigned().stream().map(f -> f.at().episode().id()).toList());
    }

    @Test
    void whatDoesNotFitAnEpisodeSaysSoAndIsStillListed() {
        sitting(INDEX, "", Optional.of(Side.LEFT), Optional.empty(), 3, 0);
        sitting(INDEX.plusDays(1), "", Optional.of(Side.RIGHT), Optional.of("E9"), 3, 0);
        sitting(INDEX.plusDays(40), "", Optional.of(Side.LEFT), Optional.of("E1"), 3, 0);
        FollowUpResult clinic = analyse();
        assertEquals(forms, clinic.forms().stream().map(PlacedForm::form).toList());
        assertEquals(1, assigned().size());
        assertEquals(
                Optional.of(ProblemCode.SIDE_DIFFERS_FROM_EPISODE),
                assigned().get(0).leftOut());
        assertEquals(
                List.of("episode-not-found", "episode-not-found", "side-differs-from-episode"),
                codes(clinic).stream().filter(c -> !c.startsWith("note-")).toList());
        assertEquals(List.of(), clinic.changes().toList());
    }

    @Test
    void theSameFormTwiceCountsOnceWithTheSameAnswersAndNotAtAllWithOthers() {
        onDay(-1, 5);
        onDay(42, 3);
        onDay(42, 3);
        assertEquals(1, rows().size());
        assertTrue(codes(analyse()).contains("duplicate-sitting"));
        onDay(42, 4);
        assertEquals(0, rows().size());
    }

    @Test
    void theFutureIsNotPlacedInTime() {
        sitting(AS_OF.plusDays(1), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 0);
        assertEquals(Optional.empty(), assigned().get(0).at().visitName());
    }

    @ParameterizedTest
    @CsvSource({
        // as of this many days after the index date, the state of the 6 weeks' form: window 28 to 59, target 42
        "27, NOT_YET",
        "28, OPEN",
        "42, OPEN",
        "43, LATE",
        "59, LATE",
        "60, MISSED"
    })
    void anExpectedFormIsDueByItsWindow(int today, ExpectedForm.State state) {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        onDay(-1, 5);
        ExpectedForm due = expected("6 weeks", INDEX.plusDays(today));
        assertEquals(state, due.state());
        assertEquals(59 - today, due.daysLeft());
        assertEquals(
                List.of(INDEX.plusDays(28), INDEX.plusDays(42), INDEX.plusDays(59)),
                List.of(due.opens(), due.target(), due.closes()));
    }

    @Test
    void anExpectedFormWhoseDaysAreToldHasTheDaysOfItsVisit() {
        Episode episode = episode("E1", Side.RIGHT, INDEX);
        Visit visit = new Visit("6 weeks", 42, 28, 59, Visit.Role.FOLLOW_UP, List.of(), true);
        InstrumentId id = new InstrumentId("sane");
        ExpectedForm told = new ExpectedForm(
                episode,
                visit,
                id,
                INDEX.plusDays(28),
                INDEX.plusDays(42),
                INDEX.plusDays(59),
                ExpectedForm.State.OPEN,
                9,
                List.of());
        assertEquals(
                new ExpectedForm(episode, visit, id, ExpectedForm.State.OPEN, INDEX.plusDays(50), List.of()), told);
        assertThrows(
                IllegalArgumentException.class,
                () -> new ExpectedForm(episode, visit, id, INDEX, INDEX, INDEX, ExpectedForm.State.OPEN, 9, List.of()));
    }

    @Test
    void aFormThatCameButCannotBeScoredNamesItsBlankItems() {
        onDay(-1, 5);
        sitting(INDEX.plusDays(42), "", Optional.of(Side.RIGHT), Optional.empty(), 3, 6);
        ExpectedForm due = expected("6 weeks", AS_OF);
        assertEquals(ExpectedForm.State.INCOMPLETE, due.state());
        assertEquals(6, due.blankItems().size());
        VisitCount count = count(analyse(), "6 weeks");
        assertEquals(List.of(1, 1, 0), List.of(count.expected(), count.received(), count.scorable()));
    }

    private static Episode closed(int day) {
        return treatment("E1", Side.RIGHT, INDEX)
                .closure(Optional.of(new Episode.Closure(INDEX.plusDays(day), "moved")))
                .build();
    }

    @Test
    void nothingIsAskedForAfterAnEpisodeIsClosed() {
        episodes.add(closed(30));
        onDay(-1, 5);
        assertEquals(
                List.of("baseline done", "2 weeks missed", "6 weeks closed"),
                analyse()
                        .expected()
                        .map(d -> d.visit().name() + " " + d.state().code())
                        .toList());
    }

    @Test
    void aClosureStillToComeClosesNothingYet() {
        episodes.add(closed(60));
        onDay(-1, 5);
        VisitCount count = count(analyse(INDEX.plusDays(50)), "12 months");
        assertEquals(List.of(0, 1), List.of(count.closed(), count.notYet()));
    }

    @Test
    void twoEpisodesOfAPatientWithOneIdAreRefused() {
        episodes.add(episode("E1", Side.RIGHT, INDEX));
        episodes.add(episode("E1", Side.LEFT, INDEX));
        assertEquals(
                "Patient P1 has two episodes called E1",
                assertThrows(IllegalArgumentException.class, this::analyse).getMessage());
    }

    @Test
    void ofTwoBaselinesOfOneMomentTheOneThatStandsLastCounts() {
        sitting(INDEX, "", Optional.of(Side.RIGHT), Optional.empty(), 5, 0);
        sitting(INDEX, "", Optional.of(Side.RIGHT), Optional.of("E1"), 4, 0);
        onDay(42, 2);
        assertEquals(75.0, firstChange().baseline().orElseThrow());
    }

    @Test
    void overlappingWindowsAreRefused() {
        Visit a = new Visit("a", 10, 5, 20, Visit.Role.FOLLOW_UP, List.of(), true);
        Visit b = new Visit("b", 25, 20, 30, Visit.Role.FOLLOW_UP, List.of(), true);
        IllegalArgumentException refused =
                assertThrows(IllegalArgumentException.class, () -> new Schedule(List.of(a, b)));
        assertEquals("The windows of 'a' (5 to 20) and 'b' (20 to 30) overlap", refused.getMessage());
    }
}
