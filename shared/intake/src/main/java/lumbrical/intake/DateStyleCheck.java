package lumbrical.intake;

import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;

/** Whether a style of dates that the user named fits a column of a file, and which would. */
final class DateStyleCheck {
    /** Different texts looked at; a clinic has a day a text. */
    private static final int MOST = 20_000;

    private static final int ISO_LENGTH = 10;

    private final Dates iso = Dates.of(Optional.empty());
    private final Optional<String> style;
    private final String column;
    /** How often each text stands in the column that is no ISO date, and whether the style named reads it. */
    private final Map<String, Seen> texts = new LinkedHashMap<>();

    private record Seen(long times, boolean fits) {
        Seen again() {
            return new Seen(times + 1, fits);
        }
    }

    DateStyleCheck(Optional<String> style, String column) {
        this.style = style;
        this.column = column;
    }

    /** Looks at one date of the column. */
    void see(String text, Optional<Dates.Moment> moment) {
        if (style.isEmpty() || text.length() >= ISO_LENGTH && iso.parse(text).isPresent()) {
            return;
        }
        Seen before = texts.get(text);
        if (before != null) {
            texts.put(text, before.again());
        } else if (texts.size() < MOST) {
            texts.put(text, new Seen(1, moment.isPresent()));
        }
    }

    /** What is to be told of the column: that the style fits no date of it, or that another may be meant. */
    Optional<Problem> problem(Place file) {
        long all = count(texts.keySet());
        Set<String> fitting = new LinkedHashSet<>(texts.keySet());
        fitting.removeIf(text -> !texts.get(text).fits());
        long fits = count(fitting);
        if (style.isEmpty() || all == fits) {
            return Optional.empty();
        }
        List<String> fitAll = Dates.stylesThatFitAll(texts.keySet());
        return fits == 0
                ? Optional.of(fitsNone(file, fitAll))
                : Optional.of(new Problem(
                        file.in(column),
                        Cells.printable(style.orElse("")),
                        ProblemCode.NOTE_DATE_STYLE_IN_DOUBT,
                        "This style fits " + fits + " of " + all + " dates that are not ISO dates. " + others(fitting)
                                + " If another style is meant, day and month are swapped where this one fits."));
    }

    private Problem fitsNone(Place file, List<String> fitAll) {
        return new Problem(
                file.in(column),
                Cells.printable(style.orElse("")),
                ProblemCode.DATE_STYLE_FITS_NONE,
                "This style fits no date of the file."
                        + (fitAll.isEmpty()
                                ? " Look at the column of dates."
                                : " These would fit all: " + String.join(", ", fitAll) + "."),
                fitAll.size() == 1 ? List.of(new Remedy(Remedy.Kind.DATE_STYLE, fitAll.get(0))) : List.of());
    }

    /** How many dates the best of the other styles fits. */
    private String others(Set<String> fitting) {
        Map<String, Set<String>> byStyle = new LinkedHashMap<>();
        for (String text : texts.keySet()) {
            Dates.stylesThatFit(text).forEach(other -> byStyle.computeIfAbsent(other, o -> new HashSet<>())
                    .add(text));
        }
        return byStyle.entrySet().stream()
                .filter(other -> !other.getValue().equals(fitting))
                .max(Comparator.comparingLong(other -> count(other.getValue())))
                .map(other -> other.getKey() + " fits " + count(other.getValue()) + ".")
                .orElse("No common style fits the others.");
    }

    private long count(Collection<String> some) {
        return some.stream().mapToLong(text -> texts.get(text).times()).sum();
    }
}
