package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

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
    private static final Instrument FORM = form("form");
    private static final Instrument OTHER = form("other");
    private static final String ANSWERS = "1=20 2=20";

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
    private static ExampleClinic clinic(ExampleEpisode... episodes) {
        return new ExampleClinic()
                .schedule(
                        ExampleClinic.visit("before", 0, -90, 0, Visit.Role.BASELINE),
                        ExampleClinic.visit("early", 14, 10, 20, Visit.Role.FOLLOW_UP),
                        ExampleClinic.visit("late", 40, 30, 50, Visit.Role.FOLLOW_UP))
                .episodes(episodes);
    }

    /** {@code visit form: expected closed notYet received scorable outside} and the reasons. */
    private static List<String> counts(ExampleClinic clinic) {
        return clinic.look().counts().stream()
                .map(c -> c.visit().name() + " " + c.instrument() + ": " + c.expected() + " " + c.closed() + " "
                        + c.notYet() + " " + c.received() + " " + c.scorable() + " " + c.outsideWindow() + " "
                        + c.notScorable())
                .toList();
    }

    private static List<String> due(ExampleClinic clinic) {
        return clinic.look().due().stream()
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
                        "E1 before form received",
                        "E1 before other missed",
                        "E1 early form overdue",
                        "E1 early other overdue",
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
                        "E1 before form received",
                        "E1 before other received",
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
                        "episodes.csv row 2 note-expected-forms-unknown: Patient P1, episode E1: expected forms unknown."
                                + " Fill in forms of the episode or of the schedule."),
                clinic.problems().stream().filter(p -> p.contains("expected")).toList());
    }

    @ParameterizedTest
    @CsvSource({
        // as of day; state of the early form, its count of expected, closed, not yet; the episode closed on day 13
        "9, not-yet, 0 0 1",
        "10, due, 1 0 0",
        "12, due, 1 0 0",
        "13, , 0 1 0",
        "25, , 0 1 0"
    })
    void whatIsDueEndsOnTheDayOfClosure(int today, String state, String count) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form").closedOnDay(13))
                .asOfDay(today);
        assertEquals(
                Optional.ofNullable(state),
                clinic.look().due().stream()
                        .filter(d -> d.visit().name().equals("early"))
                        .map(d -> d.state().code())
                        .findFirst());
        assertEquals("early form: " + count + " 0 0 0 {}", counts(clinic).get(1));
    }

    @ParameterizedTest
    @CsvSource({
        // closed on day; counted as expected or closed at the early visit (target 14), still due on day 60
        "13, 0 1 0, ",
        "14, 1 0 0, ",
        "19, 1 0 0, ",
        "20, 1 0 0, missed",
        "21, 1 0 0, missed"
    })
    void aClosureBeforeTheTargetCountsAsClosed(int closed, String count, String state) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form").closedOnDay(closed))
                .asOfDay(60);
        assertEquals("early form: " + count + " 0 0 0 {}", counts(clinic).get(1));
        assertEquals(
                Optional.ofNullable(state),
                clinic.look().due().stream()
                        .filter(d -> d.visit().name().equals("early"))
                        .map(d -> d.state().code())
                        .findFirst());
    }

    @Test
    void aFormThatCameCountsWhateverTheClosure() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form").closedOnDay(5))
                .asOfDay(60)
                .sitting(14, FORM, ANSWERS);
        assertEquals("early form: 1 0 0 1 1 0 {}", counts(clinic).get(1));
        assertEquals(List.of("E1 before form missed", "E1 early form received"), due(clinic));
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
                List.of(
                        "E1 before form received",
                        "E1 early form received-not-scorable",
                        "E1 late form received-not-scorable"),
                due(clinic));
        assertEquals(
                List.of(List.of(), List.of("2"), List.of()), // of the scale that failed, not of the module
                clinic.look().due().stream()
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
        assertEquals("E1 early form received", due(clinic).get(1));
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
        ExpectedForm form = clinic.look().due().get(1);
        assertEquals(ExpectedForm.State.RECEIVED_NOT_SCORABLE, form.state());
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
        assertEquals(ExpectedForm.State.RECEIVED, clinic.look().due().get(1).state());
    }

    @Test
    void anExpectedFormLeftBlankIsNotReceived() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(60)
                .sitting(14, OTHER, ANSWERS)
                .with(FORM, "", RequestedColumns.form(FORM));
        assertEquals("early form: 1 0 0 0 0 0 {}", counts(clinic).get(1));
        assertEquals(2, clinic.look().scores().size());
    }
}
