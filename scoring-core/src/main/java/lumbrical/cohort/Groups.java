package lumbrical.cohort;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.IntStream;

/** Divides the episodes into groups. */
final class Groups {
    private static final Comparator<String> BLANK_LAST = Comparator.comparing(
                    (String label) -> label.equals(CohortGroup.BLANK))
            .thenComparing(String.CASE_INSENSITIVE_ORDER)
            .thenComparing(Comparator.naturalOrder());

    /**
     * A group and its episodes.
     *
     * @param label which group
     * @param members positions among all episodes, ascending
     * @param patients whose they are
     */
    record Group(CohortGroup label, int[] members, int patients) {}

    private final List<CohortEpisode> episodes;
    private final boolean oneEach;

    Groups(List<CohortEpisode> episodes, boolean oneEach) {
        this.episodes = episodes;
        this.oneEach = oneEach;
    }

    /** The names of the columns of a grouping. */
    static List<String> columnsOf(String grouping) {
        return Arrays.stream(grouping.split("\\+", -1))
                .map(String::strip)
                .distinct()
                .toList();
    }

    /** All together, then each grouping in turn. */
    List<Group> of(List<String> groupings) {
        List<Group> groups = new ArrayList<>();
        groups.add(group(
                CohortGroup.ALL, IntStream.range(0, episodes.size()).boxed().toList()));
        Set<List<String>> done = new HashSet<>();
        for (String grouping : groupings) {
            List<EpisodeColumn> columns = columnsOf(grouping).stream()
                    .flatMap(name -> EpisodeColumn.find(name, episodes).stream())
                    .toList();
            if (done.add(columns.stream().map(EpisodeColumn::name).toList())) {
                groups.addAll(by(columns));
            }
        }
        return groups;
    }

    private List<Group> by(List<EpisodeColumn> columns) {
        String by = String.join("+", columns.stream().map(EpisodeColumn::name).toList());
        Map<List<Object>, List<Integer>> members = new HashMap<>();
        Map<List<Object>, List<String>> labels = new HashMap<>();
        for (int i = 0; i < episodes.size(); i++) {
            CohortEpisode episode = episodes.get(i);
            List<EpisodeColumn.Value> values =
                    columns.stream().map(c -> c.of().apply(episode)).toList();
            List<Object> key = values.stream().map(EpisodeColumn.Value::key).toList();
            members.computeIfAbsent(key, k -> new ArrayList<>()).add(i);
            // Of texts that are the same condition the first in order stands for it.
            labels.merge(key, values.stream().map(EpisodeColumn.Value::label).toList(), Groups::first);
        }
        Map<List<String>, List<Integer>> ordered = new TreeMap<>(Groups::compare);
        members.forEach(
                (key, own) -> ordered.put(Optional.ofNullable(labels.get(key)).orElse(List.of()), own));
        List<Group> groups = new ArrayList<>();
        ordered.forEach((label, own) -> groups.add(group(new CohortGroup(by, String.join(" / ", label)), own)));
        return groups;
    }

    private static List<String> first(List<String> a, List<String> b) {
        return a.equals(b) || String.join("\n", a).compareTo(String.join("\n", b)) <= 0 ? a : b;
    }

    private static int compare(List<String> a, List<String> b) {
        for (int i = 0; i < a.size(); i++) {
            int order = BLANK_LAST.compare(a.get(i), b.get(i));
            if (order != 0) {
                return order;
            }
        }
        return 0;
    }

    private Group group(CohortGroup label, List<Integer> members) {
        Set<String> patients = new LinkedHashSet<>();
        List<Integer> kept = oneEach ? firstOfEach(members) : members;
        kept.forEach(i -> patients.add(episodes.get(i).episode().patient()));
        return new Group(label, kept.stream().mapToInt(Integer::intValue).toArray(), patients.size());
    }

    /** Of each patient the episode with the earliest index date; of several the first by id. */
    private List<Integer> firstOfEach(List<Integer> members) {
        Map<String, Integer> first = new HashMap<>();
        for (int i : members) {
            first.merge(episodes.get(i).episode().patient(), i, (a, b) -> index(b).isBefore(index(a)) ? b : a);
        }
        return first.values().stream().sorted().toList();
    }

    private LocalDate index(int i) {
        return episodes.get(i).episode().indexDate().orElse(LocalDate.MAX);
    }
}
