package lumbrical.cohort;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeSet;
import java.util.stream.IntStream;
import lumbrical.change.Change;
import lumbrical.followup.AssessedChange;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.ScoreSeries;
import lumbrical.instrument.Threshold;
import lumbrical.sitting.Sitting;

/** The scores of one scale that count, by position of the episode. */
final class ScaleScores {
    /** Which episodes have a score of it in a window, scorable or not. */
    private final BitSet courses = new BitSet();

    private final double[] baselines;
    private final VisitScores[] visits;
    /** Every MCID and MDC that was used; few. */
    private final List<Threshold> thresholds = new ArrayList<>();

    private final BitSet rated = new BitSet();
    private boolean anyScored;

    ScaleScores(int episodes, int visits) {
        this.baselines = new double[episodes];
        Arrays.fill(baselines, Double.NaN);
        this.visits = new VisitScores[visits];
        Arrays.setAll(this.visits, v -> new VisitScores(episodes));
    }

    /** Takes the scores of an episode. */
    void add(int episode, ScoreSeries series, Visits schedule, Map<Sitting.Key, Integer> ratings) {
        courses.set(episode);
        OptionalDouble baseline = series.baseline()
                .flatMap(b -> b.result().scored())
                .map(s -> OptionalDouble.of(s.value()))
                .orElse(OptionalDouble.empty());
        baseline.ifPresent(b -> baselines[episode] = b);
        series.used()
                .forEach(used -> used.at().visit().ifPresent(v -> put(episode, used, schedule.indexOf(v), ratings)));
    }

    private void put(int episode, AssignedScore used, int visit, Map<Sitting.Key, Integer> ratings) {
        if (used.result().scored().isEmpty()) {
            return;
        }
        double score = used.result().scored().get().value();
        anyScored = true;
        Optional<Integer> rating = ratings.isEmpty()
                ? Optional.empty()
                : Optional.ofNullable(ratings.get(used.form().sitting().key()));
        VisitScores at = visits[visit];
        at.put(
                episode,
                score,
                used.form().responses(),
                used.result().hand(),
                rating.map(OptionalInt::of).orElse(OptionalInt.empty()));
        Optional<Change> change = used.change().map(AssessedChange::change);
        if (change.isPresent() && change.get().improvement().isPresent()) {
            putChange(episode, at, change.get());
            if (rating.isPresent()) {
                rated.set(visit);
            }
        }
    }

    private void putChange(int episode, VisitScores at, Change change) {
        at.putChange(
                episode,
                change.improvement().orElseThrow(),
                change.beyondError(),
                number(change.thresholds().mcid()),
                number(change.thresholds().mdc()));
        double baseline = change.baseline().orElse(baselines[episode]);
        double followUp = change.followUp().orElse(at.score(episode));
        if (baseline != baselines[episode] || followUp != at.score(episode)) {
            at.putCompared(episode, baseline, followUp);
        }
    }

    private int number(Optional<Threshold> threshold) {
        if (threshold.isEmpty()) {
            return 0;
        }
        for (int i = 0; i < thresholds.size(); i++) {
            Threshold known = thresholds.get(i);
            if (known.id().equals(threshold.get().id()) && Objects.equals(known, threshold.get())) {
                return i + 1;
            }
        }
        thresholds.add(threshold.get());
        return thresholds.size();
    }

    boolean hasCourse(int episode) {
        return courses.get(episode);
    }

    boolean anyScored() {
        return anyScored;
    }

    /** Whether an episode has a score that counts. */
    boolean scored(int episode) {
        return hasBaseline(episode) || Arrays.stream(visits).anyMatch(v -> v.scored(episode));
    }

    boolean hasBaseline(int episode) {
        return !Double.isNaN(baselines[episode]);
    }

    /** The baseline score of an episode that {@link #hasBaseline} one. */
    double baseline(int episode) {
        return baselines[episode];
    }

    VisitScores at(int visit) {
        return visits[visit];
    }

    /** Whether anybody has a pair and a rating at a visit. */
    boolean rated(int visit) {
        return rated.get(visit);
    }

    /** The MCID by which a paired score was judged. */
    Optional<Threshold> mcid(int visit, int episode) {
        return threshold(visits[visit].mcid(episode));
    }

    /** The MCIDs by which the changes of these episodes were judged, and none if one had none. */
    List<Optional<Threshold>> mcids(int visit, int[] paired) {
        BitSet used = new BitSet();
        IntStream.of(paired).map(visits[visit]::mcid).forEach(used::set);
        return used.stream().mapToObj(this::threshold).toList();
    }

    private Optional<Threshold> threshold(int number) {
        return number == 0 ? Optional.empty() : Optional.of(thresholds.get(number - 1));
    }

    /** The MDCs by which the changes of these episodes were judged. */
    List<Threshold> mdcs(int[] episodes) {
        BitSet used = new BitSet();
        for (VisitScores visit : visits) {
            for (int e : episodes) {
                if (visit.paired(e)) {
                    used.set(visit.mdc(e));
                }
            }
        }
        return used.stream().boxed().flatMap(n -> threshold(n).stream()).toList();
    }

    /** The definitions, versions included, from which the scores of these episodes came. */
    TreeSet<String> definitions(int[] episodes) {
        TreeSet<String> definitions = new TreeSet<>();
        for (VisitScores visit : visits) {
            for (int e : episodes) {
                if (visit.scored(e)) {
                    definitions.add(visit.responses(e).instrument().definition());
                }
            }
        }
        return definitions;
    }
}
