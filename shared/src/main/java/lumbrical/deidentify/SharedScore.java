package lumbrical.deidentify;

import java.util.Optional;
import lumbrical.followup.PlacedScore;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.scoring.ScoreResult;

/**
 * A score, or the reason there is none, and the change it makes.
 *
 * @param scale the scale
 * @param result the score or the reason there is none
 * @param use whether it counts for its visit
 * @param change the change from baseline; empty for a baseline and for whatever is not judged
 */
public record SharedScore(Scale scale, ScoreResult result, PlacedScore.Use use, Optional<SharedChange> change) {
    /** The hand asked about, else the side of the form. */
    public Optional<Side> side(SharedForm form) {
        return result.hand().or(form::side);
    }

    /** Scale and hand, unique within a form. */
    public String key() {
        return scale.id().value() + result.hand().map(h -> "-" + h.code()).orElse("");
    }
}
