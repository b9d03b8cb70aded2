package lumbrical.followup;

import java.util.Optional;
import lumbrical.change.Change;

/**
 * The change of a follow-up score since its baseline.
 *
 * @param baseline the baseline score, if the episode has one for this scale
 * @param change what changed and what that amounts to
 */
public record AssessedChange(Optional<AssignedScore> baseline, Change change) {}
