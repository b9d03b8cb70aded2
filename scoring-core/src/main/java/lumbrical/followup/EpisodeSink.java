package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import lumbrical.threshold.ThresholdChoice;

/** Takes the episodes of a clinic one at a time, so that nobody has to hold them all. */
public interface EpisodeSink {
    /**
     * Told before the first episode.
     *
     * @param episodes all of them, in the order in which they will come
     * @param schedule the visits
     * @param asOf the day on which things are looked at
     * @param choice the thresholds by which changes are judged
     */
    void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice);

    /** The next episode, with all that is known of it. */
    void accept(EpisodeFollowUp episode);
}
