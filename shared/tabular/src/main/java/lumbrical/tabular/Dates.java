package lumbrical.tabular;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.LocalTime;
import java.time.OffsetDateTime;
import java.time.format.DateTimeFormatter;
import java.time.format.ResolverStyle;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
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
                    Place.of("date style"),
                    "'" + Cells.printable(pattern) + "' is no date pattern. Use one such as dd.MM.yyyy.");
        }
    }

    /** Common styles of a day besides ISO; common practice, no source. */
    private static final List<String> STYLES = List.of(
            "dd.MM.yyyy",
            "d.M.yyyy",
            "dd/MM/yyyy",
            "d/M/yyyy",
            "MM/dd/yyyy",
            "M/d/yyyy",
            "dd-MM-yyyy",
            "yyyy/MM/dd",
            "yyyyMMdd",
            "dd.MM.yy",
            "d.M.yy",
            "dd/MM/yy",
            "d/M/yy",
            "MM/dd/yy",
            "M/d/yy");

    /** The styles by which {@code text} is a day, the commonest first; none is ever used unless the user names it. */
    public static List<String> stylesThatFit(String text) {
        return STYLES.stream()
                .filter(style -> byPattern(text, formatter(style)).isPresent())
                .toList();
    }

    /** The days that {@code text} may mean in one of the common styles; a caller must know by other means which. */
    public static List<LocalDate> daysThatFit(String text) {
        return STYLES.stream()
                .flatMap(style -> byPattern(text, formatter(style)).stream())
                .map(Moment::day)
                .distinct()
                .toList();
    }

    /**
     * The styles by which every one of {@code texts} is a day, the commonest first; of styles that make the same days of them only the
     * first. Two of them mean that the texts cannot say which is right.
     */
    public static List<String> stylesThatFitAll(Collection<String> texts) {
        Map<List<LocalDate>, String> byDays = new LinkedHashMap<>();
        for (String style : STYLES) {
            DateTimeFormatter format = formatter(style);
            List<LocalDate> days = texts.stream()
                    .flatMap(text -> byPattern(text, format).stream())
                    .map(Moment::day)
                    .toList();
            if (!texts.isEmpty() && days.size() == texts.size()) {
                byDays.putIfAbsent(days, style);
            }
        }
        return List.copyOf(byDays.values());
    }

    /** Whether {@code text} looks like the number by which a spreadsheet keeps a day, of the years 1954 to 2119. */
    public static boolean looksLikeSheetNumber(String text) {
        return SHEET_NUMBER.matcher(text).matches();
    }

    private static final Pattern SHEET_NUMBER = Pattern.compile("[2-7][0-9]{4}(\\.[0-9]+)?");

    /** The moment written in {@code text}, or empty. */
    public Optional<Moment> parse(String text) {
        Optional<Moment> iso = iso(text);
        return iso.isPresent() ? iso : further.flatMap(format -> byPattern(text, format));
    }

    private static Optional<Moment> byPattern(String text, DateTimeFormatter format) {
        if (text.isEmpty() || text.length() > LONGEST) {
            return Optional.empty();
        }
        try {
            return Optional.of(new Moment(LocalDate.parse(text, format), Optional.empty()));
        } catch (DateTimeException e) {
            return Optional.empty();
        }
    }

    /** No text longer than this is a day in any style that a person would name. */
    private static final int LONGEST = 40;

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
