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
import lumbrical.change.Change;
import lumbrical.change.ReachesMcid;
import lumbrical.change.Verdict;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.Reason;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
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
        Set<Sitting.Key> sittings = new HashSet<>();
        for (PlacedForm placed : clinic.forms()) {
            ScoredForm form = placed.form();
            form.results().forEach(r -> r.reason().ifPresent(reason -> notScored.merge(reason, 1, Integer::sum)));
            if (!form.responses().blank()) {
                sittings.add(form.sitting().key());
            }
        }
        Map<CellKey, Gathered> cells = new HashMap<>();
        for (EpisodeFollowUp episode : clinic.episodes()) {
            for (ScoreSeries series : episode.series()) {
                series.used().forEach(score -> score.at().visit().ifPresent(visit -> cells.computeIfAbsent(
                                new CellKey(
                                        series.instrument().id(), series.scale().id(), visit.name()),
                                k -> new Gathered(series.instrument(), series.scale(), visit))
                        .add(score)));
            }
        }
        List<Gathered> ordered = new ArrayList<>(cells.values());
        ordered.sort(Comparator.comparing((Gathered g) -> g.instrument().id())
                .thenComparingInt(g -> g.instrument().scales().indexOf(g.scale()))
                .thenComparingInt(g -> clinic.schedule().visits().indexOf(g.visit())));
        List<Episode> episodes =
                clinic.episodes().stream().map(EpisodeFollowUp::episode).toList();
        return new Overview(
                (int) episodes.stream().map(Episode::patient).distinct().count(),
                episodes.size(),
                bilateral(episodes),
                sittings.size(),
                new TreeMap<>(notScored),
                ordered.stream().map(Overview::cell).toList(),
                ordered.stream().flatMap(g -> sensitivity(g).stream()).toList());
    }

    private record CellKey(InstrumentId instrument, ScaleId scale, String visit) {}

    /** What counts for one scale at one visit. */
    private record Gathered(
            Instrument instrument, Scale scale, Visit visit, List<Double> scores, List<Change> changes) {
        Gathered(Instrument instrument, Scale scale, Visit visit) {
            this(instrument, scale, visit, new ArrayList<>(), new ArrayList<>());
        }

        void add(AssignedScore score) {
            score.result().scored().ifPresent(s -> scores.add(s.value()));
            score.change().ifPresent(c -> changes.add(c.change()));
        }
    }

    private static int bilateral(List<Episode> episodes) {
        Map<String, Set<Object>> sides = new LinkedHashMap<>();
        episodes.forEach(
                e -> sides.computeIfAbsent(e.patient(), p -> new HashSet<>()).add(e.treatedSide()));
        return (int) sides.values().stream().filter(s -> s.size() > 1).count();
    }

    private static Cell cell(Gathered g) {
        List<Optional<Threshold>> mcids =
                g.changes().stream().map(c -> c.thresholds().mcid()).distinct().toList();
        return new Cell(
                g.instrument(),
                g.scale(),
                g.visit(),
                Quantiles.of(
                        g.scores().stream().mapToDouble(Double::doubleValue).toArray()),
                count(g.changes(), c -> c.improvement().isPresent()),
                count(g.changes(), c -> c.verdict() != Verdict.NOT_ASSESSABLE),
                count(g.changes(), c -> assessed(c) && c.reachesMcid().equals(Optional.of(ReachesMcid.IMPROVED))),
                count(g.changes(), c -> assessed(c) && c.reachesMcid().equals(Optional.of(ReachesMcid.WORSENED))),
                count(g.changes(), c -> c.couldReach().equals(Optional.of(false))),
                mcids.size() == 1 ? mcids.get(0) : Optional.empty());
    }

    private static boolean assessed(Change change) {
        return change.verdict() != Verdict.NOT_ASSESSABLE;
    }

    private static int count(List<Change> changes, Predicate<Change> which) {
        return (int) changes.stream().filter(which).count();
    }

    private static Optional<Sensitivity> sensitivity(Gathered key) {
        List<Double> published = PublishedMcids.of(key.instrument(), key.scale(), EpisodeCondition.NONE);
        double[] improvements = key.changes().stream()
                .filter(c -> c.improvement().isPresent())
                .mapToDouble(c -> c.improvement().orElse(0))
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
            reached += Reached.meets(improvement, mcid) ? 1 : 0;
        }
        return reached;
    }
}
