package lumbrical.columns;

import java.util.Optional;
import lumbrical.followup.AssignedScore;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.Sitting;

/**
 * A score row.
 *
 * @param sitting who, when, which side
 * @param episode the episode's id, if any
 * @param visit the visit's name, if placed in time
 * @param instrument the instrument
 * @param scale the scale
 * @param result the score or the reason there is none
 */
public record ScoreRow(
        Sitting sitting,
        Optional<String> episode,
        Optional<String> visit,
        Instrument instrument,
        Scale scale,
        ScoreResult result) {

    /** The row of a score that was placed in time. */
    public static ScoreRow of(AssignedScore placed) {
        return new ScoreRow(
                placed.form().sitting(),
                placed.placement()
                        .map(p -> p.episode().id())
                        .or(() -> placed.form().sitting().episode()),
                placed.visitName(),
                placed.form().instrument(),
                placed.scale(),
                placed.result());
    }

    /** The side of the row: the hand asked about, else the sitting's. */
    public Optional<Side> side() {
        return result.hand().or(sitting::side);
    }
}
