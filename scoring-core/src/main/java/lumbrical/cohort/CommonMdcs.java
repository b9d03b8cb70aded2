package lumbrical.cohort;

import java.time.LocalDate;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.EpisodeSink;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.followup.ScoreSeries;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.ThresholdChoice;

/**
 * The MDC of a scale where it is one for all whose changes were judged by it: those of a condition, or everybody. Told of the episodes
 * one at a time, so that a clinic need not be held.
 */
public final class CommonMdcs implements EpisodeSink {
    private final Map<Key, Set<OptionalDouble>> seen = new HashMap<>();

    /**
     * A scale.
     *
     * @param condition label of the condition; empty = everybody
     */
    private record Key(InstrumentId instrument, ScaleId scale, Optional<String> condition) {}

    /** Of no episode yet. */
    public CommonMdcs() {}

    /** Those of a clinic that is held whole. */
    public static CommonMdcs of(FollowUpResult clinic) {
        CommonMdcs mdcs = new CommonMdcs();
        clinic.episodes().forEach(mdcs::accept);
        return mdcs;
    }

    @Override
    public void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        seen.clear();
    }

    @Override
    public void accept(EpisodeFollowUp episode) {
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

    private void add(ScoreSeries series, Optional<String> condition, OptionalDouble mdc) {
        seen.computeIfAbsent(new Key(series.instrument().id(), series.scale().id(), condition), k -> new HashSet<>())
                .add(mdc);
    }

    /** The MDC of a group on a scale; empty if it is not known, or not one for all. */
    public OptionalDouble of(CohortGroup group, InstrumentId instrument, ScaleId scale) {
        Optional<String> condition = group.by().equals("condition") ? Optional.of(group.label()) : Optional.empty();
        Set<OptionalDouble> mdcs = seen.getOrDefault(new Key(instrument, scale, condition), Set.of());
        return mdcs.size() == 1 ? mdcs.iterator().next() : OptionalDouble.empty();
    }
}
