package lumbrical.cohort;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.IntPredicate;
import java.util.function.IntToDoubleFunction;
import java.util.stream.IntStream;
import lumbrical.change.BeyondError;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.statistics.Clusters;
import lumbrical.statistics.HodgesLehmann;
import lumbrical.statistics.ImprovementCurve;
import lumbrical.statistics.Means;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TwoSamples;
import lumbrical.threshold.PublishedMcids;
import lumbrical.threshold.Reached;
import lumbrical.threshold.ThresholdChoice;

/** One group on one scale: every row of every table but the flow. */
final class GroupScale {
    /** Scores this near to an end of the scale stand at it: the last bits of a double. Ours, as for thresholds. */
    private static final double SLACK = 1e-9;

    private final ClinicData data;
    private final Groups.Group group;
    private final ScaleTable table;
    /** Positions of its episodes that have a score of the scale in a window, scorable or not. */
    private final int[] courses;

    private final ScaleScores scores;
    private final List<Pairs> pairs;
    private final RowPlace place;
    private final Visits visits;

    /**
     * The episodes with both scores at a visit.
     *
     * @param episodes their positions, ascending
     * @param improvements of each
     * @param baselines the baselines that were compared
     */
    record Pairs(int[] episodes, double[] improvements, double[] baselines) {
        int size() {
            return episodes.length;
        }

        /** Those of them whose episodes are of some kind. */
        Pairs where(IntPredicate kind) {
            int[] kept = IntStream.range(0, episodes.length)
                    .filter(i -> kind.test(episodes[i]))
                    .toArray();
            return new Pairs(
                    IntStream.of(kept).map(i -> episodes[i]).toArray(),
                    IntStream.of(kept).mapToDouble(i -> improvements[i]).toArray(),
                    IntStream.of(kept).mapToDouble(i -> baselines[i]).toArray());
        }
    }

    GroupScale(ClinicData data, Groups.Group group, ScaleTable table) {
        this.data = data;
        this.group = group;
        this.table = table;
        this.scores = table.scores();
        this.courses = table.of(group.members());
        this.place = new RowPlace(group.label(), table.instrument(), table.scale(), Optional.empty());
        this.visits = data.visits();
        this.pairs = IntStream.range(0, visits.size()).mapToObj(this::pairsAt).toList();
    }

    private Pairs pairsAt(int visit) {
        VisitScores at = scores.at(visit);
        int[] paired = IntStream.of(courses).filter(at::paired).toArray();
        return new Pairs(
                paired,
                IntStream.of(paired).mapToDouble(at::improvement).toArray(),
                IntStream.of(paired)
                        .mapToDouble(e -> at.comparedBaseline(e, scores.baseline(e)))
                        .toArray());
    }

    /** Whether the instrument is asked of the group or came in. */
    boolean matters() {
        return courses.length > 0 || data.forms().asked(table.instrument().id(), group.members());
    }

    CohortRows rows() {
        CohortRows rows = new CohortRows();
        if (!matters()) {
            return rows;
        }
        McidChoice mcids = new McidChoice();
        for (int v = 0; v < visits.size(); v++) {
            Pairs paired = pairs(v);
            rows.groups.add(groupRow(v, paired));
            if (visits.followUp(v) && table.changes()) {
                rows.attrition.add(attrition(v));
                rows.responders.addAll(mcids.rows(v, paired));
                rows.ecdf.addAll(ecdf(v, paired));
            }
        }
        return rows;
    }

    RowPlace at(int visit) {
        return place.at(visits.get(visit));
    }

    RowPlace atNoVisit() {
        return place;
    }

    /** Positions of the group's episodes. */
    int[] members() {
        return group.members();
    }

    ScaleTable table() {
        return table;
    }

    /** Positions of its episodes that have a score of the scale in a window, scorable or not. */
    int[] courses() {
        return courses;
    }

    Pairs pairs(int visit) {
        return pairs.get(visit);
    }

