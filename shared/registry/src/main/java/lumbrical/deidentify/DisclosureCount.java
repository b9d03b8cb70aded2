package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Counts subjects that are alike in what is sent. */
final class DisclosureCount {
    private final Map<String, List<String>> person = new TreeMap<>();
    private final Map<String, List<String>> forms = new TreeMap<>();
    private final Map<String, List<String>> visits = new TreeMap<>();

    void add(DeidentifiedEpisode episode) {
        String of = new TreeMap<>(PersonKey.of(episode)).toString();
        person.computeIfAbsent(episode.subject(), s -> new ArrayList<>()).add(of);
        forms.computeIfAbsent(episode.subject(), s -> new ArrayList<>()).add(of + " " + PersonKey.instruments(episode));
        visits.computeIfAbsent(episode.subject(), s -> new ArrayList<>()).add(of + " " + PersonKey.visits(episode));
    }

    int subjects() {
        return person.size();
    }

    Disclosure.Cells person(int k, Profile profile) {
        return cells(k, PersonKey.fields(profile), person);
    }

    Disclosure.Cells forms(int k, Profile profile) {
        List<String> fields = new ArrayList<>(PersonKey.fields(profile));
        fields.add(PersonKey.INSTRUMENTS);
        return cells(k, fields, forms);
    }

    Disclosure.Cells visits(int k, Profile profile) {
        List<String> fields = new ArrayList<>(PersonKey.fields(profile));
        fields.addAll(PersonKey.visitFields(profile));
        return cells(k, fields, visits);
    }

    private static Disclosure.Cells cells(int k, List<String> fields, Map<String, List<String>> bySubject) {
        Map<List<String>, Integer> alike = new HashMap<>();
        bySubject.values().forEach(episodes -> {
            List<String> key = episodes.stream().sorted().toList();
            alike.merge(key, 1, Integer::sum);
        });
        return new Disclosure.Cells(
                k,
                fields,
                bySubject.size(),
                alike.values().stream()
                        .filter(n -> n < k)
                        .mapToInt(Integer::intValue)
                        .sum(),
                (int) alike.values().stream().filter(n -> n == 1).count());
    }
}
