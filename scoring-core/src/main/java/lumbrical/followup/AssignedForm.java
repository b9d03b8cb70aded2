package lumbrical.followup;

import java.util.Optional;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;

/**
 * A form with its place in time, whether or not it gave a score.
 *
 * @param form the form
 * @param placement where it stands; empty = unassigned to any episode
 * @param leftOut why it is not used in time: no episode, the other side, or a double
 */
public record AssignedForm(
        ScoredForm form, Optional<AssignedScore.VisitAssignment> placement, Optional<ProblemCode> leftOut) {}
