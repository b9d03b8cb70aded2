package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.RequestedColumns;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Sittings, episodes and visits: sections 3 and 4 of the formats, with whole messages; invented data. */
class PlacementTest {
    private static final Instrument FORM = form("form");

    private static Instrument form(String id) {
        return ExampleInstrument.called(id)
                .items(2, ExampleInstrument.codes(0, 50))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100))
                .build();
    }

    private static final String ANSWERS = "1=20 2=20";

    private static ExampleClinic clinic(ExampleEpisode... episodes) {
        return new ExampleClinic().episodes(episodes);
    }

    /** Such as {@code E1 6 weeks FOLLOW_UP}. */
    private static List<String> placed(ExampleClinic clinic) {
        return clinic.look().scores().stream()
                .map(s -> s.placement().map(p -> p.episode().id() + " ").orElse("none ")
                        + s.visitName().orElse("no time") + " "
                        + s.placement().map(p -> p.use().name()).orElse(""))
                .toList();
    }

    @Test
    void aPatientWithoutAnEpisode() {
        ExampleClinic clinic = clinic().sitting(0, FORM, ANSWERS);
        assertEquals(List.of("none no time "), placed(clinic));
        assertEquals(
                List.of(
                        "responses.csv row 2, column patient episode-not-found P1: The patient has no episode. The sitting"
                                + " is scored but not assigned. Add the episode, or correct the id."),
                clinic.problems());
    }

    @Test
    void aBlankSittingAsksForNothing() {
        assertEquals(List.of(), clinic().sitting(0, FORM, "").problems());
        assertEquals(List.of(), clinic().sitting(0, FORM, "").look().scores());
        ExampleClinic expected = clinic().sitting(0, FORM, "").with(FORM, "", RequestedColumns.form(FORM));
        assertEquals(2, expected.look().placed().size());
        assertEquals(1, expected.look().scores().size());
        assertEquals(1, expected.problems().size());
    }

    @Test
    void aSideWithoutAnEpisode() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .of("P1", Optional.of(Side.LEFT))
                .sitting(0, FORM, ANSWERS);
        assertEquals(
                List.of(
                        "responses.csv row 2, column side episode-not-found left: The patient has no episode of this side."
                                + " The sitting is scored but not assigned. Add the episode, or correct the side."),
                clinic.problems());
    }

    @Test
    void anEpisodeNamedAndNotThere() {
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("form")).naming("E7").sitting(0, FORM, ANSWERS);
        assertEquals(List.of("none no time "), placed(clinic));
        assertEquals(
                List.of("responses.csv row 2, column episode episode-not-found E7: The patient has no episode of this"
                        + " name. The sitting is scored but not assigned. Add the episode, or correct the name."),
                clinic.problems());
    }

    @Test
    void anEpisodeNamedOfTheOtherSide() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form").left())
                .naming("E1")
                .sitting(0, FORM, ANSWERS);
        assertEquals(List.of("E1 baseline NOT_USED"), placed(clinic));
        assertEquals(
                List.of("responses.csv row 2, column side side-differs-from-episode right: The episode named treats the"
                        + " left side. The sitting is listed but not used in time. Correct side or episode."),
                clinic.problems());
    }

    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {"RIGHT", "BOTH", "-"})
    void anEpisodeNamedTakesAnySideThatIncludesIt(Side side) {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1"), ExampleEpisode.called("E2").left())
                .of("P1", Optional.ofNullable(side))
                .naming("E1")
                .sitting(0, FORM, ANSWERS);
        assertEquals(List.of("E1 baseline BASELINE"), placed(clinic));
        assertEquals(
                List.of(),
                clinic.problems().stream().filter(p -> !p.contains("note-")).toList());
    }

    @Test
    void aBlankSideWithEpisodesOnBothSides() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1"), ExampleEpisode.called("E2").left())
                .of("P1", Optional.empty())
                .sitting(0, FORM, ANSWERS);
        assertEquals(
                "responses.csv row 2, column side episode-ambiguous: The patient has episodes on both sides and the"
                        + " sitting has no side. It is scored but not assigned. Fill in side or episode.",
                clinic.problems().get(0));
    }

    @Test
    void aBlankSideWithEpisodesOnOneSideIsThatSide() {
        assertEquals(
                List.of("E1 baseline BASELINE"),
                placed(clinic(ExampleEpisode.called("E1"))
                        .of("P1", Optional.empty())
                        .sitting(0, FORM, ANSWERS)));
    }

    @Test
    void ofSeveralEpisodesOutsideEveryWindowTheLatestCounts() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E2").treatedOn(ExampleEpisode.INDEX.plusDays(10)),
                        ExampleEpisode.called("E1"),
                        ExampleEpisode.called("E3").withoutDate())
                .sitting(950, FORM, ANSWERS);
        assertEquals(List.of("E2 unscheduled NOT_USED"), placed(clinic));
    }

    @Test
    void anEpisodeWithoutADatePlacesNothingInTime() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").withoutDate()).sitting(0, FORM, ANSWERS);
        assertEquals(List.of("E1 no time NOT_USED"), placed(clinic));
        assertEquals(List.of(), clinic.problems());
    }

    @ParameterizedTest
    @CsvSource({"0, baseline BASELINE", "1, no time NOT_USED"})
    void theDayOfTheLookCountsAndTheNextIsTheFuture(int day, String place) {
        assertEquals(
                List.of("E1 " + place),
                placed(clinic(ExampleEpisode.called("E1")).asOfDay(0).sitting(day, FORM, ANSWERS)));
    }

    @Test
    void outsideEveryWindowIsNoted() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form")).sitting(3, FORM, ANSWERS);
        assertEquals(List.of("E1 unscheduled NOT_USED"), placed(clinic));
        assertEquals(
                List.of(
                        "responses.csv row 2 note-unscheduled: Day 3 of the episode lies in no window of the schedule. The"
                                + " sitting is listed and not used for change."),
                clinic.problems());
    }

    @Test
    void aMissingBaselineIsNotedOncePerFormAndEpisode() {
        Instrument two = ExampleInstrument.called("two")
                .items(2, ExampleInstrument.codes(0, 50))
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 50), "1")
                .scale("b", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 50), "2")
                .build();
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("two"))
                .sitting(42, two, ANSWERS)
                .with(FORM, ANSWERS);
        assertEquals(
                List.of(
                        "episodes.csv row 2 note-baseline-missing: Patient P1, episode E1: no scorable form in the baseline"
                                + " window. Changes cannot be assessed.",
                        "episodes.csv row 2 note-baseline-missing: Patient P1, episode E1: no scorable two in the baseline"
                                + " window. Changes cannot be assessed."),
                clinic.problems());
    }

    @ParameterizedTest
    @CsvSource({"-1, false", "0, false", "1, true", "2, true"})
    void aBaselineAfterTreatmentStartIsNoted(int day, boolean noted) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .schedule(
                        ExampleClinic.visit("first", 0, -7, 10, Visit.Role.BASELINE),
                        ExampleClinic.visit("later", 42, 28, 59, Visit.Role.FOLLOW_UP))
                .sitting(day, FORM, ANSWERS);
        List<String> expected = noted
                ? List.of(
                        "episodes.csv row 2 note-baseline-after-treatment: Patient P1, episode E1: the form baseline was"
                                + " taken after treatment start, as the schedule allows.")
                : List.of();
        assertEquals(expected, clinic.problems());
    }

    @Test
    void noBaselineIsMissedWithoutAFollowUp() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form")).sitting(-1, FORM, "1=20");
        assertEquals(List.of(), clinic.problems());
    }

    @Test
    void sameFormTwiceSaysWhereTheFirstStands() {
        ExampleClinic same = clinic(ExampleEpisode.called("E1").forms("form"))
                .sitting(0, FORM, ANSWERS)
                .sitting(0, FORM, ANSWERS);
        assertEquals(
                List.of(
                        "responses.csv row 3 duplicate-sitting: form stands twice for this sitting, first in responses.csv"
                                + " row 2. The answers are the same and count once. Remove one of the two."),
                same.problems());
        assertEquals(List.of("E1 baseline BASELINE", "E1 baseline NOT_USED"), placed(same));
        ExampleClinic other = clinic(ExampleEpisode.called("E1").forms("form"))
                .sitting(0, FORM, ANSWERS)
                .sitting(0, FORM, "1=20 2=21");
        assertEquals(
                List.of(
                        "responses.csv row 3 duplicate-sitting: form stands twice for this sitting, first in responses.csv"
                                + " row 2. The answers differ, so neither is used in time. Remove the wrong one."),
                other.problems());
        assertEquals(List.of("E1 baseline NOT_USED", "E1 baseline NOT_USED"), placed(other));
    }

    @Test
    void blankFormsOtherFormsAndOtherTimesAreNoDoubles() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .sitting(0, FORM, "")
                .with(form("other"), ANSWERS)
                .sitting(0, FORM, ANSWERS)
                .at("08:00")
                .sitting(0, FORM, ANSWERS);
        assertEquals(List.of(), clinic.problems());
    }

    /** An early sitting is as far from the target as a late one: the earlier counts, whatever the order of the rows. */
    @Test
    void distanceToTheTargetCountsOnBothSides() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1"))
                .sitting(47, FORM, "1=1 2=1") // 5 late
                .sitting(36, FORM, "1=2 2=2") // 6 early
                .sitting(-1, FORM, ANSWERS);
        assertEquals(List.of("E1 6 weeks FOLLOW_UP", "E1 6 weeks NOT_USED", "E1 baseline BASELINE"), placed(clinic));
        ExampleClinic tie = clinic(ExampleEpisode.called("E1"))
                .sitting(47, FORM, "1=1 2=1") // 5 late
                .sitting(37, FORM, "1=2 2=2"); // 5 early
        assertEquals(List.of("E1 6 weeks NOT_USED", "E1 6 weeks FOLLOW_UP"), placed(tie));
    }

    @Test
    void changesFollowEpisodesFormsScalesAndTime() {
        Instrument two = ExampleInstrument.called("two")
                .items(2, ExampleInstrument.codes(0, 50))
                .scale("z", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 50), "1")
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 50), "2")
                .build();
        List<Change> changes = clinic(
                        ExampleEpisode.called("E1"), ExampleEpisode.called("E2").patient("P0"))
                .of("P0", Optional.of(Side.RIGHT))
                .sitting(42, two, ANSWERS)
                .of("P1", Optional.of(Side.RIGHT))
                .sitting(91, two, "2=20") // the scale of item 1 gives no row
                .with(FORM, ANSWERS)
                .sitting(42, two, ANSWERS)
                .look()
                .changes();
        assertEquals(
                List.of("P1 form total 91", "P1 two z 42", "P1 two a 42", "P1 two a 91", "P0 two z 42", "P0 two a 42"),
                changes.stream()
                        .map(c -> c.followUp().form().sitting().patient() + " "
                                + c.followUp().form().instrument().id() + " "
                                + c.followUp().scale().id() + " "
                                + c.followUp().placement().orElseThrow().day().orElseThrow())
                        .toList());
    }

    /** Turning a key is asked of each hand, and carrying of the person. */
    private static final Instrument HANDS = ExampleInstrument.called("hands")
            .item("turn", ExampleInstrument.codes(0, 4), Direction.LOWER, true, Optional.of(Grip.KEY))
            .item("carry", ExampleInstrument.codes(0, 4), Direction.LOWER, false, Optional.of(Grip.HOOK))
            .scale("use", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "turn")
            .scale("life", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "carry")
            .handsAveraged(OURS)
            .build();

    private static List<String> grips(ExampleClinic clinic) {
        return clinic.look().grips().stream()
                .map(g -> g.episode().orElse("none") + " " + g.visit().orElse("no time") + " "
                        + g.hand().map(Side::code).orElse("person") + " "
                        + g.grip().code() + " " + g.difficulty())
                .toList();
    }

    @Test
    void ofBothHandsTheTreatedOneCounts() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1"))
                .of("P1", Optional.of(Side.BOTH))
                .sitting(-1, HANDS, "turn_right=4 turn_left=1 carry=2")
                .sitting(42, HANDS, "turn_right=2 turn_left=1 carry=1");
        assertEquals(
                List.of("use/right 2.0", "life 1.0"),
                clinic.look().changes().stream()
                        .map(c -> c.followUp().scale().id()
                                + c.followUp()
                                        .result()
                                        .hand()
                                        .map(h -> "/" + h.code())
                                        .orElse("")
                                + " " + c.improvement().orElseThrow())
                        .toList());
        assertEquals(
                List.of(
                        "BASELINE",
                        "NOT_USED",
                        "NOT_USED",
                        "BASELINE",
                        "FOLLOW_UP",
                        "NOT_USED",
                        "NOT_USED",
                        "FOLLOW_UP"),
                clinic.look().scores().stream()
                        .map(s -> s.placement().orElseThrow().use().name())
                        .toList());
        assertEquals(
                List.of(
                        "E1 baseline right key 100.0",
                        "E1 baseline left key 25.0",
                        "E1 baseline person hook 50.0",
                        "E1 6 weeks right key 50.0",
                        "E1 6 weeks left key 25.0",
                        "E1 6 weeks person hook 25.0"),
                grips(clinic));
    }

    @Test
    void withAnEpisodeOnEachSideEachTakesItsHandAndThePerson() {
        assertEquals(
                List.of(
                        "E1 baseline right key 100.0",
                        "E1 baseline person hook 50.0",
                        "E2 unscheduled left key 25.0",
                        "E2 unscheduled person hook 50.0"),
                grips(clinic(
                                ExampleEpisode.called("E1"),
                                ExampleEpisode.called("E2").left().treatedOn(ExampleEpisode.INDEX.minusDays(4)))
                        .of("P1", Optional.of(Side.BOTH))
                        .sitting(-1, HANDS, "turn_right=4 turn_left=1 carry=2")));
    }

    @Test
    void gripsOutOfTimeAndOfNoEpisodeAreListed() {
        assertEquals(List.of("none no time person hook 50.0"), grips(clinic().sitting(0, HANDS, "carry=2")));
        assertEquals(
                List.of("E1 no time person hook 50.0"),
                grips(clinic(ExampleEpisode.called("E1")).asOfDay(-1).sitting(0, HANDS, "carry=2")));
        assertEquals(List.of(), grips(clinic(ExampleEpisode.called("E1")).sitting(0, HANDS, "")));
    }

    private static final Instrument BAG = ExampleInstrument.called("bag")
            .item("lift", ExampleInstrument.codes(0, 4), Direction.LOWER, false, Optional.of(Grip.HOOK))
            .scale("all", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "lift")
            .build();

    /** As where each form was exported to a file of its own: one sitting, one row for each grip, at the sitting's first row. */
    @Test
    void aSittingInSeveralRowsGivesEachGripOnce() {
        assertEquals(
                List.of("E1 baseline person hook 75.0", "E1 6 weeks person hook 25.0", "none no time person hook 0.0"),
                grips(clinic(ExampleEpisode.called("E1"))
                        .sitting(-1, HANDS, "carry=2")
                        .sitting(42, HANDS, "carry=1")
                        .sitting(-1, BAG, "lift=4")
                        .of("P2", Optional.empty())
                        .sitting(-1, BAG, "lift=0")));
    }

    /** What was entered twice counts once where it is the same, and not at all where it differs, as in time. */
    @Test
    void doublesGiveNoGripsOfTheirOwn() {
        assertEquals(
                List.of("none no time person hook 50.0"),
                grips(clinic().sitting(0, HANDS, "carry=2").sitting(0, HANDS, "carry=2")));
        assertEquals(
                List.of("none no time person hook 50.0"),
                grips(clinic().sitting(0, HANDS, "carry=2").with(HANDS, "carry=2")));
        assertEquals(List.of(), grips(clinic().sitting(0, HANDS, "carry=2").sitting(0, HANDS, "carry=3")));
        assertEquals(
                List.of("none no time person hook 100.0"),
                grips(clinic().sitting(0, HANDS, "carry=2")
                        .sitting(0, HANDS, "carry=3")
                        .sitting(0, BAG, "lift=4")));
    }
}
