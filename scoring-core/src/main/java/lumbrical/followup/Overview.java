package lumbrical.followup;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Predicate;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.Reason;
import lumbrical.statistics.Quantiles;
import lumbrical.threshold.PublishedMcids;
import lumbrical.threshold.Reached;

/**
 * A clinic's results on one page.
 *
 * @param patients patients with at least one episode
 * @param episodes episodes
 * @param bilateral patients with episodes on both sides: their episodes are not independent
 * @param sittings sittings with at least one answer
 * @param notScored score rows without a score, by reason
 * @param cells scores by scale and visit
 * @param sensitivities share improved at the lowest, the default and the highest published MCID, by scale and visit
 */
public record Overview(
        int patients,
        int episodes,
        int bilateral,
        int sittings,
        Map<Reason, Integer> notScored,
        List<Cell> cells,
        List<Sensitivity> sensitivities) {

    /**
     * One scale at one visit.
     *
     * @param instrument the instrument
     * @param scale the scale
     * @param visit the visit
     * @param scores spread of the scores that count there
     * @param paired how many of them have a baseline
     * @param assessable how many of these have a verdict
     * @param reachedMcid how many of these improved by the MCID or more, within error or not
     * @param worsened how many worsened by it or more
     * @param couldNotReach how many baselines left less room than the MCID
     * @param mcid the MCID used; empty = none known, or several by condition
     */
    public record Cell(
            Instrument instrument,
            Scale scale,
            Visit visit,
            Quantiles scores,
            int paired,
            int assessable,
            int reachedMcid,
            int worsened,
            int couldNotReach,
            Optional<Threshold> mcid) {}

    /**
     * How the share improved depends on the MCID.
     *
     * @param paired changes it is a share of
     * @param lowest the lowest published MCID that counts for every episode
     * @param atLowest how many reach it
     * @param highest the highest
     * @param atHighest how many reach it
     */
    public record Sensitivity(
            Instrument instrument,
            Scale scale,
            Visit visit,
            int paired,
            double lowest,
            int atLowest,
            double highest,
            int atHighest) {}

    /** The overview of a clinic. */
    public static Overview of(FollowUpResult clinic) {
        Map<Reason, Integer> notScored = new EnumMap<>(Reason.class);
        Map<CellKey, List<AssignedScore>> used = new HashMap<>();
        for (AssignedScore score : clinic.scores()) {
            score.result().reason().ifPresent(reason -> notScored.merge(reason, 1, Integer::sum));
            score.placement().filter(p -> p.use() != AssignedScore.Use.NOT_USED).ifPresent(p -> used.computeIfAbsent(
                            new CellKey(
                                    score.form().instrument(),
                                    score.scale(),
                                    p.visit().orElseThrow()),
                            k -> new ArrayList<>())
                    .add(score));
        }
        Map<CellKey, List<Change>> changes = new HashMap<>();
        for (Change change : clinic.changes()) {
            if (change.used()) {
                AssignedScore f = change.followUp();
                changes.computeIfAbsent(
                                new CellKey(
                                        f.form().instrument(),
                                        f.scale(),
                                        f.placement().orElseThrow().visit().orElseThrow()),
                                k -> new ArrayList<>())
                        .add(change);
            }
        }
        List<CellKey> keys = new ArrayList<>(used.keySet());
        keys.sort(Comparator.comparing((CellKey k) -> k.instrument().id())
                .thenComparingInt(k -> k.instrument().scales().indexOf(k.scale()))
                .thenComparingInt(k -> clinic.schedule().visits().indexOf(k.visit())));
        List<Cell> cells = new ArrayList<>();
        List<Sensitivity> sensitivities = new ArrayList<>();
        for (CellKey key : keys) {
            List<Change> own = changes.getOrDefault(key, List.of());
            cells.add(cell(key, used.get(key), own));
            sensitivity(key, own).ifPresent(sensitivities::add);
        }
        Set<Object> sittings = new HashSet<>();
        clinic.forms().stream()
                .filter(f -> !f.responses().blank())
                .forEach(f -> sittings.add(f.sitting().key()));
        return new Overview(
                (int) clinic.episodes().stream()
                        .map(Episode::patient)
                        .distinct()
                        .count(),
                clinic.episodes().size(),
                bilateral(clinic.episodes()),
                sittings.size(),
                new TreeMap<>(notScored),
                List.copyOf(cells),
                List.copyOf(sensitivities));
    }

    /** Definitions are shared values: the same object means the same scale, and its deep hash is never needed. */
    private record CellKey(Instrument instrument, Scale scale, Visit visit) {
        @Override
        public boolean equals(Object other) {
            return other instanceof CellKey k && k.scale == scale && k.visit == visit;
        }

        @Override
        public int hashCode() {
            return 31 * System.identityHashCode(scale) + System.identityHashCode(visit);
        }
    }

    private static int bilateral(List<Episode> episodes) {
        Map<String, Set<Object>> sides = new LinkedHashMap<>();
        episodes.forEach(
                e -> sides.computeIfAbsent(e.patient(), p -> new HashSet<>()).add(e.treatedSide()));
        return (int) sides.values().stream().filter(s -> s.size() > 1).count();
    }

    private static Cell cell(CellKey key, List<AssignedScore> scores, List<Change> changes) {
        double[] values = scores.stream()
                .mapToDouble(s -> s.result().scored().orElseThrow().value())
                .toArray();
        int paired =
                (int) changes.stream().filter(c -> c.improvement().isPresent()).count();
        List<Optional<Threshold>> mcids =
                changes.stream().map(Change::mcid).distinct().toList();
        return new Cell(
                key.instrument(),
                key.scale(),
                key.visit(),
                Quantiles.of(values),
                paired,
                count(changes, c -> c.verdict() != Change.Verdict.NOT_ASSESSABLE),
                count(
                        changes,
                        c -> c.verdict() == Change.Verdict.IMPORTANT_IMPROVEMENT
                                || c.verdict() == Change.Verdict.IMPROVEMENT_WITHIN_ERROR),
                count(
                        changes,
                        c -> c.verdict() == Change.Verdict.IMPORTANT_WORSENING
                                || c.verdict() == Change.Verdict.WORSENING_WITHIN_ERROR),
                count(changes, c -> c.couldReach().equals(Optional.of(false))),
                mcids.size() == 1 ? mcids.get(0) : Optional.empty());
    }

    private static int count(List<Change> changes, Predicate<Change> which) {
        return (int) changes.stream().filter(which).count();
    }

    private static Optional<Sensitivity> sensitivity(CellKey key, List<Change> changes) {
        List<Double> published = PublishedMcids.of(key.instrument(), key.scale(), Optional.empty());
        double[] improvements = changes.stream()
                .filter(c -> c.improvement().isPresent())
                .mapToDouble(c -> c.improvement().getAsDouble())
                .toArray();
        if (published.isEmpty() || improvements.length == 0) {
            return Optional.empty();
        }
        double lowest = published.get(0);
        double highest = published.get(published.size() - 1);
        return Optional.of(new Sensitivity(
                key.instrument(),
                key.scale(),
                key.visit(),
                improvements.length,
                lowest,
                reached(improvements, lowest),
                highest,
                reached(improvements, highest)));
    }

    private static int reached(double[] improvements, double mcid) {
        int reached = 0;
        for (double improvement : improvements) {
            reached += Reached.atLeast(improvement, mcid) ? 1 : 0;
        }
        return reached;
    }
}
