package lumbrical.followup;

import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.instrument.Scale;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;

/**
 * A score row with its place in time: what the {@code Scores} sheet and {@code scores.csv} list.
 *
 * @param form the form it came from
 * @param scale the scale
 * @param result the score or the reason there is none
 * @param placement where it stands; empty = unassigned to any episode
 */
public record AssignedScore(ScoredForm form, Scale scale, ScoreResult result, Optional<VisitAssignment> placement) {
    /** Text for a sitting that no window holds. */
    public static final String UNSCHEDULED = "unscheduled";

    /**
     * An episode and a day in it.
     *
     * @param episode the episode
     * @param day days from the index date; empty if the episode has none or the sitting lies in the future
     * @param visit the visit whose window holds the day; empty = unscheduled
     * @param use whether the score counts for its visit
     */
    public record VisitAssignment(Episode episode, OptionalInt day, Optional<Visit> visit, Use use) {}

    /** Whether a score counts for its visit. */
    public enum Use {
        /** The baseline of its episode, instrument and scale. */
        BASELINE,
        /** The one that counts in its follow-up window. */
        FOLLOW_UP,
        /** Listed only: not scorable, not the nearest to the target, unscheduled, of the other hand, or a conflicting double. */
        NOT_USED
    }

    /** Name of the visit, {@code unscheduled}, or empty when unassigned or without a day. */
    public Optional<String> visitName() {
        return placement
                .filter(p -> p.day().isPresent())
                .map(p -> p.visit().map(Visit::name).orElse(UNSCHEDULED));
    }
}
