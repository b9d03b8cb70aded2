package lumbrical.reconcile;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Range;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoringOptions;
import lumbrical.statistics.Wilson;

/**
 * Two tables compared. Sittings are paired by patient, day and side; where a table has several of these, by time and episode too.
 * Compared are the columns of items and {@code episode}, {@code mode}, {@code respondent}, {@code language}; columns without a meaning
 * here are not.
 */
public final class Comparison {
    /** What tells one sitting from another. */
    static final List<String> KEY_COLUMNS = List.of("patient", "completed_on", "side");

    private final EnteredTable first;
    private final EnteredTable second;
    private final ScoreEffect effect;
    private final List<String> columns;
    private final Set<String> shared;
    private final List<Pair> pairs = new ArrayList<>();
    private final List<EnteredSitting> onlyFirst = new ArrayList<>();
    private final List<EnteredSitting> onlySecond = new ArrayList<>();
    private final List<Difference> differences = new ArrayList<>();
    private int contradictory;
    private long fields;

    /** A sitting that both tables have. */
    record Pair(EnteredSitting first, EnteredSitting second) {}

    private Comparison(EnteredTable first, EnteredTable second, ScoreEffect effect) {
        this.first = first;
        this.second = second;
        this.effect = effect;
        Set<String> all = new LinkedHashSet<>(first.columns());
        all.addAll(second.columns());
        KEY_COLUMNS.forEach(all::remove);
        this.columns = List.copyOf(all);
        this.shared = new LinkedHashSet<>(first.columns());
        this.shared.retainAll(second.columns());
    }

    /**
     * Compares.
     *
     * @param problems takes sittings in which a table contradicts itself; they are not compared
     */
    public static Comparison of(
            EnteredTable first,
            EnteredTable second,
            Catalogue catalogue,
            ScoringOptions options,
            Consumer<Problem> problems) {
        Comparison comparison = new Comparison(first, second, new ScoreEffect(catalogue, options));
        comparison.pair(problems);
        comparison.pairs.forEach(comparison::compare);
        comparison.onlyFirst.forEach(s -> comparison.alone(s, true));
        comparison.onlySecond.forEach(s -> comparison.alone(s, false));
        return comparison;
    }

    private void pair(Consumer<Problem> problems) {
        Map<PairKey, List<EnteredSitting>> left = usable(first, problems);
        Map<PairKey, List<EnteredSitting>> right = usable(second, problems);
        left.forEach((key, ours) -> {
            List<EnteredSitting> theirs = new ArrayList<>(right.getOrDefault(key, List.of()));
            right.remove(key);
            if (ours.size() == 1 && theirs.size() == 1) {
                pairs.add(new Pair(ours.get(0), theirs.get(0)));
                return;
            }
            for (EnteredSitting one : ours) {
                Optional<EnteredSitting> other = theirs.stream()
                        .filter(t -> t.sitting().key().equals(one.sitting().key()))
                        .findFirst();
                other.ifPresentOrElse(
                        o -> {
                            theirs.remove(o);
                            pairs.add(new Pair(one, o));
                        },
                        () -> onlyFirst.add(one));
            }
            onlySecond.addAll(theirs);
        });
        right.values().forEach(onlySecond::addAll);
        pairs.addAll(MistypedKeys.take(onlyFirst, onlySecond));
        pairs.sort(
                Comparator.comparingInt(p -> p.first().sitting().place().row().orElse(0)));
    }

    private Map<PairKey, List<EnteredSitting>> usable(EnteredTable table, Consumer<Problem> problems) {
        Map<PairKey, List<EnteredSitting>> usable = new LinkedHashMap<>();
        table.groups().forEach((key, sittings) -> {
            for (EnteredSitting sitting : sittings) {
                if (sitting.clash().isPresent()) {
                    contradictory++;
                    problems.accept(new Problem(
                            sitting.clash().get(),
                            "",
                            ProblemCode.DUPLICATE_SITTING,
                            "The forms of this patient and day stand twice in this table, first in "
                                    + sitting.sitting().place()
                                    + ", with different entries. They are not compared. Remove the wrong row."));
                } else {
                    usable.computeIfAbsent(key, k -> new ArrayList<>()).add(sitting);
                }
            }
        });
        return usable;
    }

