package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
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

    /** Such as {@code E1 6 weeks FOLLOW_UP} for each score, in the order of the input. */
    private static List<String> placed(ExampleClinic clinic) {
        return clinic.analyse().forms().stream()
                .flatMap(f -> f.fold(
                        a -> a.scores().stream()
                                .map(s -> s.at().episode().id() + " "
                                        + s.at().visitName().orElse("no time") + " " + s.use()),
                        u -> Stream.of("none " + u.why().code())))
                .toList();
    }

    @Test
    void aPatientWithoutAnEpisode() {
        ExampleClinic clinic = clinic().sitting(0, FORM, ANSWERS);
        assertEquals(List.of("none episode-not-found"), placed(clinic));
        assertEquals(
                List.of("responses.csv row 2, column patient episode-not-found P1: The patient has no episode. The"
                        + " forms are scored, but belong to no episode. Add the episode, or correct the id."),
                clinic.problems());
    }

    @Test
    void aBlankSittingAsksForNothing() {
        assertEquals(List.of(), clinic().sitting(0, FORM, "").problems());
        assertEquals(List.of(), clinic().sitting(0, FORM, "").analyse().forms());
        ExampleClinic expected = clinic().sitting(0, FORM, "").with(FORM, "", RequestedColumns.form(FORM));
        assertEquals(List.of("none episode-not-found"), placed(expected));
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
                                + " The forms are scored, but belong to no episode. Add the episode, or correct the side."),
                clinic.problems());
    }

    @Test
    void anEpisodeNamedAndNotThere() {
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("form")).naming("E7").sitting(0, FORM, ANSWERS);
        assertEquals(List.of("none episode-not-found"), placed(clinic));
        assertEquals(
                List.of(
                        "responses.csv row 2, column episode episode-not-found E7: The patient has no episode of this"
                                + " name. The forms are scored, but belong to no episode. Add the episode, or correct the name."),
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
                        + " left side. The forms are listed but not used in time. Correct side or episode."),
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
                        + " forms have no side. They are scored, but belong to no episode. Fill in side or episode.",
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

    /** Section 3 of the formats: nothing tells them apart, so nothing is guessed. */
    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {"RIGHT, 0", "-, 0", "RIGHT, 950"})
    void twoEpisodesOfOneSideWithTheSameIndexDateAreAmbiguous(Side side, int day) {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").forms("form"))
                .of("P1", Optional.ofNullable(side))
                .sitting(day, FORM, ANSWERS);
        assertEquals(List.of("none episode-ambiguous"), placed(clinic));
        assertEquals(
                List.of(
                        "responses.csv row 2, column episode episode-ambiguous: The patient has two episodes of this side"
                                + " with the same index date: E1, E2. The forms are scored, but belong to no episode."
                                + " Fill in episode, or"
                                + " correct the index date."),
                clinic.problems());
    }

    @Test
    void namedByItsIdAnEpisodeIsNotAmbiguous() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").forms("form"))
                .naming("E2")
                .sitting(0, FORM, ANSWERS);
        assertEquals(List.of("E2 baseline BASELINE"), placed(clinic));
        assertEquals(List.of(), clinic.problems());
    }

    /** The window comes first: an episode in whose window the day lies needs no comparison with two others. */
    @Test
    void aWindowDecidesBeforeTheIndexDate() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").forms("form").treatedOn(ExampleEpisode.INDEX.plusDays(1000)),
                        ExampleEpisode.called("E3").forms("form").treatedOn(ExampleEpisode.INDEX.plusDays(1000)))
                .sitting(42, FORM, ANSWERS);
        assertEquals(List.of("E1 6 weeks FOLLOW_UP"), placed(clinic));
    }

    @Test
    void severalEpisodesWithoutADateAreAmbiguousToo() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").withoutDate(),
                        ExampleEpisode.called("E2").withoutDate(),
                        ExampleEpisode.called("E3").withoutDate())
                .sitting(0, FORM, ANSWERS);
        assertEquals(
                List.of("responses.csv row 2, column episode episode-ambiguous: The patient has 3 episodes of this side"
                        + " without an index date: E1, E2, E3. The forms are scored, but belong to no episode. Fill in episode,"
                        + " or correct the index date."),
                clinic.problems());
    }

    @Test
    void ofBothSidesAnAmbiguousOneLeavesTheSittingUnassigned() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1"),
                        ExampleEpisode.called("E2").left(),
                        ExampleEpisode.called("E3").left())
                .of("P1", Optional.of(Side.BOTH))
                .sitting(0, FORM, ANSWERS);
        assertEquals(List.of("none episode-ambiguous"), placed(clinic));
    }

    private static final String ALIKE =
            "', which differs only in leading zeros, case or blanks. Write both in the same way; in a"
                    + " spreadsheet give the ids the cell format 'text'.";

    @ParameterizedTest
    @CsvSource({
        // id in the episodes, id in the responses; whether they are taken for one another
        "P1, p1, true",
        "P1, 'P 1', true",
        "P1, ' P1', true",
        "7, 007, true",
        "007, 7, true",
        "0, 000, true",
        "7, 70, false",
        "P1, P2, false",
        "P1, P11, false"
    })
    void anIdThatDiffersInZerosCaseOrBlanksIsNamed(String known, String written, boolean alike) {
        String other = alike ? "The table of episodes has '" + known + ALIKE : "Add the episode, or correct the id.";
        assertEquals(
                List.of("responses.csv row 2, column patient episode-not-found " + written + ": The patient has no"
                        + " episode. The forms are scored, but belong to no episode. " + other),
                clinic(ExampleEpisode.called("E1").patient(known).forms("form"))
                        .of(written, Optional.of(Side.RIGHT))
                        .sitting(0, FORM, ANSWERS)
                        .problems());
        assertEquals(
                alike
                        ? List.of(
                                "responses.csv row 2, column patient episode-not-found " + written + ": The patient has"
                                        + " no episode. The forms are scored, but belong to no episode. " + other)
                        : List.of("responses.csv row 2, column episode episode-not-found E1: The patient has no episode"
                                + " of this name. The forms are scored, but belong to no episode. Add the episode, or correct"
                                + " the name."),
                clinic(ExampleEpisode.called("E1").patient(known).forms("form"))
                        .of(written, Optional.of(Side.RIGHT))
                        .naming("E1")
                        .sitting(0, FORM, ANSWERS)
                        .problems(),
                "whether or not the sitting names its episode");
        other = alike ? "The table of episodes has '" + known + ALIKE : "Add the episode, or correct the name.";
        assertEquals(
                List.of("responses.csv row 2, column episode episode-not-found " + written + ": The patient has no"
                        + " episode of this name. The forms are scored, but belong to no episode. " + other),
                clinic(ExampleEpisode.called(known).forms("form"))
                        .naming(written)
                        .sitting(0, FORM, ANSWERS)
                        .problems());
    }

    @Test
    void ofSeveralIdsThatLookAlikeTheFirstIsNamed() {
        assertEquals(
                List.of("responses.csv row 2, column patient episode-not-found p1: The patient has no episode. The"
                        + " forms are scored, but belong to no episode. The table of episodes has '0P1"
                        + ALIKE),
                clinic(
                                ExampleEpisode.called("E1").patient("P1").forms("form"),
                                ExampleEpisode.called("E1").patient("0P1").forms("form"),
                                ExampleEpisode.called("E1").patient("P 1").forms("form"))
                        .of("p1", Optional.of(Side.RIGHT))
                        .sitting(0, FORM, ANSWERS)
                        .problems());
    }

    @ParameterizedTest
    @CsvSource({"2024, false", "2025, true"})
    void aSittingBeforeTheYearOfBirthIsSaid(int born, boolean said) {
        ExampleClinic clinic =
                clinic(ExampleEpisode.called("E1").forms("form").bornIn(born)).sitting(0, FORM, ANSWERS);
        assertEquals(
                said
                        ? List.of("responses.csv row 2, column completed_on date-before-birth: The date lies before the"
                                + " patient's year of birth in episodes.csv row 2. Correct one of them.")
                        : List.of(),
                clinic.problems());
    }

    @Test
    void outsideEveryWindowIsNoted() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form")).sitting(3, FORM, ANSWERS);
        assertEquals(List.of("E1 unscheduled NOT_USED"), placed(clinic));
        assertEquals(
                List.of("responses.csv row 2 note-unscheduled: Day 3 of the episode lies in no window of the"
                        + " schedule. The forms are listed and not used for change."),
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
                List.of("responses.csv row 3 duplicate-sitting: form stands twice for this patient, day and side,"
                        + " first in responses.csv"
                        + " row 2. The answers are the same and count once. Remove one of the two."),
                same.problems());
        assertEquals(List.of("E1 baseline BASELINE", "E1 baseline NOT_USED"), placed(same));
        ExampleClinic other = clinic(ExampleEpisode.called("E1").forms("form"))
                .sitting(0, FORM, ANSWERS)
                .sitting(0, FORM, "1=20 2=21");
        assertEquals(
                List.of("responses.csv row 3 duplicate-sitting: form stands twice for this patient, day and side,"
                        + " first in responses.csv"
                        + " row 2. The answers differ, so neither is used in time. Remove the wrong one."),
                other.problems());
        assertEquals(List.of("E1 baseline NOT_USED", "E1 baseline NOT_USED"), placed(other));
    }

    /** Once two differ, a third that repeats the first settles nothing, wherever it stands. */
    @ParameterizedTest
    @CsvSource({"20, 21, 20", "20, 20, 21", "21, 20, 20"})
    void ofThreeFormsOfWhichOneDiffersNoneIsUsed(int first, int second, int third) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form"))
                .asOfDay(0)
                .sitting(0, FORM, "1=20 2=" + first)
                .sitting(0, FORM, "1=20 2=" + second)
                .sitting(0, FORM, "1=20 2=" + third);
        assertEquals(List.of("E1 baseline NOT_USED", "E1 baseline NOT_USED", "E1 baseline NOT_USED"), placed(clinic));
        assertEquals(2, clinic.problems().size());
        VisitCount count = clinic.analyse().counts().get(0);
        assertEquals(
                List.of(1, 1, 0, 1),
                List.of(count.expected(), count.received(), count.scorable(), count.enteredTwice()));
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
        List<ChangeRow> changes = clinic(
                        ExampleEpisode.called("E1"), ExampleEpisode.called("E2").patient("P0"))
                .of("P0", Optional.of(Side.RIGHT))
                .sitting(42, two, ANSWERS)
                .of("P1", Optional.of(Side.RIGHT))
                .sitting(91, two, "2=20") // the scale of item 1 gives no row
                .with(FORM, ANSWERS)
                .sitting(42, two, ANSWERS)
                .changes();
        assertEquals(
                List.of("P1 form total 91", "P1 two z 42", "P1 two a 42", "P1 two a 91", "P0 two z 42", "P0 two a 42"),
                changes.stream()
                        .map(c -> c.followUp().form().sitting().patient() + " "
                                + c.followUp().form().instrument().id() + " "
                                + c.followUp().scale().id() + " "
                                + c.followUp().at().day().orElseThrow())
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
        return clinic.analyse().grips().stream()
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
                clinic.changes().stream()
                        .map(c -> c.followUp().scale().id()
                                + c.followUp()
                                        .result()
                                        .hand()
                                        .map(h -> "/" + h.code())
                                        .orElse("")
                                + " " + c.change().improvement().orElseThrow())
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
                clinic.scores().stream().map(s -> s.use().name()).toList());
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

    private static final String ONLY_LEFT =
            "Of hands only the left hand is filled in, but episode E1 treats the right one."
                    + " Its scores of that hand are listed and not used in time. Correct the hand or the episode.";

    /** Section 3 of the formats: of the columns of each hand only the other's; what is asked of the person is used. */
    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {
                "RIGHT, turn_left=1 carry=2, true",
                "-, turn_left=1 carry=2, true",
                "BOTH, turn_left=1 carry=2, false",
                "RIGHT, turn_left=1 turn_right=0 carry=2, false",
                "RIGHT, turn_right=1 carry=2, false",
                "RIGHT, carry=2, false"
            })
    void onlyTheOtherHandsColumnsFilledIsSaid(Side side, String answers, boolean said) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("hands"))
                .of("P1", Optional.ofNullable(side))
                .sitting(-1, HANDS, answers);
        assertEquals(
                said ? List.of("responses.csv row 2 side-differs-from-episode left: " + ONLY_LEFT) : List.of(),
                clinic.problems());
        assertEquals(
                List.of("life"),
                clinic.scores().stream()
                        .filter(s -> s.use() == AssignedScore.Use.BASELINE
                                && s.result().hand().isEmpty())
                        .map(s -> s.scale().id().value())
                        .toList());
    }

    /** A sitting that names an episode of the other side is listed with that episode, once, and is no part of its course. */
    @Test
    void aSittingOfTheOtherSideIsNoPartOfTheEpisodesProfile() {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("hands"))
                .of("P1", Optional.of(Side.LEFT))
                .naming("E1")
                .sitting(-1, HANDS, "turn_left=1 carry=2");
        assertEquals(List.of("E1 baseline left key 25.0", "E1 baseline person hook 50.0"), grips(clinic));
        assertEquals(List.of(), clinic.analyse().episodes().get(0).grips());
        assertEquals(List.of(), clinic.analyse().episodes().get(0).series());
        assertEquals(
                List.of("responses.csv row 2, column side side-differs-from-episode left: The episode named treats the"
                        + " right side. The forms are listed but not used in time. Correct side or episode."),
                clinic.problems());
    }

    @Test
    void anEpisodeKnowsItsOwnProfile() {
        FollowUpResult result = clinic(
                        ExampleEpisode.called("E1"), ExampleEpisode.called("E2").left())
                .of("P1", Optional.of(Side.BOTH))
                .sitting(-1, HANDS, "turn_right=4 turn_left=1 carry=2")
                .analyse();
        assertEquals(
                List.of("right key", "person hook", "left key", "person hook"),
                result.episodes().stream()
                        .flatMap(e -> e.grips().stream())
                        .map(g -> g.hand().map(Side::code).orElse("person") + " "
                                + g.grip().code())
                        .toList());
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
