package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Dates by ISO 8601 (4.1.2.2 extended calendar date, 4.3.2 date and time), and by the one style a user names. */
class DatesTest {
    private static final Dates ISO = Dates.of(Optional.empty());

    private static Optional<LocalDate> day(Dates dates, String text) {
        return dates.parse(text).map(Dates.Moment::day);
    }

    @ParameterizedTest
    @CsvSource({"2026-03-09", "2024-02-29", "2000-02-29", "0001-01-01"})
    void readsACalendarDate(LocalDate day) {
        assertEquals(Optional.of(new Dates.Moment(day, Optional.empty())), ISO.parse(day.toString()));
    }

    @ParameterizedTest
    @CsvSource({
        "2026-03-09T08:05, 08:05",
        "2026-03-09 08:05, 08:05",
        "2026-03-09T08:05:30, 08:05:30",
        "2026-03-09T23:59:59.5, 23:59:59.5",
        "2026-03-09T23:30:00Z, 23:30",
        "2026-03-09T23:30+02:00, 23:30",
        "2026-03-09T00:30:00-11:00, 00:30"
    })
    void readsDateAndTimeAsWrittenWithoutATimeZoneShift(String text, LocalTime time) {
        assertEquals(Optional.of(new Dates.Moment(LocalDate.of(2026, 3, 9), Optional.of(time))), ISO.parse(text));
    }

    /** 1900 and 2025 are no leap years by the Gregorian rule; the rest is another style, which is never guessed. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "2025-02-29",
                "1900-02-29",
                "2026-02-30",
                "2026-13-01",
                "2026-00-10",
                "09.03.2026",
                "03/09/2026",
                "20260309",
                "2026-3-9",
                "26-03-09",
                "2026-03-09X08:05",
                "2026-03-09T25:00",
                "2026-03-09T",
                "2026-03",
                "2026/03/09",
                "2026-03/09",
                "45000",
                ""
            })
    void readsNothingElse(String text) {
        assertEquals(Optional.empty(), ISO.parse(text));
    }

    @ParameterizedTest
    @CsvSource({
        "dd.MM.yyyy, 09.03.2026",
        "d.M.yyyy, 9.3.2026",
        "MM/dd/yyyy, 03/09/2026",
        "yyyyMMdd, 20260309",
        "dd-MM-yyyy, 09-03-2026"
    })
    void aStyleThatIsNamedIsReadBesideIso(String style, String text) {
        Dates dates = Dates.of(Optional.of(style));
        assertEquals(Optional.of(LocalDate.of(2026, 3, 9)), day(dates, text));
        assertEquals(Optional.of(LocalDate.of(2026, 3, 9)), day(dates, "2026-03-09"));
    }

    @Test
    void aDayThatDoesNotExistIsNoneInAnyStyle() {
        Dates dates = Dates.of(Optional.of("dd.MM.yyyy"));
        assertEquals(Optional.empty(), day(dates, "30.02.2026"));
        assertEquals(Optional.empty(), day(dates, "31.04.2026"));
        assertEquals(Optional.empty(), day(dates, "9.3.2026"), "one digit where two are named");
    }

    @Test
    void aPatternThatIsNoneIsToldInOneSentence() {
        UnreadableInputException refused =
                assertThrows(UnreadableInputException.class, () -> Dates.of(Optional.of("DD.bb.jjjj")));
        assertEquals("date style: 'DD.bb.jjjj' is no date pattern. Use one such as dd.MM.yyyy.", refused.getMessage());
        assertEquals("date style", refused.place().file());
    }

    /** The 9th of March or the 3rd of September: both styles are named, neither is chosen. */
    @Test
    void namesEveryStyleThatFits() {
        assertEquals(List.of("dd/MM/yyyy", "d/M/yyyy", "MM/dd/yyyy", "M/d/yyyy"), Dates.stylesThatFit("09/03/2026"));
        assertEquals(List.of("dd.MM.yyyy", "d.M.yyyy"), Dates.stylesThatFit("13.03.2026"));
        assertEquals(List.of("MM/dd/yyyy", "M/d/yyyy"), Dates.stylesThatFit("03/13/2026"));
        assertEquals(List.of("dd-MM-yyyy"), Dates.stylesThatFit("09-03-2026"));
        assertEquals(List.of("yyyyMMdd"), Dates.stylesThatFit("20260309"));
        assertEquals(List.of(), Dates.stylesThatFit("March 9"));
    }

    /** The 13th can be no month; of styles that make the same days only the first is named. */
    @Test
    void aColumnTellsMoreThanOneDate() {
        assertEquals(List.of("dd/MM/yyyy", "MM/dd/yyyy"), Dates.stylesThatFitAll(List.of("09/03/2026")));
        assertEquals(List.of("dd/MM/yyyy"), Dates.stylesThatFitAll(List.of("09/03/2026", "13/03/2026")));
        assertEquals(List.of(), Dates.stylesThatFitAll(List.of("09/03/2026", "09.03.2026")));
        assertEquals(List.of(), Dates.stylesThatFitAll(List.of()));
        assertEquals(List.of(), Dates.stylesThatFit("9".repeat(41)), "no text as long is a day");
    }

    @Test
    void namesEveryDayThatATextMayMean() {
        assertEquals(List.of(LocalDate.of(2026, 3, 9), LocalDate.of(2026, 9, 3)), Dates.daysThatFit("09/03/2026"));
        assertEquals(List.of(LocalDate.of(2026, 3, 9)), Dates.daysThatFit("2026/03/09"));
        assertEquals(List.of(), Dates.daysThatFit("yesterday"));
    }

    /** Serial numbers count days from 1899-12-30 (ECMA-376 part 1, 18.17.4.1): 20000 is 1954-10-03, 79999 is 2119-01-10. */
    @Test
    void knowsTheNumberOfADayWhenItSeesOne() {
        assertEquals(LocalDate.of(1954, 10, 3), LocalDate.of(1899, 12, 30).plusDays(20_000));
        assertEquals(LocalDate.of(2119, 1, 10), LocalDate.of(1899, 12, 30).plusDays(79_999));
        assertTrue(Dates.looksLikeSheetNumber("20000"));
        assertTrue(Dates.looksLikeSheetNumber("79999"));
        assertTrue(Dates.looksLikeSheetNumber("46090.5"));
        assertFalse(Dates.looksLikeSheetNumber("19999"));
        assertFalse(Dates.looksLikeSheetNumber("80000"));
        assertFalse(Dates.looksLikeSheetNumber("460900"));
        assertFalse(Dates.looksLikeSheetNumber("46090."));
        assertFalse(Dates.looksLikeSheetNumber("2026-03-09"));
    }
}
