package lumbrical.followup;

import java.time.LocalTime;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** The scores of one episode, instrument and scale that may count: picks the baseline and one score for each visit. */
final class ScoreSeries {
    private static final Comparator<AssignedScore> BY_TIME = Comparator.comparing(
                    (AssignedScore s) -> s.form().sitting().completedOn())
            .thenComparing(s -> s.form().sitting().time().orElse(LocalTime.MIN));

    private final List<AssignedScore> scores;

    /** @param scores placed in a window, of the treated hand or of the person, no doubles; in input order */
    ScoreSeries(List<AssignedScore> scores) {
        this.scores = scores;
    }

    private static boolean inRole(AssignedScore score, Visit.Role role) {
        return score.placement()
                .orElseThrow()
                .visit()
                .filter(v -> v.role() == role)
                .isPresent();
    }

    private static boolean scorable(AssignedScore score) {
        return score.result().scored().isPresent();
    }

    /** The last scorable sitting in the baseline window. */
    Optional<AssignedScore> baseline() {
        return scores.stream()
                .filter(s -> inRole(s, Visit.Role.BASELINE) && scorable(s))
                .reduce((a, b) -> BY_TIME.compare(b, a) >= 0 ? b : a); // of one moment the one that stands last
    }

    /** The scorable sitting nearest the target of {@code visit}; of two equally near the earlier. */
    Optional<AssignedScore> at(Visit visit) {
        return scores.stream()
                .filter(s -> s.placement().orElseThrow().visit().equals(Optional.of(visit)) && scorable(s))
                .min(Comparator.comparingInt((AssignedScore s) ->
                                Math.abs(s.placement().orElseThrow().day().orElseThrow() - visit.targetDay()))
                        .thenComparing(BY_TIME));
    }

    /** Every score in a follow-up window, by time. */
    List<AssignedScore> followUps() {
        return scores.stream()
                .filter(s -> inRole(s, Visit.Role.FOLLOW_UP))
                .sorted(BY_TIME)
                .toList();
    }
}
