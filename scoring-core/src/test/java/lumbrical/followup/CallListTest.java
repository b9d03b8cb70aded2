package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Collectors;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whom to call: section 14 of the formats, an invented clinic, days counted by hand. */
class CallListTest {
    private static final Instrument FORM = form("form");
    private static final Instrument OTHER = form("other");
    private static final String ANSWERS = "1=20 2=20";

    private static Instrument form(String id) {
        return ExampleInstrument.called(id)
                .items(2, ExampleInstrument.codes(0, 50))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100))
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

    private static ExampleClinic twoForms() {
        return clinic(ExampleEpisode.called("E1").forms("form", "other")).sitting(0, FORM, ANSWERS);
    }

    private static List<String> rows(ExampleClinic clinic, CallList.Selection selection) {
        return CallList.of(clinic.analyse(), selection).stream()
                .map(r -> r.episode().id() + " " + r.visit().name() + " "
                        + r.state().code() + " "
                        + r.forms().stream().map(InstrumentId::value).collect(Collectors.joining("+")) + " "
                        + r.daysLeft())
                .toList();
    }

    @ParameterizedTest
    @CsvSource({
        // as of day; whom to call now
        "9, ",
        "10, E1 early open form+other 10",
        "14, E1 early open form+other 6",
        "15, E1 early late form+other 5",
        "20, E1 early late form+other 0",
        "21, ",
        "30, E1 late open form+other 20",
        "50, E1 late late form+other 0",
        "51, "
    })
    void openAndLateFormsAreCalledFor(int today, String row) {
        assertEquals(
                Optional.ofNullable(row).stream().toList(), rows(twoForms().asOfDay(today), CallList.Selection.NOW));
    }

    /** A form that cannot be scored can be rescued while its window is open; forms in another state have a row of their own. */
    @ParameterizedTest
    @CsvSource({"15, true", "20, true", "21, false"})
    void anIncompleteFormIsCalledForWhileItsWindowIsOpen(int today, boolean called) {
        ExampleClinic clinic = twoForms().sitting(12, OTHER, "1=20").asOfDay(today);
        assertEquals(
                called
                        ? List.of("E1 early late form " + (20 - today), "E1 early incomplete other " + (20 - today))
                        : List.of(),
                rows(clinic, CallList.Selection.NOW));
    }

    @Test
    void allIsEveryStateOfEveryVisit() {
        ExampleClinic clinic = twoForms().sitting(14, FORM, ANSWERS).asOfDay(25);
        assertEquals(
                List.of(
                        "E1 before done form -25",
                        "E1 before missed other -25",
                        "E1 early done form -5",
                        "E1 early missed other -5",
                        "E1 late not-yet form+other 25"),
                rows(clinic, CallList.Selection.ALL));
    }

    private static CallList.Selection states(ExpectedForm.State... states) {
        return new CallList.Selection(Set.of(states), Optional.empty(), Optional.empty(), OptionalInt.empty());
    }

    @Test
    void chosenStatesAreShownWhenever() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").patient("P2").forms("form").closedOnDay(12))
                .sitting(14, FORM, "1=20")
                .asOfDay(60);
        assertEquals(List.of("E1 early incomplete form -40"), rows(clinic, states(ExpectedForm.State.INCOMPLETE)));
        assertEquals(List.of("E2 early closed form -40"), rows(clinic, states(ExpectedForm.State.CLOSED)));
        assertEquals(
                List.of("E1 before missed form -60", "E2 before missed form -60", "E1 late missed form -10"),
                rows(clinic, states(ExpectedForm.State.MISSED)));
        assertEquals(List.of(), rows(clinic, CallList.Selection.NOW));
    }

    /** Targets are day 14 and day 40; both bounds are included. */
    @ParameterizedTest
    @CsvSource({
        "14, , early late",
        "15, , late",
        "40, , late",
        "41, , ''",
        ", 40, before early late",
        ", 39, before early",
        ", 14, before early",
        ", 13, before",
        "14, 40, early late",
        "14, 39, early",
        "15, 39, ''"
    })
    void boundsOfTheTargetNarrowWhateverIsShown(Integer from, Integer to, String visits) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form")).asOfDay(5);
        CallList.Selection selection =
                new CallList.Selection(CallList.Selection.ALL.states(), day(from), day(to), OptionalInt.empty());
        List<String> expected = visits.isEmpty() ? List.of() : List.of(visits.split(" "));
        assertEquals(
                expected,
                CallList.of(clinic.analyse(), selection).stream()
                        .map(r -> r.visit().name())
                        .toList());
    }

    private static Optional<LocalDate> day(Integer day) {
        return Optional.ofNullable(day).map(ExampleEpisode.INDEX::plusDays);
    }

    /** The early window opens on day 10, the late one on day 30. */
    @ParameterizedTest
    @CsvSource({"5, 4, ''", "5, 5, early", "5, 24, early", "5, 25, early late", "12, 17, early", "12, 18, early late"})
    void alsoWhatOpensWithinSoManyDays(int today, int next, String visits) {
        ExampleClinic clinic = clinic(ExampleEpisode.called("E1").forms("form")).asOfDay(today);
        CallList.Selection selection =
                new CallList.Selection(Set.of(), Optional.empty(), Optional.empty(), OptionalInt.of(next));
        assertEquals(
                visits.isEmpty() ? List.of() : List.of(visits.split(" ")),
                CallList.of(clinic.analyse(), selection).stream()
                        .map(r -> r.visit().name())
                        .toList());
    }

    /** Of equal closes the order of the episodes; treated a day earlier, the window closes a day earlier. */
    @Test
    void theSoonestClosingComesFirst() {
        ExampleClinic clinic = clinic(
                        ExampleEpisode.called("E1").forms("form"),
                        ExampleEpisode.called("E2").patient("P2").forms("form"),
                        ExampleEpisode.called("E3")
                                .patient("P3")
                                .forms("form")
                                .treatedOn(ExampleEpisode.INDEX.minusDays(1)))
                .asOfDay(12);
        assertEquals(
                List.of("E3 early open form 7", "E1 early open form 8", "E2 early open form 8"),
                rows(clinic, CallList.Selection.NOW));
        CallRow row = CallList.of(clinic.analyse(), CallList.Selection.NOW).get(1);
        assertEquals(
                List.of(
                        ExampleEpisode.INDEX.plusDays(10),
                        ExampleEpisode.INDEX.plusDays(14),
                        ExampleEpisode.INDEX.plusDays(20)),
                List.of(row.opens(), row.target(), row.closes()));
    }

    /** The forms that an episode names are asked of its sittings, and of no other's. */
    @Test
    void aSittingIsAskedForTheFormsOfItsEpisode() {
        List<Episode> episodes = List.of(
                ExampleEpisode.called("E1").forms("form", "other").build(),
                ExampleEpisode.called("E2").left().forms("other").build());
        EpisodeForms forms = new EpisodeForms(episodes, Schedule.DEFAULT);
        assertEquals("[form, other]", asked(forms, "P1", Side.RIGHT));
        assertEquals("[other]", asked(forms, "P1", Side.LEFT));
        assertEquals("[form, other]", asked(forms, "P1", Side.BOTH));
        assertEquals("[]", asked(forms, "P9", Side.RIGHT));
        EpisodeForms none = new EpisodeForms(List.of(ExampleEpisode.called("E1").build()), Schedule.DEFAULT);
        assertEquals("[]", asked(none, "P1", Side.RIGHT));
    }

    private static String asked(EpisodeForms forms, String patient, Side side) {
        return forms.of(new ExampleClinic()
                        .of(patient, Optional.of(side))
                        .sitting(0, FORM, ANSWERS)
                        .forms()
                        .get(0)
                        .sitting())
                .toString();
    }
}