    Clusters patients(Pairs of) {
        return Clusters.of(IntStream.of(of.episodes()).map(data::patient).toArray());
    }

    private GroupRow groupRow(int v, Pairs paired) {
        VisitScores at = scores.at(v);
        double[] seen =
                IntStream.of(courses).filter(at::scored).mapToDouble(at::score).toArray();
        int expected = 0;
        int received = 0;
        for (int i : group.members()) {
            FormStates.State state = data.forms().at(table.instrument().id(), v, i);
            received += state == FormStates.State.RECEIVED ? 1 : 0;
            expected += state == FormStates.State.RECEIVED || state == FormStates.State.EXPECTED ? 1 : 0;
        }
        Range range = table.scale().range();
        boolean lowIsBest = table.scale().better() == Direction.LOWER;
        return new GroupRow(
                at(v),
                new GroupRow.Size(group.members().length, group.patients(), expected, received, seen.length),
                Summary.of(seen),
                near(seen, lowIsBest ? range.low() : range.high()),
                near(seen, lowIsBest ? range.high() : range.low()),
                visits.followUp(v) && table.changes() ? Optional.of(improvement(paired)) : Optional.empty());
    }

    private static int near(double[] scores, double end) {
        int count = 0;
        for (double score : scores) {
            count += Math.abs(score - end) <= SLACK ? 1 : 0;
        }
        return count;
    }

    private GroupRow.Improvement improvement(Pairs paired) {
        double[] improvements = paired.improvements();
        Clusters patients = patients(paired);
        boolean clustered = patients.repeated();
        return new GroupRow.Improvement(
                paired.size(),
                Summary.of(improvements),
                clustered ? Means.clusteredInterval95(improvements, patients) : Means.interval95(improvements),
                clustered,
                HodgesLehmann.location(improvements),
                Means.effectSize(improvements, paired.baselines()),
                Means.standardisedResponseMean(improvements));
    }

    private AttritionRow attrition(int v) {
        VisitScores at = scores.at(v);
        int[] known = IntStream.of(courses)
                .filter(e -> scores.hasBaseline(e) && !data.closedBefore(v, e))
                .toArray();
        double[] with = IntStream.of(known)
                .filter(at::scored)
                .mapToDouble(scores::baseline)
                .toArray();
        double[] without = IntStream.of(known)
                .filter(e -> !at.scored(e) && data.over(v, e))
                .mapToDouble(scores::baseline)
                .toArray();
        return new AttritionRow(
                at(v), baselines(with), baselines(without), TwoSamples.standardisedDifference(without, with));
    }

    private static AttritionRow.Baselines baselines(double[] scores) {
        return new AttritionRow.Baselines(scores.length, Means.mean(scores), Means.sd(scores));
    }

    private List<EcdfRow> ecdf(int v, Pairs paired) {
        int smallest = data.request().smallestGroup();
        if (paired.size() < smallest) {
            return List.of();
        }
        RowPlace at = at(v);
        return ImprovementCurve.of(paired.improvements()).steps().stream()
                .map(s -> new EcdfRow(at, s.improvement(), Share.of(s.atLeast(), paired.size(), smallest)))
                .toList();
    }

    /** The MCIDs against which the group is held. */
    private final class McidChoice {
        /** The one used; empty where none is known. */
        private final Optional<McidUsed> used;

        private final List<Threshold> published;

