package lumbrical.cohort;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.sitting.Sitting;

/** Finds two sittings of a patient who was stable between them. */
final class RetestPairs {
    private static final Comparator<AssignedScore> BY_TIME = Comparator.comparing(
                    (AssignedScore s) -> s.form().sitting().completedOn())
            .thenComparing(s -> s.form().sitting().time().orElse(LocalTime.MIN));

    private final int days;

    RetestPairs(int days) {
        this.days = days;
    }

    /**
     * Two scores of a stable patient.
     *
     * @param on day of the first
     */
    record RetestPair(LocalDate on, double first, double second) {}

    /** The first pair of an episode on each scale that has one. */
    Map<ScaleKey, RetestPair> firstOfEach(EpisodeFollowUp episode, Map<Sitting.Key, Integer> ratings) {
        Map<ScaleKey, List<AssignedScore>> scores = new LinkedHashMap<>();
        for (AssignedForm form : episode.forms()) {
            if (form.leftOut().isEmpty() && form.form().sitting().day().isPresent()) {
                form.scoresOfTreatedHand()
                        .filter(s -> s.result().scored().isPresent())
                        .forEach(s -> scores.computeIfAbsent(
                                        new ScaleKey(
                                                form.form().instrument().id(),
                                                s.scale().id()),
                                        k -> new ArrayList<>())
                                .add(s));
            }
        }
        Map<ScaleKey, RetestPair> pairs = new LinkedHashMap<>();
        scores.forEach((scale, own) ->
                first(own.stream().sorted(BY_TIME).toList(), ratings).ifPresent(pair -> pairs.put(scale, pair)));
        return pairs;
    }

    private Optional<RetestPair> first(List<AssignedScore> scores, Map<Sitting.Key, Integer> ratings) {
        for (int i = 0; i < scores.size(); i++) {
            for (int j = i + 1; j < scores.size(); j++) {
                if (stable(scores.get(i), scores.get(j), ratings)) {
                    return Optional.of(new RetestPair(
                            scores.get(i).form().sitting().completedOn(), value(scores.get(i)), value(scores.get(j))));
                }
            }
        }
        return Optional.empty();
    }

    private static double value(AssignedScore score) {
        return score.result().scored().map(s -> s.value()).orElseThrow();
    }

    private boolean stable(AssignedScore first, AssignedScore second, Map<Sitting.Key, Integer> ratings) {
        long apart = ChronoUnit.DAYS.between(
                first.form().sitting().completedOn(), second.form().sitting().completedOn());
        boolean near = apart <= days
                && first.form()
                        .instrument()
                        .definition()
                        .equals(second.form().instrument().definition());
        return near
                && (beforeTreatment(first) && beforeTreatment(second)
                        || Optional.ofNullable(
                                        ratings.get(second.form().sitting().key()))
                                .filter(steps -> steps == 0)
                                .isPresent());
    }

    /** On the day of treatment itself counts as before, as for a baseline. */
    private static boolean beforeTreatment(AssignedScore score) {
        return score.at().day().orElse(1) <= 0;
    }

    /** The first pair of each patient and side. */
    static double[][] ofEachSide(Map<Integer, RetestPair> pairs, List<CohortEpisode> episodes) {
        Map<String, RetestPair> first = new TreeMap<>();
        pairs.forEach((position, pair) -> {
            Episode episode = episodes.get(position).episode();
            first.merge(
                    episode.treatedSide() + " " + episode.patient(), pair, (a, b) -> b.on().isBefore(a.on()) ? b : a);
        });
        return first.values().stream()
                .map(p -> new double[] {p.first(), p.second()})
                .toArray(double[][]::new);
    }
}
