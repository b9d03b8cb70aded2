package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.RequestedColumns;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Forms expected against forms received, counted by hand in invented clinics. */
class FollowUpCompletenessTest {
    static final Instrument FORM = form("form");
    private static final Instrument OTHER = form("other");
    static final String ANSWERS = "1=20 2=20";

    private static Instrument form(String id) {
        return ExampleInstrument.called(id)
                .items(2, ExampleInstrument.codes(0, 50))
                .item("work", ExampleInstrument.codes(0, 50))
                .item("sport", ExampleInstrument.codes(0, 50))
                .scale(
                        "total",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 100),
                        "1",
                        "2")
                .scale(
                        "module",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 100),
                        "work",
                        "sport")
                .optional()
                .build();
    }

    /** Baseline to day 0; "early" 10 to 20, target 14; "late" 30 to 50, target 40. */
    static ExampleClinic clinic(ExampleEpisode... episodes) {
        return new ExampleClinic()
                .schedule(
                        ExampleClinic.visit("before", 0, -90, 0, Visit.Role.BASELINE),
                        ExampleClinic.visit("early", 14, 10, 20, Visit.Role.FOLLOW_UP),
                        ExampleClinic.visit("late", 40, 30, 50, Visit.Role.FOLLOW_UP))
                .episodes(episodes);
    }

    /** {@code visit form: expected closed notYet received scorable outside} and the reasons. */
    private static List<String> counts(ExampleClinic clinic) {
        return clinic.analyse().counts().stream()
                .map(c -> c.visit().name() + " " + c.instrument() + ": " + c.expected() + " " + c.closed() + " "
                        + c.notYet() + " " + c.received() + " " + c.scorable() + " " + c.outsideWindow() + " "
                        + c.notScorable())
                .toList();
    }

    private static List<String> due(ExampleClinic clinic) {
        return clinic.analyse()
                .expected()
                .map(d -> d.episode().id() + " " + d.visit().name() + " " + d.instrument() + " "
                        + d.state().code())
                .toList();
    }

    @Test
    void formsOfTheEpisodeAreExpectedAtEveryVisit() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form", "other"))
                .asOfDay(15)
                .sitting(0, FORM, ANSWERS);
        assertEquals(
                List.of(
                        "E1 before form done",
                        "E1 before other missed",
                        "E1 early form late",
                        "E1 early other late",
                        "E1 late form not-yet",
                        "E1 late other not-yet"),
                due(clinic));
        assertEquals(
                List.of(
                        "before form: 1 0 0 1 1 0 {}",
                        "before other: 1 0 0 0 0 0 {}",
                        "early form: 1 0 0 0 0 0 {}",
                        "early other: 1 0 0 0 0 0 {}",
                        "late form: 0 0 1 0 0 0 {}",
                        "late other: 0 0 1 0 0 0 {}"),
                counts(clinic));
    }

    @Test
    void formsOfTheVisitComeBeforeThoseOfTheEpisode() {
        Visit before = ExampleClinic.visit("before", 0, -90, 0, Visit.Role.BASELINE);
        Visit late = new Visit("late", 40, 30, 50, Visit.Role.FOLLOW_UP, List.of(new InstrumentId("other")), true);
        ExampleClinic clinic = new ExampleClinic()
                .schedule(before, late)
                .episodes(ExampleEpisode.called("E1").forms("form"));
        assertEquals(List.of("E1 before form missed", "E1 late other missed"), due(clinic));
    }

    /** In the order of their names, each once. */
    @Test
    void withoutFormsStatedThoseOfTheBaselineAreExpected() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1"))
                .asOfDay(60)
                .sitting(-5, OTHER, ANSWERS)
                .sitting(0, FORM, ANSWERS)
                .with(OTHER, ANSWERS)
                .sitting(14, form("third"), ANSWERS);
        assertEquals(
                List.of(
                        "E1 before form done",
                        "E1 before other done",
                        "E1 early form missed",
                        "E1 early other missed",
                        "E1 late form missed",
                        "E1 late other missed"),
                due(clinic));
    }

    @Test
    void whereNothingTellsWhatIsExpectedANoteAsks() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1"), ExampleEpisode.called("E2").withoutDate())
                .sitting(14, FORM, ANSWERS);
        assertEquals(List.of(), due(clinic));
        assertEquals(
                List.of(
                        "episodes.csv row 2 note-forms-not-known: Of 1 episode it is not known which forms are expected, the"
                                + " first of them patient P1, episode E1. Fill in forms of the episodes or of the"
                                + " schedule."),
                clinic.problems().stream().filter(p -> p.contains("expected")).toList());
    }

    /** One note for the whole run, which counts the episodes and names the first. */
    @Test
    void formsNotKnownAreNotedOnce() {
        ExampleClinic clinic = clinic(
                ExampleEpisode.called("E1").forms("form"),
                ExampleEpisode.called("E2").patient("P2"),
                ExampleEpisode.called("E3").patient("P3"));
        assertEquals(
                List.of("episodes.csv row 3 note-forms-not-known: Of 2 episodes it is not known which forms are"
                        + " expected, the first of them patient P2, episode E2. Fill in forms of the episodes or of the"
                        + " schedule."),
                clinic.problems());
    }

    /** The early form of an episode closed on some day, nothing received: its state, {@code none} if it is not listed. */
    private static String early(ExampleClinic clinic) {
        return clinic.analyse()
                .expected()
                .filter(d -> d.visit().name().equals("early"))
                .map(d -> d.state().code())
                .findFirst()
                .orElse("none");
    }

    /** The early window runs from day 10 to 20, target 14. Section 3 of the formats: a closure after the as-of date is not known. */
    @ParameterizedTest
    @CsvSource({
        // closed on day, as of day; state of the early form, its count of expected, closed, not yet
        "9, 8, not-yet, 0 0 1",
        "9, 9, none, 0 1 0",
        "9, 25, none, 0 1 0",
        "10, 9, not-yet, 0 0 1",
        "10, 10, closed, 1 0 0",
        "10, 25, closed, 1 0 0",
        "13, 12, open, 1 0 0",
        "13, 13, closed, 1 0 0",
        "14, 14, closed, 1 0 0",
        "16, 15, late, 1 0 0",
        "16, 16, closed, 1 0 0",
        "20, 19, late, 1 0 0",
        "20, 20, closed, 1 0 0",
        "20, 60, closed, 1 0 0",
        "21, 20, late, 1 0 0",
        "21, 21, missed, 1 0 0",
        "21, 60, missed, 1 0 0"
    })
    void aClosureBeforeTheWindowIsCountedApartAndOneInsideIsExpected(
            int closed, int today, String state, String count) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form").closedOnDay(closed))
                .asOfDay(today);
        assertEquals(state, early(clinic));
        assertEquals("early form: " + count + " 0 0 0 {}", counts(clinic).get(1));
        assertEquals(List.of(), clinic.problems());
    }

    /** A closure before the index date closes nothing; whoever read it tells so. */
    @ParameterizedTest
    @CsvSource({"-1, missed", "0, none"})
    void aClosureBeforeTheIndexDateClosesNothing(int closed, String state) {
        assertEquals(
                state,
                early(clinic(ExampleEpisode.called("E1").forms("form").closedOnDay(closed))
                        .asOfDay(60)));
    }

    /** Closed before the window: expected and received, with a note. Closed inside it: no note. */
    @ParameterizedTest
    @CsvSource({"9, true", "10, false", "14, false"})
    void aFormThatCameCountsWhateverTheClosure(int closed, boolean noted) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form").closedOnDay(closed))
                .asOfDay(60)
                .sitting(0, FORM, ANSWERS)
                .sitting(14, FORM, ANSWERS)
                .with(OTHER, ANSWERS); // is not asked for, so nothing is said of it
        assertEquals("early form: 1 0 0 1 1 0 {}", counts(clinic).get(1));
        assertEquals("late form: 0 1 0 0 0 0 {}", counts(clinic).get(2));
        assertEquals(List.of("E1 before form done", "E1 early form done"), due(clinic));
        assertEquals(
                noted
                        ? List.of(
                                "responses.csv row 3 note-form-after-closing: Patient P1, episode E1 was closed before"
                                        + " this visit; the form that came counts as expected and received.")
                        : List.of(),
                clinic.problems().stream().filter(p -> p.contains("closing")).toList());
    }

    @Test
    void expectedIsReceivedAndOpenLateMissedOrClosedInside() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"), // done
                        ExampleEpisode.called("E2").patient("P2").forms("form"), // missed
                        ExampleEpisode.called("E3").patient("P3").forms("form").closedOnDay(12), // closed inside
                        ExampleEpisode.called("E4").patient("P4").forms("form").closedOnDay(9), // closed before
                        ExampleEpisode.called("E5").patient("P5").forms("form").treatedOn(today(15)), // late
                        ExampleEpisode.called("E6").patient("P6").forms("form").treatedOn(today(14)), // open
                        ExampleEpisode.called("E7").patient("P7").forms("form").treatedOn(today(9))) // not yet
                .asOfDay(60)
                .sitting(14, FORM, ANSWERS);
        assertEquals(
                List.of("done", "missed", "closed", "late", "open", "not-yet"),
                clinic.analyse()
                        .expected()
                        .filter(e -> e.visit().name().equals("early"))
                        .map(e -> e.state().code())
                        .toList());
        assertEquals("early form: 5 1 1 1 1 0 {}", counts(clinic).get(1));
    }

    /** An index date so many days before the sixtieth. */
    private static LocalDate today(int daysAgo) {
        return ExampleEpisode.INDEX.plusDays(60 - daysAgo);
    }

    @Test
    void aFormEnteredTwiceWithDifferentAnswersIsReceivedAndIncomplete() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(60)
                .sitting(0, FORM, ANSWERS)
                .sitting(0, FORM, ANSWERS) // the same answers count once
                .sitting(14, FORM, ANSWERS)
                .sitting(14, FORM, "1=20 2=21");
        assertEquals(List.of("E1 before form done", "E1 early form incomplete", "E1 late form missed"), due(clinic));
        assertEquals("before form: 1 0 0 1 1 0 {}", counts(clinic).get(0));
        assertEquals("early form: 1 0 0 1 0 0 {}", counts(clinic).get(1));
        assertEquals(
                List.of(0, 1, 0),
                clinic.analyse().counts().stream().map(VisitCount::enteredTwice).toList());
        assertEquals(List.of(), clinic.analyse().expected().toList().get(1).blankItems());
    }

    /** One that names an episode of the other side is not used in time, so it is not received either, however often entered. */
    @Test
    void aFormOfTheOtherSideIsNotReceived() {
        ExampleClinic once = clinic(ExampleEpisode.called("E1").forms("form").left())
                .asOfDay(60)
                .naming("E1")
                .sitting(14, FORM, ANSWERS);
        assertEquals("missed", early(once));
        assertEquals("missed", early(once.sitting(14, FORM, "1=20 2=21")));
    }

    /** Two forms that cannot be scored: the earlier by time tells the reason, wherever it stands. */
    @Test
    void ofSeveralUnscorableFormsTheEarliestTellsTheReason() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(60)
                .sitting(16, FORM, "1=x")
                .sitting(14, FORM, "1=20");
        assertEquals(
                "early form: 1 0 0 1 0 0 {TOO_FEW_ANSWERED=1}", counts(clinic).get(1));
    }

    /** A form of no scale is received and needs no score. */
    @Test
    void aFormWithoutScalesIsDoneOnceItHasAnAnswer() {
        Instrument tasks = ExampleInstrument.called("tasks")
                .items(2, ExampleInstrument.codes(0, 4))
                .build();
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("tasks")).asOfDay(60).sitting(14, tasks, "1=2");
        assertEquals("done", early(clinic));
    }

    /** All scales may be left out: none of them is asked for, and what came is done. */
    @Test
    void aFormOfOptionalScalesAloneIsDoneOnceItHasAnAnswer() {
        Instrument module = ExampleInstrument.called("module")
                .items(2, ExampleInstrument.codes(0, 4))
                .scale("work", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 8))
                .optional()
                .build();
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("module")).asOfDay(60).sitting(14, module, "1=2");
        assertEquals("done", early(clinic));
    }

    /** Of each hand asked, only the other's columns are filled. Section 3 of the formats. */
    @ParameterizedTest
    @CsvSource({
        // answers on day 14 of an episode that treats the right; state, reasons
        "p_left=1, incomplete, {NO_ANSWERS=1}",
        "p_left=1 w=2, done, {}",
        "p_left=1 p_right=2 w=2, done, {}"
    })
    void onlyTheOtherHandIsReceivedAndScorableByWhatIsAskedOfThePerson(String answers, String state, String reasons) {
        Instrument hands = ExampleInstrument.called("hands")
                .itemPerHand("p", ExampleInstrument.codes(0, 4))
                .item("w", ExampleInstrument.codes(0, 4))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "p")
                .scale("life", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "w")
                .build();
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("hands")).asOfDay(60).sitting(14, hands, answers);
        assertEquals(state, early(clinic));
        assertEquals(
                "early hands: 1 0 0 1 " + (state.equals("done") ? 1 : 0) + " 0 " + reasons,
                counts(clinic).get(1));
    }

    /** Section 3 of the formats: half of the episodes that could have been seen at a visit of the default schedule. */
    @Test
    void halfWithNothingAtAVisitOfTheDefaultScheduleIsAsked() {
        ExampleClinic clinic = new ExampleClinic()
                .episodes(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").patient("P2").forms("form"),
                        ExampleEpisode.called("E3").patient("P3").forms("form"),
                        ExampleEpisode.called("E4").patient("P4").forms("form").closedOnDay(20))
                .asOfDay(60)
                .sitting(0, FORM, ANSWERS)
                .sitting(10, FORM, ANSWERS)
                .of("P2", Optional.of(Side.RIGHT))
                .sitting(0, FORM, ANSWERS)
                .sitting(15, OTHER, ANSWERS) // any form counts
                .of("P3", Optional.of(Side.RIGHT))
                .sitting(0, FORM, ANSWERS)
                .sitting(40, FORM, ANSWERS);
        // before: 3 of 4 came; 2 weeks: 2 of 3 that could have been seen; 6 weeks: 1 of 3
        assertEquals(
                List.of("schedule note-schedule-may-differ: Half or more of the episodes that could have been seen have"
                        + " nothing at: 6 weeks (2 of 3). This is the default schedule. Is it your clinic's own?"),
                clinic.scheduleNotes());
        assertEquals(List.of(), clinic.asOfDay(59).scheduleNotes(), "the window is not over");
    }

    @Test
    void exactlyHalfIsEnoughToAskAndTheBaselineIsAVisitToo() {
        ExampleClinic clinic = new ExampleClinic()
                .episodes(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").patient("P2").forms("form"))
                .asOfDay(1)
                .sitting(0, FORM, ANSWERS);
        assertEquals(
                List.of("schedule note-schedule-may-differ: Half or more of the episodes that could have been seen have"
                        + " nothing at: baseline (1 of 2). This is the default schedule. Is it your clinic's own?"),
                clinic.scheduleNotes());
    }

    @Test
    void aScheduleOfTheClinicsOwnIsNotAskedAbout() {
        assertEquals(
                List.of(), clinic(ExampleEpisode.called("E1").forms("form")).scheduleNotes());
    }

    /** Each form exported to a file of its own: what lies in another row of the same sitting is not missing. */
    @Test
    void aSittingSpreadOverSeveralRowsIsOne() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form", "other"))
                .asOfDay(25)
                .sitting(14, FORM, ANSWERS)
                .sitting(14, OTHER, ANSWERS)
                .sitting(14, FORM, ANSWERS);
        assertEquals(
                List.of("E1 early form done", "E1 early other done"),
                due(clinic).stream().filter(d -> d.contains("early")).toList());
        assertEquals(
                List.of(
                        "responses.csv row 4 duplicate-sitting: form stands twice for this patient, day and side, first in"
                                + " responses.csv row 2. The answers are the same and count once. Remove one of the two."),
                clinic.problems().stream().filter(p -> p.contains("duplicate")).toList());
    }

    @Test
    void aFormIsScorableWhenEveryScaleThatMayNotBeLeftOutIsScored() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(60)
                .sitting(0, FORM, ANSWERS + " work=3") // the module has a gap
                .sitting(14, FORM, "1=20 work=3")
                .sitting(40, FORM, "1=20 2=51");
        assertEquals(
                List.of(
                        "before form: 1 0 0 1 1 0 {}",
                        "early form: 1 0 0 1 0 0 {TOO_FEW_ANSWERED=1}",
                        "late form: 1 0 0 1 0 0 {RESPONSE_NOT_ALLOWED=1}"),
                counts(clinic));
        assertEquals(
                List.of("E1 before form done", "E1 early form incomplete", "E1 late form incomplete"), due(clinic));
        assertEquals(
                List.of(List.of(), List.of("2"), List.of()), // of the scale that failed, not of the module
                clinic.analyse()
                        .expected()
                        .map(d ->
                                d.blankItems().stream().map(i -> i.id().value()).toList())
                        .toList());
    }

    @Test
    void ofSeveralFormsInAWindowAScorableOneCounts() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(60)
                .sitting(12, FORM, "1=20")
                .sitting(14, FORM, ANSWERS)
                .sitting(15, FORM, "2=20");
        assertEquals("early form: 1 0 0 1 1 0 {}", counts(clinic).get(1));
        assertEquals("E1 early form done", due(clinic).get(1));
    }

    @Test
    void aFormOfAnotherNameIsNotReceivedForIt() {
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("form")).asOfDay(60).sitting(14, OTHER, ANSWERS);
        assertEquals("early form: 1 0 0 0 0 0 {}", counts(clinic).get(1));
    }

    @Test
    void reasonsAreAddedUpOverEpisodes() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").patient("P2").forms("form"),
                        ExampleEpisode.called("E3").patient("P3").forms("form"),
                        ExampleEpisode.called("E4").patient("P4").forms("form"))
                .asOfDay(60)
                .sitting(14, FORM, "1=20")
                .of("P2", Optional.of(Side.RIGHT))
                .sitting(14, FORM, "2=20")
                .of("P3", Optional.of(Side.RIGHT))
                .sitting(14, FORM, "1=x")
                .of("P4", Optional.of(Side.RIGHT))
                .sitting(14, FORM, ANSWERS);
        assertEquals(
                "early form: 4 0 0 4 1 0 {TOO_FEW_ANSWERED=2, RESPONSE_NOT_ALLOWED=1}",
                counts(clinic).get(1));
    }

    /** Day 5 is nearer to target 0 than to 14, day 8 nearer to 14, day 22 nearer to 14 than to 40, day 60 nearest to 40. */
    @Test
    void formsOutsideEveryWindowCountAtTheNearestTarget() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .sitting(5, FORM, ANSWERS)
                .sitting(8, FORM, ANSWERS)
                .sitting(22, FORM, ANSWERS)
                .sitting(60, FORM, ANSWERS)
                .sitting(61, OTHER, ANSWERS);
        assertEquals(
                List.of(
                        "before form: 1 0 0 0 0 1 {}",
                        "early form: 1 0 0 0 0 2 {}",
                        "late form: 1 0 0 0 0 1 {}",
                        "late other: 0 0 0 0 0 1 {}"),
                counts(clinic));
    }

    /** Items of each hand: only the treated hand's are asked for by telephone, and one of the person. */
    @Test
    void blankItemsAreThoseOfTheTreatedHandAndThePerson() {
        Instrument hands = ExampleInstrument.called("hands")
                .itemPerHand("p_1", ExampleInstrument.codes(0, 4))
                .itemPerHand("p_2", ExampleInstrument.codes(0, 4))
                .item("w", ExampleInstrument.codes(0, 4))
                .item("v", ExampleInstrument.codes(0, 4))
                .scale(
                        "pain",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 12),
                        "p_1",
                        "p_2",
                        "w")
                .scale(
                        "life",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 8),
                        "w",
                        "v")
                .parts("total", new PartRule.SumOfParts(PUBLISHED), new Range(0, 20), "pain", "life")
                .build();
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").left().forms("hands"))
                .asOfDay(60)
                .of("P1", Optional.of(Side.BOTH))
                .sitting(14, hands, "p_1_right=1 p_2_left=1");
        ExpectedForm form = clinic.analyse().expected().toList().get(1);
        assertEquals(ExpectedForm.State.INCOMPLETE, form.state());
        assertEquals(
                List.of("p_1", "w", "v"),
                form.blankItems().stream().map(i -> i.id().value()).toList());
    }

    @Test
    void theOtherHandDoesNotMakeAFormUnscorable() {
        Instrument hands = ExampleInstrument.called("hands")
                .itemPerHand("p_1", ExampleInstrument.codes(0, 4))
                .itemPerHand("p_2", ExampleInstrument.codes(0, 4))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 8))
                .build();
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("hands"))
                .asOfDay(60)
                .of("P1", Optional.of(Side.BOTH))
                .sitting(14, hands, "p_1_right=1 p_2_right=2 p_1_left=1");
        assertEquals(
                ExpectedForm.State.DONE,
                clinic.analyse().expected().toList().get(1).state());
    }

    @Test
    void anExpectedFormLeftBlankIsNotReceived() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(60)
                .sitting(14, OTHER, ANSWERS)
                .with(FORM, "", RequestedColumns.form(FORM));
        assertEquals("early form: 1 0 0 0 0 0 {}", counts(clinic).get(1));
        assertEquals(2, clinic.scores().size());
    }
}
