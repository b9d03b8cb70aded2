package lumbrical.followup;

import java.util.Optional;
import lumbrical.instrument.Scale;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ThresholdSet;

/**
 * A score with its place in an episode.
 *
 * @param form the form it came from
 * @param at where it stands
 * @param scale the scale
 * @param result the score or the reason there is none
 * @param use whether it counts for its visit
 * @param change the change since the baseline, for a score in the window of a follow-up visit
 */
public record AssignedScore(
        ScoredForm form,
        VisitAssignment at,
        Scale scale,
        ScoreResult result,
        Use use,
        Optional<AssessedChange> change) {
    /** Whether a score counts for its visit. */
    public enum Use {
        /** The baseline of its episode, instrument and scale. */
        BASELINE,
        /** The one that counts in its follow-up window. */
        FOLLOW_UP,
        /** Listed only: not scorable, not the nearest to the target, unscheduled, of the other hand, or entered twice. */
        NOT_USED
    }

    /** The same score, its change set against other thresholds; a score without a change stays as it is. */
    public AssignedScore against(ThresholdSet thresholds) {
        return new AssignedScore(
                form, at, scale, result, use, change.map(c -> AssessedChange.of(this, c.baseline(), thresholds)));
    }
}
