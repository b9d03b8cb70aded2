package lumbrical.cohort;

import java.time.LocalDate;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;

/** Finds two sittings of a patient who was stable between them. */
final class RetestPairs {
    private static final Comparator<AssignedScore> BY_TIME = Comparator.comparing(
                    (AssignedScore s) -> s.form().sitting().completedOn())
            .thenComparing(s -> s.form().sitting().time().orElse(LocalTime.MIN));

    private final int days;
    private final Ratings ratings;

    RetestPairs(int days, Ratings ratings) {
        this.days = days;
        this.ratings = ratings;
    }

    /**
     * Two scores of a stable patient.
     *
     * @param on day of the first
     */
    record RetestPair(LocalDate on, double first, double second) {}

    /** The first pair of an episode. */
    Optional<RetestPair> first(int position, EpisodeFollowUp episode, InstrumentId instrument, Scale scale) {
        List<AssignedScore> scores = episode.forms().stream()
                .filter(f -> f.leftOut().isEmpty() && f.form().instrument().id().equals(instrument))
                .flatMap(f -> f.scoresOfTreatedHand()
                        .filter(s -> s.scale().id().equals(scale.id())
                                && s.result().scored().isPresent()))
                .sorted(BY_TIME)
                .toList();
        for (int i = 0; i < scores.size(); i++) {
            for (int j = i + 1; j < scores.size(); j++) {
                if (stable(position, scores.get(i), scores.get(j))) {
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

    private boolean stable(int position, AssignedScore first, AssignedScore second) {
        long apart = ChronoUnit.DAYS.between(
                first.form().sitting().completedOn(), second.form().sitting().completedOn());
        boolean near = apart <= days
                && first.form()
                        .instrument()
                        .definition()
                        .equals(second.form().instrument().definition());
        return near
                && (beforeTreatment(first) && beforeTreatment(second)
                        || ratings.at(position, second.form().sitting().key()).equals(OptionalInt.of(0)));
    }

    /** On the day of treatment itself counts as before, as for a baseline. */
    private static boolean beforeTreatment(AssignedScore score) {
        return score.at().day().orElse(1) <= 0;
    }

    /** The first pair of each patient and side. */
    static double[][] ofEachSide(Map<Integer, RetestPair> pairs, List<EpisodeFollowUp> episodes) {
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
