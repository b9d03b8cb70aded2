package lumbrical.cohort;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lumbrical.number.Numbers;
import lumbrical.statistics.AnchorMethod;
import lumbrical.statistics.AnchorSample;
import lumbrical.statistics.BootstrapInterval;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.PatientResamples;
import lumbrical.statistics.RocCurve;

/** A group's own MCIDs, read from a rating of change. */
final class OwnMcids {
    /** Fewer cases are weak: common practice. */
    private static final int FEW = 50;
    /** A weaker correlation makes the rating no anchor (Revicki 2008; from memory). */
    private static final double WEAK = 0.30;
    /** Outside these shares improved the adjustment misleads; from memory. */
    private static final double LEAST_IMPROVED = 0.3;

    private static final double MOST_IMPROVED = 0.7;
    /** Correlations of the rating with baseline and follow-up that differ more in size tell present-state bias; our convention. */
    private static final double BIAS = 0.2;

    private final ClinicData data;
    private final PatientResamples samples;
    /** The number in the samples of each patient; 0 of those who are not of the group. */
    private final int[] numbers;

    /** Of one group. */
    OwnMcids(ClinicData data, Groups.Group group) {
        this.data = data;
        int[] patients = IntStream.of(group.members())
                .map(data::patient)
                .sorted()
                .distinct()
                .toArray();
        this.numbers = new int[patients.length == 0 ? 0 : patients[patients.length - 1] + 1];
        for (int i = 0; i < patients.length; i++) {
            numbers[patients[i]] = i;
        }
        this.samples = PatientResamples.of(
                patients.length, data.request().resamples(), data.request().seed());
    }

    /** The rows on one scale, for the visits at which anybody of the clinic was rated. */
    List<OwnMcidRow> rows(GroupScale group) {
        List<OwnMcidRow> rows = new ArrayList<>();
        for (int v = 0; v < data.visits().size(); v++) {
            if (data.visits().followUp(v) && group.table().scores().rated(v)) {
                rows.addAll(rows(v, group));
            }
        }
        return rows;
    }

    private List<OwnMcidRow> rows(int visit, GroupScale group) {
        VisitScores scores = group.table().scores().at(visit);
        RowPlace at = group.at(visit);
        GroupScale.Pairs rated = group.pairs(visit).where(scores::rated);
        int[] steps = IntStream.of(rated.episodes()).map(scores::rating).toArray();
        AnchorSample sample = AnchorSample.of(rated.improvements(), steps, group.patients(rated));
        Map<AnchorMethod, BootstrapInterval> intervals = sample.bootstrap95(
                samples,
                IntStream.of(rated.episodes())
                        .map(e -> numbers[data.patient(e)])
                        .toArray());
        Estimate<RocCurve> curve = sample.curve();
        Estimate<Double> correlation = sample.correlation();
        OwnMcidRow.Sample cases =
                new OwnMcidRow.Sample(sample.n(), sample.improved(), correlation, curve.map(RocCurve::auc));
        List<String> ofSample = warnings(sample, correlation, rated, scores);
        List<OwnMcidRow> rows = new ArrayList<>();
        for (AnchorMethod method : AnchorMethod.values()) {
            BootstrapInterval interval = intervals.getOrDefault(
                    method, new BootstrapInterval(Estimate.none(Estimate.Reason.NO_VALUES), 0, samples.resamples()));
            List<String> warnings = new ArrayList<>();
            Estimate<Double> estimate = sample.estimate(method);
            estimate.whyNot().ifPresent(reason -> warnings.add("not estimable: " + reason.explanation()));
            if (estimate.whyNot().isEmpty()) {
                interval.interval().whyNot().ifPresent(reason -> warnings.add("no interval: " + reason.explanation()));
                warnings.addAll(ties(method, curve));
            }
            warnings.addAll(ofSample);
            rows.add(new OwnMcidRow(at, method, estimate, interval.interval(), cases, warnings));
        }
        return rows;
    }

    private static List<String> ties(AnchorMethod method, Estimate<RocCurve> curve) {
        Estimate<RocCurve.CutOff> best =
                switch (method) {
                    case ROC_YOUDEN -> curve.flatMap(RocCurve::youden);
                    case ROC_CORNER -> curve.flatMap(RocCurve::corner);
                    default -> Estimate.none(Estimate.Reason.NO_VALUES);
                };
        return best.optional()
                .filter(c -> c.tied().size() > 1)
                .map(c -> List.of("as good: "
                        + c.tied().stream().map(Numbers::format).collect(Collectors.joining(", "))
                        + "; the smallest is given"))
                .orElse(List.of());
    }

    private static List<String> warnings(
            AnchorSample sample, Estimate<Double> correlation, GroupScale.Pairs rated, VisitScores scores) {
        List<String> warnings = new ArrayList<>();
        int n = sample.n();
        if (n < FEW) {
            warnings.add("fewer than " + FEW);
        }
        correlation.whyNot().ifPresent(reason -> warnings.add("no correlation: " + reason.explanation()));
        correlation
                .optional()
                .filter(r -> r < WEAK)
                .ifPresent(r -> warnings.add("correlation with the anchor under 0.30"));
        double share = n == 0 ? LEAST_IMPROVED : (double) sample.improved() / n;
        if (share < LEAST_IMPROVED || share > MOST_IMPROVED) {
            warnings.add("share improved outside 0.3 to 0.7");
        }
        Estimate<Double> before = sample.correlationWith(rated.baselines());
        Estimate<Double> after = sample.correlationWith(IntStream.of(rated.episodes())
                .mapToDouble(scores::comparedFollowUp)
                .toArray());
        before.optional().ifPresent(b -> after.optional()
                .filter(f -> Math.abs(Math.abs(b) - Math.abs(f)) > BIAS)
                .ifPresent(f -> warnings.add("present-state bias: the anchor's correlation with the baseline is "
                        + twoDecimals(b) + ", with the follow-up " + twoDecimals(f))));
        return warnings;
    }

    private static String twoDecimals(double value) {
        return String.format(Locale.ROOT, "%.2f", value);
    }
}
