package lumbrical.columns;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.stream.Collectors;
import lumbrical.followup.CallRow;
import lumbrical.instrument.InstrumentId;

/**
 * The call list as an iCalendar file (RFC 5545): an event of one day for each row, on the target day, or on the as-of day where that
 * has passed. Pseudonyms only.
 */
public final class DueCalendar {
    private static final DateTimeFormatter DAY = DateTimeFormatter.BASIC_ISO_DATE;
    private static final int LINE_OCTETS = 75;

    private DueCalendar() {}

    /** The calendar's text, an event for each row in the order given. */
    public static String of(List<CallRow> rows, LocalDate asOf) {
        StringBuilder text = new StringBuilder();
        line(text, "BEGIN:VCALENDAR");
        line(text, "VERSION:2.0");
        line(text, "PRODID:-//Lumbrical//due//EN");
        line(text, "CALSCALE:GREGORIAN");
        rows.forEach(row -> event(text, row, asOf));
        line(text, "END:VCALENDAR");
        return text.toString();
    }

    private static void event(StringBuilder text, CallRow row, LocalDate asOf) {
        String patient = row.episode().patient();
        String episode = row.episode().id();
        LocalDate on = row.target().isBefore(asOf) ? asOf : row.target();
        String forms = row.forms().stream().map(InstrumentId::value).collect(Collectors.joining(", "));
        line(text, "BEGIN:VEVENT");
        line(
                text,
                "UID:"
                        + escaped(String.join(
                                        "-",
                                        patient,
                                        episode,
                                        row.visit().name(),
                                        row.state().code())
                                .replace(' ', '-'))
                        + "@lumbrical");
        line(text, "DTSTAMP:" + DAY.format(asOf) + "T000000Z");
        line(text, "DTSTART;VALUE=DATE:" + DAY.format(on));
        line(text, "DTEND;VALUE=DATE:" + DAY.format(on.plusDays(1))); // the end is not part of the event
        line(
                text,
                "SUMMARY:"
                        + escaped(patient + " " + episode + ": " + row.visit().name() + ", " + forms));
        line(
                text,
                "DESCRIPTION:"
                        + escaped(row.state().code() + " as of " + asOf + "; target " + row.target() + "; window "
                                + row.opens() + " to " + row.closes()));
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
