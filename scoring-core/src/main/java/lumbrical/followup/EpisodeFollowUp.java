package lumbrical.followup;

import java.util.List;
import java.util.stream.Stream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.grip.GripRow;

/**
 * All that is known of one episode.
 *
 * @param episode the episode
 * @param condition what its condition is, by the vocabulary
 * @param forms its forms, in the order of the input
 * @param series its scores by instrument and scale
 * @param grips its functional-task profile, by sitting
 * @param expected every expected form and how it stands, by visit
 */
public record EpisodeFollowUp(
        Episode episode,
        EpisodeCondition condition,
        List<AssignedForm> forms,
        List<ScoreSeries> series,
        List<GripRow> grips,
        List<ExpectedForm> expected) {
    /** Copies the lists. */
    public EpisodeFollowUp {
        forms = List.copyOf(forms);
        series = List.copyOf(series);
        grips = List.copyOf(grips);
        expected = List.copyOf(expected);
    }

    /** Its changes, by instrument, scale and time. */
    public Stream<ChangeRow> changes() {
        return series.stream().flatMap(ScoreSeries::changes);
    }
}
