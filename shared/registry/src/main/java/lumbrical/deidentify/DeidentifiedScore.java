package lumbrical.deidentify;

import java.util.Optional;
import lumbrical.followup.AssignedScore;
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
public record DeidentifiedScore(
        Scale scale, ScoreResult result, AssignedScore.Use use, Optional<DeidentifiedChange> change) {
    /** The hand asked about, else the side of the form. */
    public Optional<Side> side(DeidentifiedForm form) {
        return result.hand().or(form::side);
    }

    /** Scale and hand, unique within a form. */
    public String key() {
        return scale.id().value() + result.hand().map(h -> "-" + h.code()).orElse("");
    }
}
