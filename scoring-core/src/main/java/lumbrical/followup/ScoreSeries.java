package lumbrical.followup;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;

/**
 * The scores of one scale in one episode that lie in a window, are of the treated hand or of the person, and are not left out.
 *
 * @param instrument the instrument
 * @param scale the scale
 * @param baseline the baseline, the last scorable in its window
 * @param followUps every score in the window of a follow-up visit, by time
 */
public record ScoreSeries(
        Instrument instrument, Scale scale, Optional<AssignedScore> baseline, List<AssignedScore> followUps) {
    /** Copies the list. */
    public ScoreSeries {
        followUps = List.copyOf(followUps);
    }

    /** The scores that count: the baseline, then one for each visit that has one, by time. */
    public Stream<AssignedScore> used() {
        return Stream.concat(baseline.stream(), followUps.stream().filter(s -> s.use() == AssignedScore.Use.FOLLOW_UP));
    }

    /** The change of each score in the window of a follow-up visit, by time. */
    public Stream<ChangeRow> changes() {
        return followUps.stream().flatMap(s -> s.change().map(c -> new ChangeRow(s, c)).stream());
    }

    /** The change of the last score that counts. */
    public Optional<ChangeRow> lastChange() {
        return changes().filter(ChangeRow::used).reduce((a, b) -> b);
    }
}
