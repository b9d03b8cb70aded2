package lumbrical.report.page;

import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.threshold.ThresholdSet;

/** The thresholds of a run, looked up once for each scale and condition, and which of them were used. */
final class ThresholdCache {
    private final ThresholdChoice choice;
    private final Map<Key, ThresholdSet> sets = new HashMap<>();

    private record Key(String definition, String scale, EpisodeCondition condition) {}

    /**
     * A threshold that was used.
     *
     * @param conditions labels of the conditions of the episodes, ascending
     */
    record Used(Instrument instrument, Scale scale, Threshold threshold, List<String> conditions) {}

    private record Use(Instrument instrument, Scale scale, Threshold threshold) {}

    private final Map<Use, Set<String>> uses = new HashMap<>();

    ThresholdCache(ThresholdChoice choice) {
        this.choice = choice;
    }

    ThresholdSet of(Instrument instrument, Scale scale, EpisodeCondition condition) {
        Key key = new Key(instrument.definition(), scale.id().value(), condition);
        ThresholdSet known = sets.get(key);
        if (known != null) {
            return known;
        }
        ThresholdSet set = choice.thresholds(instrument, scale, condition);
        sets.put(key, set);
        Stream.of(set.mcid(), set.mdc(), set.pass()).flatMap(o -> o.stream()).forEach(t -> uses.computeIfAbsent(
                        new Use(instrument, scale, t), k -> new TreeSet<>())
                .add(condition.label().orElse("condition not stated")));
        return set;
    }

    /** Those that were asked for, by instrument, scale, kind and id. */
    List<Used> used() {
        return uses.entrySet().stream()
                .map(e -> new Used(
                        e.getKey().instrument(),
                        e.getKey().scale(),
                        e.getKey().threshold(),
                        List.copyOf(new LinkedHashSet<>(e.getValue()))))
                .sorted(Comparator.comparing((Used u) -> u.instrument().definition())
                        .thenComparingInt(u -> u.instrument().position(u.scale().id()))
                        .thenComparing(u -> u.threshold().kind())
                        .thenComparing(u -> u.threshold().id()))
                .toList();
    }
}
