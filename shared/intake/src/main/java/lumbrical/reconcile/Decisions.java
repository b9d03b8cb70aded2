package lumbrical.reconcile;

import java.nio.charset.Charset;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.problem.Problem;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Dates;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/** The table of differences, with the decisions that a person wrote into it. */
public final class Decisions {
    private static final List<String> REQUIRED =
            List.of("patient", "completed_on", "side", "episode", "column", "first", "second", "decision", "value");

    private Decisions() {}

    private record Key(String patient, String completedOn, String side, String episode, String column) {
        /** Whether ids differ in nothing but what a spreadsheet takes away, and all else but the day is the same. */
        boolean isAlike(Key other) {
            return bare(patient).equals(bare(other.patient))
                    && bare(episode).equals(bare(other.episode))
                    && side.equals(other.side)
                    && column.equals(other.column);
        }

        private static String bare(String id) {
            return id.strip().replaceFirst("^0+(?=.)", "");
        }

        static Key of(Difference difference) {
            return new Key(
                    difference.sitting().patient(),
                    DifferenceTable.moment(difference.sitting()),
                    DifferenceTable.side(difference.sitting()),
                    difference.sitting().episode().orElse(""),
                    difference.column());
        }
    }

    /**
     * The differences with the decisions in {@code input}; rows without a decision leave theirs open, and so does a value that the
     * item does not allow.
     *
     * @param encoding encoding of a CSV file that is not Unicode
     * @param catalogue the instruments
     * @param problems takes values that are not allowed
     * @throws UnreadableInputException if the file cannot be read or a row has a fault: a cell on which the tables do not differ, entries that
     *     are no longer those of the tables, a word that decides nothing, or a cell decided twice
     */
    public static List<Difference> apply(
            Input input,
            Optional<Charset> encoding,
            List<Difference> differences,
            Catalogue catalogue,
            Consumer<Problem> problems) {
        SimpleTable table = SimpleTable.readSettings(input, encoding, REQUIRED);
        Map<Key, Difference> open = new HashMap<>();
        differences.forEach(d -> open.put(Key.of(d), d));
        Map<Difference, Decision> made = new HashMap<>();
        Set<Key> seen = new HashSet<>();
        for (SimpleTable.Row row : table.rows()) {
            if (row.get("decision").isEmpty() && row.get("value").isEmpty()) {
                continue;
            }
            Key key = key(row, open);
            Difference difference = Optional.ofNullable(open.get(key))
                    .orElseThrow(() -> new UnreadableInputException(
                            row.place(),
                            "the tables do not differ here. Decide in the table of differences as it is now.",
                            List.of(Remedy.of(Remedy.Kind.WITHOUT_DECISIONS))));
            if (!seen.add(key)) {
                throw new UnreadableInputException(row.place(), "this cell is decided twice. Keep one row.");
            }
            Decision decision = decision(row, difference);
            Optional<Decision> allowed = decision.word().equals("value")
                    ? DecidedValue.of(difference.column(), decision.value(), catalogue)
                            .map(value -> new Decision(decision.word(), value))
                    : Optional.of(decision);
            allowed.ifPresentOrElse(
                    taken -> made.put(difference, taken),
                    () -> problems.accept(DecidedValue.problem(
                            row.place().in("value"), difference.column(), decision.value(), catalogue)));
        }
        List<Difference> decided = new ArrayList<>();
        differences.forEach(d -> decided.add(made.containsKey(d) ? d.decided(made.get(d)) : d));
        return decided;
    }

    /**
     * The key of a row; a day that a spreadsheet has written in its own style is the day of the one difference that it fits, and an id
     * that lost its leading zeros the id of the one that has it.
     */
    private static Key key(SimpleTable.Row row, Map<Key, Difference> open) {
        String written = row.get("completed_on");
        Key asWritten = keyOn(row, written);
        if (open.containsKey(asWritten)) {
            return asWritten;
        }
        List<Key> fitting = Dates.daysThatFit(written).stream()
                .map(day -> keyOn(row, day.toString()))
                .filter(open::containsKey)
                .distinct()
                .toList();
        if (fitting.size() == 1) {
            return fitting.get(0);
        }
        List<LocalDate> days = Dates.daysThatFit(written);
        List<Key> alike = open.keySet().stream()
                .filter(key -> key.isAlike(asWritten)
                        && (key.completedOn().equals(written)
                                || days.stream()
                                        .anyMatch(day -> key.completedOn().equals(day.toString()))))
                .toList();
        return alike.size() == 1 ? alike.get(0) : asWritten;
    }

    private static Key keyOn(SimpleTable.Row row, String day) {
        return new Key(
                row.get("patient"),
                day,
                row.get("side"),
                row.get("episode"),
                row.get("column").toLowerCase(Locale.ROOT));
    }

    /** Whether an entry is the one of the table, be it with the decimal comma or the dates of another language. */
    private static boolean same(String written, String entry) {
        return written.equals(entry)
                || Cells.number(entry).isPresent() && written.replace(',', '.').equals(entry)
                || Dates.daysThatFit(written).stream()
                        .anyMatch(day -> day.toString().equals(entry));
    }

    private static Decision decision(SimpleTable.Row row, Difference difference) {
        if (!same(row.get("first"), difference.first()) || !same(row.get("second"), difference.second())) {
            throw new UnreadableInputException(
                    row.place(), "the entries are not those of the tables any more. Decide again in a new table.");
        }
        String word = row.get("decision").toLowerCase(Locale.ROOT);
        if (!Decision.WORDS.contains(word)) {
            throw new UnreadableInputException(
                    row.place().in("decision"),
                    "write first, second or blank; or value, and what the form says under value.");
        }
        boolean needsValue = word.equals("value");
        if (needsValue == row.get("value").isEmpty()) {
            throw new UnreadableInputException(
                    row.place().in("value"),
                    needsValue ? "write what the form says." : "leave it blank, or write value under decision.");
        }
        String has = difference.kind() == Difference.Kind.SITTING_ONLY_FIRST ? "first" : "second";
        if (difference.column().equals(Difference.WHOLE)
                && !List.of(has, "blank").contains(word)) {
            throw new UnreadableInputException(
                    row.place().in("decision"),
                    "only the " + has + " table has these forms: write " + has
                            + " to take it, or blank to leave it out.");
        }
        if (difference.column().equals("patient") && word.equals("blank")) {
            throw new UnreadableInputException(
                    row.place().in("decision"), "a form needs its patient: write first, second or value.");
        }
        if (!difference.column().equals("completed_on")) {
            return new Decision(word, row.get("value"));
        }
        if (word.equals("blank")) {
            throw new UnreadableInputException(
                    row.place().in("decision"), "a form needs its day: write first, second or value.");
        }
        return new Decision(word, needsValue ? day(row) : "");
    }

    private static String day(SimpleTable.Row row) {
        String text = row.get("value");
        Optional<LocalDate> iso = Dates.of(Optional.empty()).parse(text).map(Dates.Moment::day);
        List<LocalDate> days = Dates.daysThatFit(text);
        return iso.or(() -> days.stream().findFirst().filter(only -> days.size() == 1))
                .map(LocalDate::toString)
                .orElseThrow(() -> new UnreadableInputException(
                        row.place().in("value"), "write the day as year-month-day, such as 2026-03-09."));
    }
}
