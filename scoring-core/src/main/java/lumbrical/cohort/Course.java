package lumbrical.cohort;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lumbrical.change.Change;
import lumbrical.followup.AssessedChange;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.ScoreSeries;

/**
 * The scores of one scale in one episode that count.
 *
 * @param episode position of the episode
 * @param baseline the baseline score, if there is one
 * @param points by position of the visit
 */
record Course(int episode, OptionalDouble baseline, List<Optional<Point>> points) {
    /**
     * A score that counts at a visit.
     *
     * @param assigned the score with its place
     * @param score its value
     * @param rating what the patient said of the change at the same sitting, in steps
     */
    record Point(AssignedScore assigned, double score, OptionalInt rating) {
        /** The change since baseline, where there are two scores to compare. */
        Optional<Change> pair() {
            return assigned.change().map(AssessedChange::change).filter(c -> c.improvement()
                    .isPresent());
        }
    }

    /** The pair at a visit. */
    Optional<Change> pairAt(int visit) {
        return points.get(visit).flatMap(Point::pair);
    }

    static Course of(int episode, ScoreSeries series, Visits visits, Ratings ratings) {
        List<Optional<Point>> points = visits.blank();
        series.used().forEach(used -> used.result().scored().ifPresent(s -> used.at()
                .visit()
                .ifPresent(v -> points.set(
                        visits.indexOf(v),
                        Optional.of(new Point(
                                used,
                                s.value(),
                                ratings.at(episode, used.form().sitting().key())))))));
        OptionalDouble baseline = series.baseline()
                .flatMap(b -> b.result().scored())
                .map(s -> OptionalDouble.of(s.value()))
                .orElse(OptionalDouble.empty());
        return new Course(episode, baseline, points);
    }
}
