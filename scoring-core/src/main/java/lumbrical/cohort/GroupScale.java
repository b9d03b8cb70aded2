package lumbrical.cohort;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import lumbrical.change.BeyondError;
import lumbrical.change.Change;
import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.Episode;
import lumbrical.followup.Visit;
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
    private final List<Course> courses;
    private final RowPlace place;
    private final Visits visits;

    /** An episode with both scores. */
    record Pair(Course course, Course.Point point, Change change) {
        double improvement() {
            return change.improvement().orElseThrow();
        }

        double baseline() {
            return change.baseline().orElseThrow();
        }
    }

    GroupScale(ClinicData data, Groups.Group group, ScaleTable table) {
        this.data = data;
        this.group = group;
        this.table = table;
        this.courses = table.of(group.mask(data.episodes().size()));
        this.place = new RowPlace(group.label(), table.instrument(), table.scale(), Optional.empty());
        this.visits = data.visits();
    }

    /** Whether the instrument is asked of the group or came in. */
    boolean matters() {
        return !courses.isEmpty()
                || group.members().stream().anyMatch(i -> IntStream.range(0, visits.size())
                        .anyMatch(v -> data.forms().at(table.instrument().id(), v, i) != FormStates.State.NOT_ASKED));
    }

    CohortRows rows() {
        CohortRows rows = new CohortRows();
        if (!matters()) {
            return rows;
        }
        McidChoice mcids = new McidChoice();
        for (int v = 0; v < visits.size(); v++) {
            List<Pair> pairs = pairs(v);
            rows.groups.add(groupRow(v, pairs));
            if (visits.followUp(v) && table.changes()) {
                rows.attrition.add(attrition(v));
                rows.responders.addAll(mcids.rows(v, pairs));
                rows.ecdf.addAll(ecdf(v, pairs));
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
    List<Integer> members() {
        return group.members();
    }

    ScaleTable table() {
        return table;
    }

    List<Course> courses() {
        return courses;
    }

    List<Pair> pairs(int visit) {
        List<Pair> pairs = new ArrayList<>();
        for (Course course : courses) {
            course.points().get(visit).ifPresent(point -> point.pair()
                    .ifPresent(change -> pairs.add(new Pair(course, point, change))));
        }
        return pairs;
    }

    Clusters patients(List<Pair> pairs) {
        return Clusters.of(
                pairs.stream().map(p -> data.patient(p.course().episode())).toList());
    }

    static double[] values(List<Pair> pairs, ToDoubleFunction<Pair> of) {
        return pairs.stream().mapToDouble(of).toArray();
    }

    private GroupRow groupRow(int v, List<Pair> pairs) {
        double[] scores = courses.stream()
                .flatMap(c -> c.points().get(v).stream())
                .mapToDouble(Course.Point::score)
                .toArray();
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
                new GroupRow.Size(group.members().size(), group.patients(), expected, received, scores.length),
                Summary.of(scores),
                near(scores, lowIsBest ? range.low() : range.high()),
                near(scores, lowIsBest ? range.high() : range.low()),
                visits.followUp(v) && table.changes() ? Optional.of(improvement(pairs)) : Optional.empty());
    }

    private static int near(double[] scores, double end) {
        int count = 0;
        for (double score : scores) {
            count += Math.abs(score - end) <= SLACK ? 1 : 0;
        }
        return count;
    }

    private GroupRow.Improvement improvement(List<Pair> pairs) {
        double[] improvements = values(pairs, Pair::improvement);
        Clusters patients = patients(pairs);
        boolean clustered = patients.repeated();
        return new GroupRow.Improvement(
                pairs.size(),
                Summary.of(improvements),
                clustered ? Means.clusteredInterval95(improvements, patients) : Means.interval95(improvements),
                clustered,
                HodgesLehmann.location(improvements),
                Means.effectSize(improvements, values(pairs, Pair::baseline)),
                Means.standardisedResponseMean(improvements));
    }

    private AttritionRow attrition(int v) {
        Visit visit = visits.get(v);
        List<Double> with = new ArrayList<>();
        List<Double> without = new ArrayList<>();
        for (Course course : courses) {
            Episode episode = data.episodes().get(course.episode()).episode();
            boolean closedBefore = episode.indexDate()
                    .map(index -> index.plusDays(visit.fromDay()))
                    .filter(opens -> episode.closureKnown(data.asOf())
                            .filter(c -> c.isBefore(opens))
                            .isPresent())
                    .isPresent();
            if (course.baseline().isPresent() && !closedBefore) {
                if (course.points().get(v).isPresent()) {
                    with.add(course.baseline().getAsDouble());
                } else if (episode.indexDate()
                        .filter(index -> data.asOf().isAfter(last(index, visit)))
                        .isPresent()) {
                    without.add(course.baseline().getAsDouble());
                }
            }
        }
        double[] a = doubles(without);
        double[] b = doubles(with);
        return new AttritionRow(at(v), baselines(b), baselines(a), TwoSamples.standardisedDifference(a, b));
    }

    private static LocalDate last(LocalDate index, Visit visit) {
        return index.plusDays(visit.toDay());
    }

    private static double[] doubles(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).toArray();
    }

    private static AttritionRow.Baselines baselines(double[] scores) {
        return new AttritionRow.Baselines(scores.length, Means.mean(scores), Means.sd(scores));
    }

    private List<EcdfRow> ecdf(int v, List<Pair> pairs) {
        int smallest = data.request().smallestGroup();
        if (pairs.size() < smallest) {
            return List.of();
        }
        return ImprovementCurve.of(values(pairs, Pair::improvement)).steps().stream()
                .map(s -> new EcdfRow(at(v), s.improvement(), Share.of(s.atLeast(), pairs.size(), smallest)))
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
            List<Threshold> last = new ArrayList<>(); // to look each up once: it takes long, and there are few
            for (Course course : courses) {
                int condition = data.conditionNumber(course.episode());
                if (!seen.get(condition)
                        && (course.baseline().isPresent()
                                || course.points().stream().anyMatch(Optional::isPresent))) {
                    seen.set(condition);
                    conditions.add(data.condition(course.episode()));
                    own.add(table.mcid(data.condition(course.episode())));
                }
                for (int v = 0; v < visits.size(); v++) {
                    Optional<Change> pair = course.pairAt(v);
                    if (pair.isPresent()) {
                        note(pair.get().thresholds().mcid(), last, own);
                    }
                }
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

        private static void note(Optional<Threshold> mcid, List<Threshold> known, Set<Optional<Threshold>> own) {
            if (mcid.isEmpty()) {
                own.add(mcid);
                return;
            }
            for (Threshold threshold : known) {
                if (threshold.equals(mcid.get())) {
                    return;
                }
            }
            known.add(mcid.get());
            own.add(mcid);
        }

        List<ResponderRow> rows(int v, List<Pair> pairs) {
            List<ResponderRow> rows = new ArrayList<>();
            used.ifPresent(mcid ->
                    rows.add(mcid.threshold().map(t -> row(v, pairs, t, true)).orElseGet(() -> rowOfOwn(v, pairs))));
            published.forEach(t -> rows.add(row(v, pairs, t, false)));
            return rows;
        }

        private ResponderRow row(int v, List<Pair> pairs, Threshold threshold, boolean isUsed) {
            double mcid = threshold.value().orElseThrow();
            int known =
                    (int) courses.stream().filter(c -> c.baseline().isPresent()).count();
            return row(v, new McidUsed(Optional.of(threshold)), isUsed, pairs, known, p -> mcid);
        }

        private ResponderRow rowOfOwn(int v, List<Pair> pairs) {
            List<Pair> judged = pairs.stream()
                    .filter(p -> p.change().thresholds().mcid().isPresent())
                    .toList();
            int known = (int) courses.stream()
                    .filter(c -> c.baseline().isPresent() && ownMcid(c, v).isPresent())
                    .count();
            return row(v, McidUsed.EACH_EPISODES_OWN, true, judged, known, p -> p.change()
                    .thresholds()
                    .mcid()
                    .orElseThrow()
                    .value()
                    .orElseThrow());
        }

        private Optional<Threshold> ownMcid(Course course, int v) {
            Optional<Change> pair = course.pairAt(v);
            return pair.isPresent() ? pair.get().thresholds().mcid() : table.mcid(data.condition(course.episode()));
        }

        private ResponderRow row(
                int v, McidUsed mcid, boolean isUsed, List<Pair> pairs, int known, ToDoubleFunction<Pair> value) {
            int improved = 0;
            int worsened = 0;
            int couldNotReach = 0;
            int beyond = 0;
            boolean mdcKnown = pairs.isEmpty();
            for (Pair pair : pairs) {
                double m = value.applyAsDouble(pair);
                improved += Reached.meets(pair.improvement(), m) ? 1 : 0;
                worsened += Reached.meets(-pair.improvement(), m) ? 1 : 0;
                couldNotReach += Reached.meets(room(pair.baseline()), m) ? 0 : 1;
                Optional<BeyondError> error = pair.change().beyondError();
                beyond += error.equals(Optional.of(BeyondError.YES)) ? 1 : 0;
                mdcKnown |= !error.equals(Optional.of(BeyondError.UNKNOWN));
            }
            int smallest = data.request().smallestGroup();
            int missing = Math.max(0, known - pairs.size());
            return new ResponderRow(
                    at(v),
                    mcid,
                    isUsed,
                    Share.of(improved, pairs.size(), smallest),
                    worsened,
                    mdcKnown ? OptionalInt.of(beyond) : OptionalInt.empty(),
                    couldNotReach,
                    new ResponderRow.IfMissing(
                            Share.of(improved, pairs.size() + missing, smallest),
                            Share.of(improved + missing, pairs.size() + missing, smallest)));
        }

        private double room(double baseline) {
            Scale scale = table.scale();
            return scale.better() == Direction.LOWER
                    ? baseline - scale.range().low()
                    : scale.range().high() - baseline;
        }
    }
}
