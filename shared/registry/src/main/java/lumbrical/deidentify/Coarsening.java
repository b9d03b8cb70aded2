package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * Leaves values blank, field by field and subject by subject, until nobody is in a group of fewer than {@code k} that are alike. Only
 * subjects in too small a group lose a value; where those with nothing left are still too few, others join them. An episode that makes
 * a subject one of too few with so many episodes is left out first, since no blank could hide it: our convention.
 */
final class Coarsening {
    /** Nothing is left blank. */
    static final Coarsening NONE = new Coarsening(0);

    private final int k;
    private final Map<String, Subject> subjects = new TreeMap<>();
    private final Map<List<String>, Integer> alike = new HashMap<>();
    private final Map<CoarsenedField, Integer> blanked = new EnumMap<>(CoarsenedField.class);
    private final Set<String> leftOut = new HashSet<>();

    private Coarsening(int k) {
        this.k = k;
    }

    /** An episode and what is sent of it. */
    private record Known(String id, Map<String, String> values) {}

    private static final class Subject {
        private final List<Known> episodes = new ArrayList<>();
        private final Set<CoarsenedField> blank = EnumSet.noneOf(CoarsenedField.class);

        List<String> key() {
            return episodes.stream().map(this::shown).sorted().toList();
        }

        private String shown(Known episode) {
            Map<String, String> values = new TreeMap<>(episode.values());
            values.keySet().removeIf(column -> blank.contains(CoarsenedField.of(column)));
            return values.toString();
        }

        int valuesOf(CoarsenedField field) {
            return blank.contains(field)
                    ? 0
                    : (int) episodes.stream()
                            .flatMap(e -> e.values().keySet().stream())
                            .filter(column -> CoarsenedField.of(column) == field)
                            .count();
        }

        boolean nothingLeft() {
            return episodes.stream()
                    .flatMap(e -> e.values().keySet().stream())
                    .allMatch(column -> blank.contains(CoarsenedField.of(column)));
        }
    }

    /** Decides on the episodes that would be sent. */
    static Coarsening of(int k, Iterable<DeidentifiedEpisode> episodes) {
        Coarsening coarsening = new Coarsening(k);
        for (DeidentifiedEpisode episode : episodes) {
            coarsening
                    .subjects
                    .computeIfAbsent(episode.subject(), s -> new Subject())
                    .episodes
                    .add(new Known(episode.id(), PersonKey.of(episode)));
        }
        coarsening.leaveOutEpisodes();
        coarsening.subjects.values().forEach(s -> coarsening.alike.merge(s.key(), 1, Integer::sum));
        for (CoarsenedField field : CoarsenedField.values()) {
            coarsening.subjects.values().stream()
                    .filter(s -> s.valuesOf(field) > 0)
                    .filter(coarsening::isUnder)
                    .forEach(s -> coarsening.blank(s, field));
        }
        coarsening.joinThoseWithNothingLeft();
        return coarsening;
    }

    private void leaveOutEpisodes() {
        int most = subjects.values().stream()
                .mapToInt(s -> s.episodes.size())
                .max()
                .orElse(1);
        for (int n = most; n > 1; n--) {
            int number = n;
            List<Subject> withSoMany = subjects.values().stream()
                    .filter(s -> s.episodes.size() == number)
                    .toList();
            if (withSoMany.size() < k) {
                withSoMany.forEach(s ->
                        leftOut.add(s.episodes.remove(s.episodes.size() - 1).id()));
            }
        }
    }

    private boolean isUnder(Subject subject) {
        return alike.getOrDefault(subject.key(), 0) < k;
    }

    private void blank(Subject subject, CoarsenedField field) {
        int values = subject.valuesOf(field);
        if (values > 0) {
            alike.merge(subject.key(), -1, Integer::sum);
            subject.blank.add(field);
            alike.merge(subject.key(), 1, Integer::sum);
            blanked.merge(field, values, Integer::sum);
        }
    }

    private void blankAll(Subject subject) {
        for (CoarsenedField field : CoarsenedField.values()) {
            blank(subject, field);
        }
    }

    private void joinThoseWithNothingLeft() {
        for (Optional<Subject> alone = alone(); alone.isPresent(); alone = alone()) {
            int episodes = alone.get().episodes.size();
            Optional<Subject> joining = alone.get().nothingLeft() ? joining(episodes) : alone;
            if (joining.isEmpty()) {
                return; // fewer subjects than the limit: the count that follows tells
            }
            blankAll(joining.get());
        }
    }

    private Optional<Subject> alone() {
        return subjects.values().stream().filter(this::isUnder).findFirst();
    }

    /** One of the largest group of subjects with so many episodes, which misses it least. */
    private Optional<Subject> joining(int episodes) {
        return subjects.values().stream()
                .filter(s -> s.episodes.size() == episodes && !s.nothingLeft())
                .max(Comparator.comparingInt(s -> alike.getOrDefault(s.key(), 0)));
    }

    /** Whether a field is left blank of that subject. */
    boolean blanks(String subject, CoarsenedField field) {
        Subject known = subjects.get(subject);
        return known != null && known.blank.contains(field);
    }

    /** Pseudonyms of episodes that are left out. */
    Set<String> leftOut() {
        return leftOut;
    }

    /** By field, how many values are left blank; fields of which none is are left out. */
    Map<String, Integer> counts() {
        Map<String, Integer> counts = new LinkedHashMap<>();
        blanked.forEach((field, count) -> counts.put(field.words(), count));
        return counts;
    }
}
