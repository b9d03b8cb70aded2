package lumbrical.workbook;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.ChangeRow;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.ScoreSeries;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;

/**
 * The courses: an episode and scale each, with the score that counts at each visit.
 *
 * @param courses by instrument, scale and episode
 */
record Trajectories(List<Course> courses) {
    /**
     * One course.
     *
     * @param condition what its condition is, by the vocabulary
     * @param scores by position of the visit; NaN = none
     * @param last the last change that counts
     */
    record Course(
            Episode episode,
            EpisodeCondition condition,
            Instrument instrument,
            Scale scale,
            double[] scores,
            Optional<ChangeRow> last) {
        /** Whether another course is of the same scale. */
        boolean sameScale(Course other) {
            return instrument.id().equals(other.instrument.id()) && scale.id().equals(other.scale.id());
        }

        /** What the picker of the chart shows. */
        String key() {
            return episode.patient() + " " + episode.id() + " | " + instrument.id() + " " + scale.id();
        }
    }

    static Trajectories of(FollowUpResult clinic) {
        List<String> visits =
                clinic.schedule().visits().stream().map(Visit::name).toList();
        List<Course> courses = new ArrayList<>();
        for (EpisodeFollowUp episode : clinic.episodes()) {
            for (ScoreSeries series : episode.series()) {
                double[] scores = new double[visits.size()];
                Arrays.fill(scores, Double.NaN);
                series.used().forEach(score -> score.result().scored().ifPresent(s -> score.at()
                        .visit()
                        .ifPresent(v -> scores[visits.indexOf(v.name())] = s.value())));
                if (!Arrays.stream(scores).allMatch(Double::isNaN)) {
                    courses.add(new Course(
                            episode.episode(),
                            episode.condition(),
                            series.instrument(),
                            series.scale(),
                            scores,
                            series.lastChange()));
                }
            }
        }
        // a stable sort: of one scale as the episodes stand
        courses.sort(Comparator.comparing((Course c) -> c.instrument().id())
                .thenComparingInt(c -> c.instrument().position(c.scale().id())));
        return new Trajectories(courses);
    }
}
