package lumbrical.columns;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import lumbrical.followup.CallRow;
import lumbrical.followup.Episode;
import lumbrical.followup.ExpectedForm;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import org.junit.jupiter.api.Test;

/** The lines that RFC 5545 asks for: sections 3.1 (folding), 3.3.11 (escapes), 3.6.1 (events). */
class DueCalendarTest {
    private static CallRow row(String patient, LocalDate target, ExpectedForm.State state) {
        Visit visit = new Visit("6 weeks", 42, 28, 59, Visit.Role.FOLLOW_UP, List.of(), true);
        return new CallRow(
                Episode.builder(patient, "E1", Side.RIGHT).build(),
                visit,
                LocalDate.of(2026, 10, 29),
                target,
                LocalDate.of(2026, 11, 29),
                state,
                List.of(new InstrumentId("prwe"), new InstrumentId("quickdash")),
                4);
    }

    private static final LocalDate AS_OF = LocalDate.of(2026, 11, 25);

    private static List<String> events(CallRow row) {
        return DueCalendar.of(List.of(row), AS_OF).lines().toList().subList(4, 12);
    }

    @Test
    void aRowIsAnEventOfOneDayOnTheTarget() {
        assertEquals(
                List.of(
                        "BEGIN:VEVENT",
                        "UID:P1-E1-6-weeks-open@lumbrical",
                        "DTSTAMP:20261125T000000Z",
                        "DTSTART;VALUE=DATE:20261127",
                        "DTEND;VALUE=DATE:20261128",
                        "SUMMARY:P1 E1: 6 weeks\\, prwe\\, quickdash",
                        "DESCRIPTION:open as of 2026-11-25\\; target 2026-11-27\\; window 2026-10-29 t",
                        " o 2026-11-29"),
                events(row("P1", LocalDate.of(2026, 11, 27), ExpectedForm.State.OPEN)));
    }

    @Test
    void aTargetThatHasPassedIsToday() {
        List<String> late = events(row("P1", LocalDate.of(2026, 11, 12), ExpectedForm.State.LATE));
        assertEquals("DTSTART;VALUE=DATE:20261125", late.get(3));
        assertEquals("DTEND;VALUE=DATE:20261126", late.get(4));
    }

    @Test
    void theCalendarIsFramedAsTheStandardAsks() {
        assertEquals(
                "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//Lumbrical//due//EN\r\nCALSCALE:GREGORIAN\r\nEND:VCALENDAR\r\n",
                DueCalendar.of(List.of(), AS_OF));
    }

    @Test
    void noLineIsLongerThan75Octets() {
        String text = DueCalendar.of(
                List.of(row("\u00d6".repeat(80), LocalDate.of(2026, 11, 12), ExpectedForm.State.OPEN)), AS_OF);
        for (String line : text.split("\r\n")) {
            assertTrue(line.getBytes(StandardCharsets.UTF_8).length <= 75, line);
        }
        assertTrue(text.replace("\r\n ", "").contains("\u00d6".repeat(80)));
    }
}
