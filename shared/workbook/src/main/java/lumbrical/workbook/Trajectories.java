package lumbrical.workbook;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Change;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
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
     * @param scores by position of the visit; NaN = none
     * @param last the last change that counts
     */
    record Course(Episode episode, Instrument instrument, Scale scale, double[] scores, Optional<Change> last) {
        /** What the picker of the chart shows. */
        String key() {
            return episode.patient() + " " + episode.id() + " | " + instrument.id() + " " + scale.id();
        }
    }

    private static final class Building {
        private final Episode episode;
        private final Instrument instrument;
        private final Scale scale;
        private final double[] scores;
        private Optional<Change> last = Optional.empty();

        Building(Episode episode, Instrument instrument, Scale scale, int visits) {
            this.episode = episode;
            this.instrument = instrument;
            this.scale = scale;
            this.scores = new double[visits];
            Arrays.fill(scores, Double.NaN);
        }
    }

    static Trajectories of(FollowUpResult clinic) {
        Map<Episode, Map<Scale, Building>> byEpisode = new IdentityHashMap<>();
        Map<Visit, Integer> position = new IdentityHashMap<>();
        clinic.schedule().visits().forEach(v -> position.put(v, position.size()));
        for (AssignedScore score : clinic.scores()) {
            score.placement().filter(p -> p.use() != AssignedScore.Use.NOT_USED).ifPresent(p -> {
                Building building = building(byEpisode, p.episode(), score, position.size());
                building.scores[position.get(p.visit().orElseThrow())] =
                        score.result().scored().orElseThrow().value();
            });
        }
        for (Change change : clinic.changes()) {
            if (change.used()) {
                Episode episode = change.followUp().placement().orElseThrow().episode();
                building(byEpisode, episode, change.followUp(), position.size()).last = Optional.of(change);
            }
        }
        Map<Episode, Integer> order = new IdentityHashMap<>();
        clinic.episodes().forEach(e -> order.put(e, order.size()));
        List<Course> courses = new ArrayList<>();
        byEpisode.values().forEach(scales -> scales.values()
                .forEach(b -> courses.add(new Course(b.episode, b.instrument, b.scale, b.scores, b.last))));
        courses.sort(Comparator.comparing((Course c) -> c.instrument().id())
                .thenComparingInt(c -> c.instrument().scales().indexOf(c.scale()))
                .thenComparingInt(c -> order.get(c.episode())));
        return new Trajectories(courses);
    }

    private static Building building(
            Map<Episode, Map<Scale, Building>> byEpisode, Episode episode, AssignedScore score, int visits) {
        return byEpisode
                .computeIfAbsent(episode, e -> new IdentityHashMap<>(4))
                .computeIfAbsent(
                        score.scale(), s -> new Building(episode, score.form().instrument(), score.scale(), visits));
    }
}
