package lumbrical.threshold;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;

/**
 * The published MCIDs of a scale that count: seen in a published source, offered, of the scale's metric, from hand, wrist or
 * general upper-limb populations, one per study (its recommended method, else the median of its values: ours).
 */
public final class PublishedMcids {
    private PublishedMcids() {}

    /** The values, ascending, for an episode of that condition; a value bound to another condition does not count. */
    public static List<Double> of(Instrument instrument, Scale scale, Optional<String> condition) {
        Map<String, List<Threshold>> byStudy = new LinkedHashMap<>();
        for (Threshold t : instrument.thresholds()) {
            if (t.kind() == Threshold.Kind.MCID
                    && t.scale().equals(scale.id())
                    && t.metric() == scale.metric()
                    && t.offered()
                    && t.value().isPresent()
                    && t.provenance().published()
                    && !t.borrowed()
                    && ThresholdChoice.holdsFor(t, condition)) {
                byStudy.computeIfAbsent(t.study(), s -> new ArrayList<>()).add(t);
            }
        }
        return byStudy.values().stream().map(PublishedMcids::oneOf).sorted().toList();
    }

    private static double oneOf(List<Threshold> study) {
        Optional<Threshold> recommended =
                study.stream().filter(Threshold::recommended).findFirst();
        if (recommended.isPresent()) {
            return recommended.get().value().orElseThrow();
        }
        double[] values = study.stream()
                .mapToDouble(t -> t.value().orElseThrow())
                .sorted()
                .toArray();
        int middle = values.length / 2;
        return values.length % 2 == 1
                ? values[middle]
                : Arrays.stream(values, middle - 1, middle + 1).sum() / 2;
    }
}
