package lumbrical.cohort;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Side;

/**
 * A column by which episodes can be grouped.
 *
 * @param name its name
 * @param of the value of an episode
 */
record EpisodeColumn(String name, Function<CohortEpisode, Value> of) {
    private static final List<EpisodeColumn> OWN = List.of(
            new EpisodeColumn("condition", e -> Value.of(e.condition())),
            new EpisodeColumn(
                    "treated_side",
                    e -> Value.of(Optional.of(e.episode().treatedSide().code()))),
            new EpisodeColumn("sex", e -> Value.of(e.episode().sex())),
            new EpisodeColumn("procedure", e -> Value.of(e.episode().procedure())),
            new EpisodeColumn(
                    "dominant_side", e -> Value.of(e.episode().dominantSide().map(Side::code))));

    /**
     * A value of an episode.
     *
     * @param key equal for episodes of one group
     * @param label what people read
     */
    record Value(Object key, String label) {
        private static final Value BLANK = new Value("", CohortGroup.BLANK);

        private static Value of(Optional<String> text) {
            return text.filter(t -> !t.isBlank()).map(t -> new Value(t, t)).orElse(BLANK);
        }

        private static Value of(EpisodeCondition condition) {
            return condition.label().map(label -> new Value(condition, label)).orElse(BLANK);
        }

        boolean blank() {
            return equals(BLANK);
        }

        /** Whether a user who writes {@code text} means this value: label, id, synonym, or the same in another case. */
        boolean isCalled(String text) {
            return label.equalsIgnoreCase(text) || key instanceof EpisodeCondition c && c.isCalled(text);
        }
    }

    /** The column of that name, in any case: one of ours, or one that the episodes carry. */
    static Optional<EpisodeColumn> find(String name, List<CohortEpisode> episodes) {
        return all(episodes).stream()
                .filter(c -> c.name().equalsIgnoreCase(name.strip()))
                .findFirst();
    }

    /** The names of all columns. */
    static List<String> names(List<CohortEpisode> episodes) {
        return all(episodes).stream().map(EpisodeColumn::name).toList();
    }

    private static List<EpisodeColumn> all(List<CohortEpisode> episodes) {
        List<EpisodeColumn> all = new ArrayList<>(OWN);
        TreeSet<String> carried = new TreeSet<>();
        episodes.forEach(e -> carried.addAll(e.episode().carried().keySet()));
        carried.forEach(name -> all.add(new EpisodeColumn(
                name, e -> Value.of(Optional.ofNullable(e.episode().carried().get(name))))));
        return all;
    }

    /** The values there are, by label, blank last. */
    List<Value> values(List<CohortEpisode> episodes) {
        List<Value> values = new ArrayList<>();
        episodes.stream()
                .map(of)
                .sorted(BY_LABEL)
                .filter(v -> values.stream().noneMatch(known -> known.key().equals(v.key())))
                .forEach(values::add);
        return values;
    }

    /** By label, without regard to case first; blank last. */
    static final Comparator<Value> BY_LABEL = Comparator.comparing(Value::blank)
            .thenComparing(v -> v.label().toLowerCase(Locale.ROOT))
            .thenComparing(Value::label);

    /** The value that a user means by {@code text}: exactly that label, else one so called. */
    Optional<Value> valueCalled(String text, List<CohortEpisode> episodes) {
        List<Value> values = values(episodes);
        return Stream.concat(
                        values.stream().filter(v -> v.label().equals(text)),
                        values.stream().filter(v -> v.isCalled(text.strip())))
                .findFirst();
    }
}
