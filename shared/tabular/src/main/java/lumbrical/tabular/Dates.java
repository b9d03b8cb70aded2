package lumbrical.tabular;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.time.format.ResolverStyle;
import java.util.Locale;
import java.util.Optional;
import lumbrical.problem.Place;

/** Reads dates: ISO 8601, and one further pattern where the user names it. Nothing is guessed. */
public final class Dates {
    private final Optional<DateTimeFormatter> further;

    private Dates(Optional<DateTimeFormatter> further) {
        this.further = further;
    }

    /** A day and, if given, a time, which only orders sittings of one day. */
    public record Moment(LocalDate day, Optional<LocalTime> time) {}

    /** @throws UnreadableInputException if the pattern is none */
    public static Dates of(Optional<String> pattern) {
        return new Dates(pattern.map(Dates::formatter));
    }

    private static DateTimeFormatter formatter(String pattern) {
        try {
            String strict = pattern.replace('y', 'u');
            return DateTimeFormatter.ofPattern(strict, Locale.ROOT).withResolverStyle(ResolverStyle.STRICT);
        } catch (IllegalArgumentException e) {
            throw new UnreadableInputException(
                    Place.of("--date-format"),
                    "'" + Cells.printable(pattern) + "' is no date pattern. Use one such as dd.MM.yyyy.");
        }
    }

    /** The moment written in {@code text}, or empty. */
    public Optional<Moment> parse(String text) {
        Optional<Moment> iso = iso(text);
        return iso.isPresent() ? iso : further.flatMap(format -> byPattern(text, format));
    }

    private static Optional<Moment> byPattern(String text, DateTimeFormatter format) {
        try {
            return Optional.of(new Moment(LocalDate.parse(text, format), Optional.empty()));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    private static Optional<Moment> iso(String text) {
        if (text.length() < 10 || text.charAt(4) != '-' || text.charAt(7) != '-') {
            return Optional.empty();
        }
        try {
            if (text.length() == 10) {
                return Optional.of(new Moment(LocalDate.parse(text), Optional.empty()));
            }
            String withT = text.substring(0, 10) + 'T' + text.substring(11);
            if (text.charAt(10) != 'T' && text.charAt(10) != ' ') {
                return Optional.empty();
            }
            int zone = Math.max(withT.indexOf('+', 11), Math.max(withT.indexOf('-', 11), withT.indexOf('Z', 11)));
            LocalDateTime moment =
                    zone > 0 ? OffsetDateTime.parse(withT).toLocalDateTime() : LocalDateTime.parse(withT);
            return Optional.of(new Moment(moment.toLocalDate(), Optional.of(moment.toLocalTime())));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }
}
