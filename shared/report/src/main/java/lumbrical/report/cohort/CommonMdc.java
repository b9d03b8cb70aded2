package lumbrical.report.cohort;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lumbrical.cohort.CohortGroup;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.ScoreSeries;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;

/** The MDC of a scale where it is one for all whose changes were judged by it: those of a condition, or everybody. */
final class CommonMdc {
    private final Map<Key, Set<OptionalDouble>> seen = new HashMap<>();

    /** @param condition label of the condition; empty = everybody */
    private record Key(InstrumentId instrument, ScaleId scale, Optional<String> condition) {}

    CommonMdc(FollowUpResult followUp) {
        for (EpisodeFollowUp episode : followUp.episodes()) {
            Optional<String> condition = Optional.of(episode.condition().label().orElse(CohortGroup.BLANK));
            for (ScoreSeries series : episode.series()) {
                series.used()
                        .flatMap(score -> score.change().stream())
                        .filter(change -> change.change().improvement().isPresent())
                        .map(change -> change.change().thresholds().mdc())
                        .map(mdc -> mdc.map(Threshold::value).orElse(OptionalDouble.empty()))
                        .forEach(mdc -> {
                            add(series, Optional.empty(), mdc);
                            add(series, condition, mdc);
                        });
            }
        }
    }

    private void add(ScoreSeries series, Optional<String> condition, OptionalDouble mdc) {
        seen.computeIfAbsent(new Key(series.instrument().id(), series.scale().id(), condition), k -> new HashSet<>())
                .add(mdc);
    }

    /** The MDC of a group; empty if it is not known, or not one for all. */
    OptionalDouble of(GroupResults results) {
        Optional<String> condition = results.group().by().equals("condition")
                ? Optional.of(results.group().label())
                : Optional.empty();
        Set<OptionalDouble> mdcs = seen.getOrDefault(
                new Key(results.instrument().id(), results.scale().id(), condition), Set.of());
        return mdcs.size() == 1 ? mdcs.iterator().next() : OptionalDouble.empty();
    }
}
