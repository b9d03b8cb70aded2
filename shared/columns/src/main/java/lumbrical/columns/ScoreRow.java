package lumbrical.columns;

import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.PlacedForm;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Side;
import lumbrical.instrument.Standing;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;
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

    /** The rows of a form, assigned to an episode or not. */
    public static Stream<ScoreRow> of(PlacedForm placed) {
        return placed.fold(
                assigned -> assigned.scores().stream().map(ScoreRow::of),
                unassigned -> unassigned.form().results().stream().map(result -> of(unassigned.form(), result)));
    }

    /** The row of a score that was placed in time. */
    public static ScoreRow of(AssignedScore score) {
        return new ScoreRow(
                score.form().sitting(),
                Optional.of(score.at().episode().id()),
                score.at().visitName(),
                score.form().instrument(),
                score.scale(),
                score.result());
    }

    /** The row of a score that was not placed in time. */
    public static ScoreRow of(ScoredForm form, ScoreResult result) {
        return new ScoreRow(
                form.sitting(),
                form.sitting().episode(),
                Optional.empty(),
                form.instrument(),
                form.instrument().requireScale(result.scale()),
                result);
    }

    /** The weakest standing of what the score rests on; empty without a score. */
    public Optional<Standing> standing() {
        return result.scored()
                .map(s -> ScoreStanding.of(
                        instrument, scale, result.hand(), result.outcome() == ScoreResult.Outcome.WITH_MISSING));
    }

    /** The side of the row: the hand asked about, else the sitting's. */
    public Optional<Side> side() {
        return result.hand().or(sitting::side);
    }
}