    private void compare(Pair pair) {
        for (String column : KEY_COLUMNS) {
            String one = key(pair.first(), column);
            String two = key(pair.second(), column);
            if (!one.equals(two)) {
                add(pair, column, Difference.Kind.DIFFERENT, one, two, "", "", false);
            }
        }
        for (String column : columns) {
            Optional<Entry> one = pair.first().cell(column);
            Optional<Entry> two = pair.second().cell(column);
            if (one.isEmpty() && two.isEmpty()) {
                continue;
            }
            boolean counted = shared.contains(column);
            fields += counted ? 1 : 0;
            if (!one.map(Entry::text).equals(two.map(Entry::text))) {
                add(
                        pair,
                        column,
                        one.isPresent() && two.isPresent()
                                ? Difference.Kind.DIFFERENT
                                : one.isPresent() ? Difference.Kind.ONLY_FIRST : Difference.Kind.ONLY_SECOND,
                        one.map(Entry::text).orElse(""),
                        two.map(Entry::text).orElse(""),
                        effect.of(pair.first(), column, one),
                        effect.of(pair.first(), column, two),
                        counted);
            }
        }
    }

    private void add(
            Pair pair,
            String column,
            Difference.Kind kind,
            String one,
            String two,
            String oneScores,
            String twoScores,
            boolean counted) {
        differences.add(new Difference(
                pair.first().sitting(),
                column,
                kind,
                one,
                two,
                oneScores,
                twoScores,
                Optional.of(pair.first().sitting().place()),
                Optional.of(pair.second().sitting().place()),
                counted,
                "",
                Optional.empty()));
    }

    private static String key(EnteredSitting sitting, String column) {
        return switch (column) {
            case "patient" -> sitting.sitting().patient();
            case "completed_on" ->
                sitting.sitting().day().map(LocalDate::toString).orElse("");
            default -> DifferenceTable.side(sitting.sitting());
        };
    }

    private void alone(EnteredSitting sitting, boolean inFirst) {
        differences.add(new Difference(
                sitting.sitting(),
                Difference.WHOLE,
                inFirst ? Difference.Kind.SITTING_ONLY_FIRST : Difference.Kind.SITTING_ONLY_SECOND,
                "",
                "",
                "",
                "",
                inFirst ? Optional.of(sitting.sitting().place()) : Optional.empty(),
                inFirst ? Optional.empty() : Optional.of(sitting.sitting().place()),
                false,
                hint(sitting, inFirst ? onlySecond : onlyFirst),
                Optional.empty()));
    }

    private static String hint(EnteredSitting sitting, List<EnteredSitting> others) {
        return MistypedKeys.theOnlyNear(sitting, others)
                .map(near -> "perhaps the forms in " + near.sitting().place() + ": patient, day or side differ")
                .orElse("");
    }

    /** What the tables do not agree on, in the order of the first table, then sittings that only one of them has. */
    public List<Difference> differences() {
        return List.copyOf(differences);
    }

    /** Sittings that both tables have. */
    public int paired() {
        return pairs.size();
    }

    /** Sittings that only the first table has. */
    public int onlyInFirst() {
        return onlyFirst.size();
    }

    /** Sittings that only the second table has. */
    public int onlyInSecond() {
        return onlySecond.size();
    }

    /** Sittings, in both tables together, that a table has twice with different entries. */
    public int contradictory() {
        return contradictory;
    }

    /** Columns that only one table has; their cells are listed and not counted. */
    public List<String> unsharedColumns() {
        return columns.stream().filter(c -> !shared.contains(c)).toList();
    }

    /**
     * Fields compared: cells of paired sittings, in columns of both tables, that at least one of them has filled. Cells that both
     * leave blank are not counted: ours.
     */
    public long fields() {
        return fields;
    }

    /** Of these, fields on which the tables differ: at least one of the two entries is wrong. */
    public long differing() {
        return differences.stream().filter(Difference::counted).count();
    }

    /** {@link #differing} per 1,000 {@link #fields} with its 95 % interval (Wilson), or empty if nothing was compared. */
    public Optional<Rate> rate() {
        if (fields == 0) {
            return Optional.empty();
        }
        Range interval = Wilson.interval95(differing(), fields);
        return Optional.of(new Rate(1000.0 * differing() / fields, 1000 * interval.low(), 1000 * interval.high()));
    }

    /**
     * A rate per 1,000 fields.
     *
     * @param perThousand the rate
     * @param low lower end of its 95 % interval
     * @param high upper end
     */
    public record Rate(double perThousand, double low, double high) {}

    List<Pair> pairs() {
        return pairs;
    }

    List<String> columns() {
        return columns;
    }

    EnteredTable first() {
        return first;
    }

    EnteredTable second() {
        return second;
    }

    List<EnteredSitting> alone(boolean inFirst) {
        return inFirst ? onlyFirst : onlySecond;
    }
}
