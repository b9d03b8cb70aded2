package lumbrical.followup;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;

/**
 * A form with its place in an episode, whether or not it gave a score.
 *
 * @param form the form
 * @param at where it stands
 * @param leftOut why it is not used in time: the other side, or entered twice
 * @param contradicted whether it was entered twice with different answers
 * @param scores its scores, in the order of the definition
 */
public record AssignedForm(
        ScoredForm form,
        VisitAssignment at,
        Optional<ProblemCode> leftOut,
        boolean contradicted,
        List<AssignedScore> scores)
        implements PlacedForm {
    /** Copies the list. */
    public AssignedForm {
        scores = List.copyOf(scores);
    }

    /** Its scores of the hand that the episode treats, and those asked of the person. */
    public Stream<AssignedScore> scoresOfTreatedHand() {
        return scores.stream()
                .filter(s -> FollowUpAnalysis.ofTreatedHand(s.result().hand(), at.episode()));
    }
}
