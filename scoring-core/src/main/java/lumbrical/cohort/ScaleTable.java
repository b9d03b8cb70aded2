package lumbrical.cohort;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.ThresholdChoice;

/** One scale and all its scores. */
final class ScaleTable {
    private final Instrument instrument;
    private final Scale scale;
    private final ScaleScores scores;
    private final Map<EpisodeCondition, Optional<Threshold>> mcids = new LinkedHashMap<>();

    /** @param episodes in the order of their positions */
    ScaleTable(
            Instrument instrument,
            Scale scale,
            ScaleScores scores,
            List<CohortEpisode> episodes,
            ThresholdChoice choice) {
        this.instrument = instrument;
        this.scale = scale;
        this.scores = scores;
        for (int i = 0; i < episodes.size(); i++) {
            if (scores.hasCourse(i)) {
                mcids.computeIfAbsent(episodes.get(i).condition(), c -> choice.mcid(instrument, scale, c));
            }
        }
    }

    Instrument instrument() {
        return instrument;
    }

    Scale scale() {
        return scale;
    }

    ScaleScores scores() {
        return scores;
    }

    /** Whether two of its scores make a change. */
    boolean changes() {
        return instrument.facts().change().kind() != ChangeRule.Kind.NONE;
    }

    /** The MCID of an episode of that condition. */
    Optional<Threshold> mcid(EpisodeCondition condition) {
        return mcids.getOrDefault(condition, Optional.empty());
    }

    /** The MCID of each condition that an episode has. */
    Map<EpisodeCondition, Optional<Threshold>> mcids() {
        return Collections.unmodifiableMap(mcids);
    }

    /** Those of {@code members} that have a score of it in a window, scorable or not. */
    int[] of(int[] members) {
        return IntStream.of(members).filter(scores::hasCourse).toArray();
    }
}
