package lumbrical.deidentify;

import java.time.temporal.ChronoUnit;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lumbrical.followup.Episode;
import lumbrical.instrument.Side;
import lumbrical.sitting.Sitting;

/** The values of the columns that a profile lets through, and a count of those it does not list. */
final class Attributes {
    /** Ages over 89 are one group (45 CFR 164.514(b)(2)(i)(C)); 90 stands for it. */
    static final int OLDEST = 90;

    private static final String DIED = "died";

    private final Profile profile;
    private final Map<String, Integer> blanked = new TreeMap<>();

    Attributes(Profile profile) {
        this.profile = profile;
    }

    Map<String, Integer> blanked() {
        return blanked;
    }

    /** Of an episode, in the profile's order; columns without a value are left out. */
    Map<String, String> of(Episode episode) {
        Map<String, String> values = new LinkedHashMap<>();
        for (Profile.AllowedColumn column : profile.columns()) {
            if (!ColumnPolicy.OF_SITTING.contains(column.name())) {
                value(episode, column.name())
                        .flatMap(text -> allowed(column, text))
                        .ifPresent(text -> values.put(column.name(), text));
            }
        }
        return values;
    }

    /** Of a sitting, in the profile's order. */
    Map<String, String> of(Sitting sitting) {
        Map<String, String> values = new LinkedHashMap<>();
        for (Profile.AllowedColumn column : profile.columns()) {
            Optional<String> written =
                    switch (column.name()) {
                        case "mode" -> sitting.mode();
                        case "respondent" -> sitting.respondent();
                        case "language" -> sitting.language();
                        default -> Optional.empty();
                    };
            written.flatMap(text -> allowed(column, text)).ifPresent(text -> values.put(column.name(), text));
        }
        return values;
    }

    private Optional<String> allowed(Profile.AllowedColumn column, String text) {
        if (column.name().equals("language")) {
            return count(column, Optional.of(text.strip()).filter(ColumnPolicy::isLanguage));
        }
        if (column.values().isEmpty()) {
            return Optional.of(text); // ours: a number, a side or a word of a fixed list
        }
        return count(
                column,
                column.values().stream()
                        .filter(v -> v.equalsIgnoreCase(text.strip()))
                        .findFirst());
    }

    private Optional<String> count(Profile.AllowedColumn column, Optional<String> value) {
        if (value.isEmpty()) {
            blanked.merge(column.name(), 1, Integer::sum);
        }
        return value;
    }

    private Optional<String> value(Episode episode, String column) {
        return switch (column) {
            case "sex" -> episode.sex();
            case "dominant_side" -> episode.dominantSide().map(Side::code);
            case "condition" -> episode.condition();
            case "procedure" -> episode.procedure();
            case "age" -> age(episode).map(String::valueOf);
            case "age_band" -> age(episode).map(Attributes::band);
            case "closed_reason" ->
                episode.closure().map(Episode.Closure::reason).filter(r -> !r.isEmpty());
            case "closed_day" -> closedDay(episode).map(String::valueOf);
            case "closed_week" -> closedDay(episode).map(day -> String.valueOf(Math.floorDiv(day, 7)));
            default ->
                episode.carried().entrySet().stream()
                        .filter(e -> e.getKey().toLowerCase(Locale.ROOT).equals(column.toLowerCase(Locale.ROOT)))
                        .map(Map.Entry::getValue)
                        .filter(v -> !v.isBlank())
                        .findFirst();
        };
    }

    private Optional<Integer> closedDay(Episode episode) {
        return episode.closure()
                .filter(c -> !hidden(c))
                .flatMap(Episode.Closure::day)
                .flatMap(on -> episode.indexDate().map(index -> (int) ChronoUnit.DAYS.between(index, on)));
    }

    /** A death of which the profile lets no reason out leaves no day either: a closing without a reason would tell it. */
    private boolean hidden(Episode.Closure closure) {
        return closure.reason().equalsIgnoreCase(DIED)
                && profile.column("closed_reason")
                        .filter(c -> !c.values().isEmpty())
                        .filter(c -> c.values().stream().noneMatch(DIED::equalsIgnoreCase))
                        .isPresent();
    }

    /** Year of the index date less year of birth: at most one more than the true age. Ours, since only the year is known. */
    private static Optional<Integer> age(Episode episode) {
        return episode.birthYear().isEmpty()
                ? Optional.empty()
                : episode.indexDate()
                        .map(i -> i.getYear() - episode.birthYear().getAsInt())
                        .filter(years -> years >= 0)
                        .map(years -> Math.min(years, OLDEST));
    }

    /** Ages by tens, those of 90 and over as one: our convention. */
    private static String band(int age) {
        int from = age / 10 * 10;
        return from >= OLDEST ? OLDEST + "+" : from + "-" + (from + 9);
    }
}
