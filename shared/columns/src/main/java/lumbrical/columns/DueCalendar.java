package lumbrical.columns;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import lumbrical.followup.ExpectedForm;

/**
 * Forms that are due or will be, as an iCalendar file (RFC 5545): an all-day event from the first to the last day of each window.
 * Pseudonyms only.
 */
public final class DueCalendar {
    private static final DateTimeFormatter DAY = DateTimeFormatter.BASIC_ISO_DATE;
    private static final int LINE_OCTETS = 75;

    private DueCalendar() {}

    /** The calendar's text; events of forms not yet received and not missed, in the order of {@code due}. */
    public static String of(List<ExpectedForm> due, LocalDate asOf) {
        StringBuilder text = new StringBuilder();
        line(text, "BEGIN:VCALENDAR");
        line(text, "VERSION:2.0");
        line(text, "PRODID:-//Lumbrical//due//EN");
        line(text, "CALSCALE:GREGORIAN");
        for (ExpectedForm form : due) {
            switch (form.state()) {
                case NOT_YET, DUE, OVERDUE -> event(text, form, asOf);
                case MISSED, RECEIVED, RECEIVED_NOT_SCORABLE -> {}
            }
        }
        line(text, "END:VCALENDAR");
        return text.toString();
    }

    private static void event(StringBuilder text, ExpectedForm form, LocalDate asOf) {
        String patient = form.episode().patient();
        String episode = form.episode().id();
        line(text, "BEGIN:VEVENT");
        line(
                text,
                "UID:"
                        + escaped(String.join(
                                        "-",
                                        patient,
                                        episode,
                                        form.visit().name(),
                                        form.instrument().value())
                                .replace(' ', '-'))
                        + "@lumbrical");
        line(text, "DTSTAMP:" + DAY.format(asOf) + "T000000Z");
        line(text, "DTSTART;VALUE=DATE:" + DAY.format(form.opens()));
        line(text, "DTEND;VALUE=DATE:" + DAY.format(form.closes().plusDays(1))); // the end is not part of the event
        line(
                text,
                "SUMMARY:"
                        + escaped(patient + " " + episode + ": " + form.instrument() + ", "
                                + form.visit().name()));
        line(
                text,
                "DESCRIPTION:"
                        + escaped(
                                "target " + form.target() + "; " + form.state().code() + " as of " + asOf));
        line(text, "TRANSP:TRANSPARENT");
        line(text, "END:VEVENT");
    }

    /** Backslash, semicolon, comma and line breaks as RFC 5545, section 3.3.11, writes them. */
    private static String escaped(String text) {
        return text.replace("\\", "\\\\")
                .replace(";", "\\;")
                .replace(",", "\\,")
                .replace("\r", "")
                .replace("\n", "\\n");
    }

    /** A content line, folded so that no line is longer than 75 octets (section 3.1). */
    private static void line(StringBuilder text, String content) {
        int octets = 0;
        for (int i = 0; i < content.length(); ) {
            int c = content.codePointAt(i);
            int size = new String(Character.toChars(c)).getBytes(StandardCharsets.UTF_8).length;
            if (octets + size > LINE_OCTETS) {
                text.append("\r\n ");
                octets = 1;
            }
            text.appendCodePoint(c);
            octets += size;
            i += Character.charCount(c);
        }
        text.append("\r\n");
    }
}
