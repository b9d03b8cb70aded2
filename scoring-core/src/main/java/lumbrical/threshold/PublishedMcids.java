package lumbrical.threshold;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;

/**
 * The published MCIDs of a scale that count: seen in a published source, selectable, of the scale's metric, from hand, wrist or
 * general upper-limb populations, not bound to another condition, one per study.
 */
public final class PublishedMcids {
    private PublishedMcids() {}

    /** Why a value stands for its study. */
    public enum Basis {
        /** It is the definition's default for the episode. */
        DEFAULT("default"),
        /** The study recommends it. */
        RECOMMENDED("recommended"),
        /** It is the median of the study's values that hold for the episode: ours. */
        MEDIAN("median");

        private final String code;

        Basis(String code) {
            this.code = code;
        }

        /** The word used in lists. */
        public String code() {
            return code;
        }
    }

    /**
     * What stands for a study.
     *
     * @param study one word per study
     * @param value in the scale's units
     * @param basis why this value
     * @param of the thresholds of the study that count for the episode, in the order of the definition
     */
    public record Representative(String study, double value, Basis basis, List<Threshold> of) {
        /** Copies the list. */
        public Representative {
            of = List.copyOf(of);
        }
    }

    /** The values, ascending, for an episode of that condition. */
    public static List<Double> of(Instrument instrument, Scale scale, EpisodeCondition condition) {
        return representatives(instrument, scale, condition).stream()
                .map(Representative::value)
                .sorted()
                .toList();
    }

    /** What stands for each study, in the order of the definition, for an episode of that condition. */
    public static List<Representative> representatives(Instrument instrument, Scale scale, EpisodeCondition condition) {
        Map<String, List<Threshold>> byStudy = new LinkedHashMap<>();
        for (Threshold t : instrument.thresholds()) {
            if (counts(t, scale) && ThresholdChoice.holdsFor(t, condition)) {
                byStudy.computeIfAbsent(t.study(), s -> new ArrayList<>()).add(t);
            }
        }
        Optional<Threshold> byDefault = ThresholdChoice.defaultOf(instrument, scale, condition, Threshold.Kind.MCID);
        return byStudy.entrySet().stream()
                .map(e -> oneOf(e.getKey(), e.getValue(), byDefault))
                .toList();
    }

    /** Whether a threshold can count at all, whatever the condition. */
    public static boolean counts(Threshold t, Scale scale) {
        return t.kind() == Threshold.Kind.MCID
                && t.scale().equals(scale.id())
                && t.metric() == scale.metric()
                && t.selectable()
                && t.value().isPresent()
                && t.provenance().published()
                && !t.otherPopulation();
    }

    private static Representative oneOf(String study, List<Threshold> values, Optional<Threshold> byDefault) {
        Optional<Threshold> chosen = byDefault.filter(d -> values.stream().anyMatch(v -> v.id().equals(d.id())));
        if (chosen.isPresent()) {
            return new Representative(study, value(chosen.get()), Basis.DEFAULT, values);
        }
        Optional<Threshold> recommended =
                values.stream().filter(Threshold::recommended).findFirst();
        return recommended
                .map(t -> new Representative(study, value(t), Basis.RECOMMENDED, values))
                .orElseGet(() -> new Representative(study, median(values), Basis.MEDIAN, values));
    }

    private static double value(Threshold threshold) {
        return threshold.value().getAsDouble();
    }

    private static double median(List<Threshold> thresholds) {
        double[] values =
                thresholds.stream().mapToDouble(PublishedMcids::value).sorted().toArray();
        int middle = values.length / 2;
        return values.length % 2 == 1
                ? values[middle]
                : Arrays.stream(values, middle - 1, middle + 1).sum() / 2;
    }
}
