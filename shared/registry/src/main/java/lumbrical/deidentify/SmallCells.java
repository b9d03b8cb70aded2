package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/** Counts people who are alike in what is sent: a group of few can be told apart by somebody who knows one of them. */
final class SmallCells {
    private static final Set<String> NOT_OF_THE_PERSON = Set.of("closed_day", "closed_reason");

    private final Map<List<String>, Set<String>> groups = new HashMap<>();

    void add(String subject, Map<String, String> attributes) {
        List<String> alike = new ArrayList<>();
        attributes.forEach((column, value) -> {
            if (!NOT_OF_THE_PERSON.contains(column)) {
                alike.add(column + "=" + (column.equals("age") ? decade(value) : value));
            }
        });
        groups.computeIfAbsent(alike, g -> new HashSet<>()).add(subject);
    }

    /** Ages are looked at by tens: ours. */
    private static String decade(String age) {
        return String.valueOf(Integer.parseInt(age) / 10);
    }

    /** Sizes of the groups with fewer people than {@code limit}. */
    List<Integer> smallerThan(int limit) {
        return groups.values().stream().map(Set::size).filter(n -> n < limit).toList();
    }
}
