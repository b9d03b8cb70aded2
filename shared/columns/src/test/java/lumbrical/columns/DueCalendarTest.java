package lumbrical.columns;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.followup.Episode;
import lumbrical.followup.ExpectedForm;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import org.junit.jupiter.api.Test;

/** The lines that RFC 5545 asks for: sections 3.1 (folding), 3.3.11 (escapes), 3.6.1 (events). */
class DueCalendarTest {
    private static ExpectedForm due(String patient, ExpectedForm.State state) {
        Episode episode = new Episode(
                patient,
                "E1",
                Side.RIGHT,
                Optional.of(LocalDate.of(2026, 10, 1)),
                Optional.empty(),
                Optional.empty(),
                OptionalInt.empty(),
                Optional.empty(),
                Optional.empty(),
                List.of(),
                Optional.empty(),
                true,
                Map.of(),
                Place.of("episodes.csv", 2));
        Visit visit = new Visit("6 weeks", 42, 28, 59, Visit.Role.FOLLOW_UP, List.of(), true);
        return new ExpectedForm(
                episode,
                visit,
                new InstrumentId("prwe"),
                LocalDate.of(2026, 10, 29),
                LocalDate.of(2026, 11, 12),
                LocalDate.of(2026, 11, 29),
                state,
                4,
                List.of());
    }

    @Test
    void anOpenFormIsAnAllDayEventThatEndsTheDayAfterItsWindow() {
        assertEquals(
                String.join(
                        "\r\n",
                        "BEGIN:VCALENDAR",
                        "VERSION:2.0",
                        "PRODID:-//Lumbrical//due//EN",
                        "CALSCALE:GREGORIAN",
                        "BEGIN:VEVENT",
                        "UID:P1-E1-6-weeks-prwe@lumbrical",
                        "DTSTAMP:20261125T000000Z",
                        "DTSTART;VALUE=DATE:20261029",
                        "DTEND;VALUE=DATE:20261130",
                        "SUMMARY:P1 E1: prwe\\, 6 weeks",
                        "DESCRIPTION:target 2026-11-12\\; overdue as of 2026-11-25",
                        "TRANSP:TRANSPARENT",
                        "END:VEVENT",
                        "END:VCALENDAR",
                        ""),
                DueCalendar.of(
                        List.of(due("P1", ExpectedForm.State.OVERDUE), due("P2", ExpectedForm.State.RECEIVED)),
                        LocalDate.of(2026, 11, 25)));
    }

    @Test
    void noLineIsLongerThan75Octets() {
        String text =
                DueCalendar.of(List.of(due("\u00d6".repeat(80), ExpectedForm.State.DUE)), LocalDate.of(2026, 11, 25));
        for (String line : text.split("\r\n")) {
            assertTrue(line.getBytes(StandardCharsets.UTF_8).length <= 75, line);
        }
        assertTrue(text.replace("\r\n ", "").contains("\u00d6".repeat(80)));
    }
}
