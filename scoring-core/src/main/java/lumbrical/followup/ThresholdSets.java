package lumbrical.followup;

import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.threshold.ThresholdSet;

/** What scales are set against by a choice of thresholds, found once for each scale and condition. Threads may share it. */
final class ThresholdSets {
    private final ThresholdChoice choice;
    private final Map<Key, ThresholdSet> found = new ConcurrentHashMap<>();

    record Key(Instrument instrument, ScaleId scale, EpisodeCondition condition) {
        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Key key
                    && instrument.equals(key.instrument)
                    && scale.equals(key.scale)
                    && condition.equals(key.condition);
        }

        @Override
        public int hashCode() {
            return 31 * (31 * instrument.hashCode() + scale.hashCode()) + condition.hashCode();
        }
    }

    ThresholdSets(ThresholdChoice choice) {
        this.choice = choice;
    }

    /** What the condition of an episode is. */
    EpisodeCondition condition(Optional<String> text) {
        return choice.condition(text);
    }

    ThresholdSet of(Instrument instrument, Scale scale, EpisodeCondition condition) {
        return found.computeIfAbsent(
                new Key(instrument, scale.id(), condition), k -> choice.thresholds(instrument, scale, condition));
    }
}