        McidChoice() {
            Set<EpisodeCondition> conditions = new LinkedHashSet<>();
            Set<Optional<Threshold>> own = new HashSet<>();
            BitSet seen = new BitSet();
            for (int e : courses) {
                if (!seen.get(data.conditionNumber(e)) && scores.scored(e)) {
                    seen.set(data.conditionNumber(e));
                    conditions.add(data.condition(e));
                    own.add(table.mcid(data.condition(e)));
                }
            }
            for (int v = 0; v < visits.size(); v++) {
                own.addAll(scores.mcids(v, pairs(v).episodes()));
            }
            if (own.stream().allMatch(Optional::isEmpty)) {
                used = Optional.empty();
            } else {
                used = Optional.of(
                        conditions.size() == 1 && own.size() == 1
                                ? new McidUsed(own.iterator().next())
                                : McidUsed.EACH_EPISODES_OWN);
            }
            Optional<Threshold> one = used.flatMap(McidUsed::threshold);
            published = table.instrument().thresholds().stream()
                    .filter(t -> PublishedMcids.counts(t, table.scale()))
                    .filter(t -> conditions.stream().allMatch(c -> ThresholdChoice.holdsFor(t, c)))
                    .filter(t -> !one.equals(Optional.of(t)))
                    .toList();
        }

        List<ResponderRow> rows(int v, Pairs paired) {
            List<ResponderRow> rows = new ArrayList<>();
            used.ifPresent(mcid ->
                    rows.add(mcid.threshold().map(t -> row(v, paired, t, true)).orElseGet(() -> rowOfOwn(v, paired))));
            published.forEach(t -> rows.add(row(v, paired, t, false)));
            return rows;
        }

        private ResponderRow row(int v, Pairs paired, Threshold threshold, boolean isUsed) {
            double mcid = threshold.value().orElseThrow();
            int known = (int) IntStream.of(courses).filter(scores::hasBaseline).count();
            return row(v, new McidUsed(Optional.of(threshold)), isUsed, paired, known, e -> mcid);
        }

        private ResponderRow rowOfOwn(int v, Pairs paired) {
            Pairs judged = paired.where(e -> scores.mcid(v, e).isPresent());
            int known = (int) IntStream.of(courses)
                    .filter(e -> scores.hasBaseline(e) && ownMcid(e, v).isPresent())
                    .count();
            return row(v, McidUsed.EACH_EPISODES_OWN, true, judged, known, e -> scores.mcid(v, e)
                    .orElseThrow()
                    .value()
                    .orElseThrow());
        }

        private Optional<Threshold> ownMcid(int episode, int v) {
            return scores.at(v).paired(episode) ? scores.mcid(v, episode) : table.mcid(data.condition(episode));
        }

        private ResponderRow row(
                int v, McidUsed mcid, boolean isUsed, Pairs judged, int known, IntToDoubleFunction value) {
            int improved = 0;
            int worsened = 0;
            int couldNotReach = 0;
            int beyond = 0;
            boolean mdcKnown = judged.size() == 0;
            for (int i = 0; i < judged.size(); i++) {
                int episode = judged.episodes()[i];
                double improvement = judged.improvements()[i];
                double m = value.applyAsDouble(episode);
                improved += Reached.meets(improvement, m) ? 1 : 0;
                worsened += Reached.meets(-improvement, m) ? 1 : 0;
                couldNotReach += Reached.meets(room(judged.baselines()[i]), m) ? 0 : 1;
                BeyondError error = scores.at(v).error(episode);
                beyond += error == BeyondError.YES ? 1 : 0;
                mdcKnown |= error != BeyondError.UNKNOWN;
            }
            int smallest = data.request().smallestGroup();
            int missing = Math.max(0, known - judged.size());
            return new ResponderRow(
                    at(v),
                    mcid,
                    isUsed,
                    Share.of(improved, judged.size(), smallest),
                    worsened,
                    mdcKnown ? OptionalInt.of(beyond) : OptionalInt.empty(),
                    couldNotReach,
                    new ResponderRow.IfMissing(
                            Share.of(improved, judged.size() + missing, smallest),
                            Share.of(improved + missing, judged.size() + missing, smallest)));
        }

        private double room(double baseline) {
            Scale scale = table.scale();
            return scale.better() == Direction.LOWER
                    ? baseline - scale.range().low()
                    : scale.range().high() - baseline;
        }
    }
}
