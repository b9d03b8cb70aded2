package lumbrical.statistics;

import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import lumbrical.instrument.Range;
import org.junit.jupiter.api.Test;

/**
 * An invented clinic of 240 episodes of 198 patients against R 4.2.2 (base), all of {@code expected_clinic240.csv}; 50 of its values
 * agree with statsmodels 0.13.5 and scipy 1.10.1.
 */
class ClinicReferenceTest {
    private final Map<String, Double> ours = new HashMap<>();

    @Test
    void everyValueOfTheClinicAgrees() throws IOException {
        List<Map<String, String>> clinic = Reference.rows("in/clinic240.csv");
        for (String group : List.of("all", "A", "B")) {
            List<Map<String, String>> rows = Reference.where(
                    clinic, row -> group.equals("all") || row.get("group").equals(group));
            for (String visit : List.of("month3", "month12")) {
                oneGroup(group + " " + visit + " ", visit, rows);
            }
        }
        for (String visit : List.of("month3", "month12")) {
            twoGroups("A-B " + visit + " ", visit, clinic);
        }
        anchor(clinic);

        List<Map<String, String>> expected = Reference.rows("expected_clinic240.csv");
        Set<String> missing = new TreeSet<>();
        int checked = 0;
        for (Map<String, String> row : expected) {
            String quantity = row.get("quantity");
            if (ours.containsKey(quantity)) {
                Reference.assertClose(Double.parseDouble(row.get("value")), ours.get(quantity), 1e-9, quantity);
                checked++;
            } else {
                missing.add(quantity);
            }
        }
        assertEquals(Set.of(), missing);
        assertEquals(318, checked);
    }

    private void oneGroup(String group, String visit, List<Map<String, String>> rows) {
        List<Map<String, String>> pairs = both(rows, "baseline", visit);
        double[][] columns = Reference.columns(pairs, "baseline", visit);
        double[] baselines = columns[0];
        double[] y = Reference.differences(columns[0], columns[1]);
        double[] scores = Reference.columns(rows, visit)[0];
        ours.put(group + "episodes", (double) rows.size());
        ours.put(group + "patients", (double) patients(rows).count());
        ours.put(group + "scored", (double) scores.length);
        Summary summary = valueOf(Summary.of(scores));
        ours.put(group + "score mean", summary.quantiles().mean());
        ours.put(group + "score sd", valueOf(summary.sd()));
        ours.put(group + "score median", summary.quantiles().median());
        ours.put(group + "score q1 type 7", summary.quantiles().lowerQuartile());
        ours.put(group + "score q3 type 7", summary.quantiles().upperQuartile());
        ours.put(group + "paired", (double) y.length);
        Summary improvement = valueOf(Summary.of(y));
        ours.put(group + "improvement mean", improvement.quantiles().mean());
        ours.put(group + "improvement sd", valueOf(improvement.sd()));
        interval(group + "improvement t ", valueOf(Means.interval95(y)).interval());
        ours.put(group + "patients paired", (double) patients(pairs).count());
        TInterval clustered = valueOf(Means.clusteredInterval95(y, patients(pairs)));
        ours.put(group + "improvement clustered se CR1", clustered.standardError());
        interval(group + "improvement clustered ", clustered.interval());
        ours.put(group + "ES", valueOf(Means.effectSize(y, baselines)));
        ours.put(group + "SRM", valueOf(Means.standardisedResponseMean(y)));
        ours.put(group + "median improvement", improvement.quantiles().median());
        ours.put(group + "Hodges-Lehmann", valueOf(HodgesLehmann.location(y)));
        double known = Reference.columns(rows, "baseline")[0].length;
        ImprovementCurve better = ImprovementCurve.of(y);
        ImprovementCurve worse =
                ImprovementCurve.of(Arrays.stream(y).map(v -> -v).toArray());
        for (int m : new int[] {10, 20}) {
            int x = better.atLeast(m);
            ours.put(group + "improved by " + m, (double) x);
            interval(group + "improved by " + m + " wilson ", Wilson.interval95(x, y.length));
            ours.put(group + "worsened by " + m, (double) worse.atLeast(m));
            ours.put(group + "room below " + m, (double)
                    Arrays.stream(baselines).filter(b -> b < m).count());
            ours.put(group + "baseline known", known);
            ours.put(group + "improved by " + m + " missing counted as not, percent", 100 * x / known);
            ours.put(
                    group + "improved by " + m + " missing counted as improved, percent",
                    100 * (x + known - y.length) / known);
        }
        ours.put(group + "best possible", (double)
                Arrays.stream(scores).filter(s -> s == 0).count());
        ours.put(group + "worst possible", (double)
                Arrays.stream(scores).filter(s -> s == 100).count());
        double[] without =
                Reference.columns(Reference.where(rows, row -> row.get(visit).isEmpty()), "baseline")[0];
        ours.put(group + "baseline mean with follow-up", valueOf(Means.mean(baselines)));
        ours.put(group + "baseline mean without", valueOf(Means.mean(without)));
        ours.put(group + "standardised difference", valueOf(TwoSamples.standardisedDifference(without, baselines)));
    }

    private void twoGroups(String name, String visit, List<Map<String, String>> clinic) {
        List<Map<String, String>> pairs = both(clinic, "baseline", visit);
        double[][] columns = Reference.columns(pairs, "baseline", visit);
        double[] y = Reference.differences(columns[0], columns[1]);
        boolean[] inA = new boolean[y.length];
        for (int i = 0; i < inA.length; i++) {
            inA[i] = pairs.get(i).get("group").equals("A");
        }
        double[] a = IntStream.range(0, y.length)
                .filter(i -> inA[i])
                .mapToDouble(i -> y[i])
                .toArray();
        double[] b = IntStream.range(0, y.length)
                .filter(i -> !inA[i])
                .mapToDouble(i -> y[i])
                .toArray();
        TInterval welch = valueOf(TwoSamples.welch(a, b));
        ours.put(name + "difference of mean improvement", welch.estimate());
        interval(name + "Welch ", welch.interval());
        ours.put(name + "Welch df", welch.degreesOfFreedom());
        LinearModel model = valueOf(LinearModel.adjustedForBaseline(y, columns[0], inA));
        ours.put(name + "adjusted for baseline", model.coefficient(2));
        interval(name + "adjusted ", valueOf(model.interval95(2)).interval());
        TInterval clustered = valueOf(model.clusteredInterval95(2, patients(pairs)));
        ours.put(name + "adjusted clustered se CR1", clustered.standardError());
        interval(name + "adjusted clustered ", clustered.interval());
        ours.put(name + "probability A better", valueOf(TwoSamples.probabilityLarger(a, b)));
        ours.put(name + "Hodges-Lehmann shift", valueOf(HodgesLehmann.shift(a, b)));
        for (int m : new int[] {10, 20}) {
            int x1 = ImprovementCurve.of(a).atLeast(m);
            int x2 = ImprovementCurve.of(b).atLeast(m);
            ours.put(name + "improved by " + m + " difference", (double) x1 / a.length - (double) x2 / b.length);
            interval(name + "improved by " + m + " Newcombe ", Newcombe.interval95(x1, a.length, x2, b.length));
        }
    }

    private void anchor(List<Map<String, String>> clinic) {
        AnchorSample sample = sample(clinic);
        double[][] columns = Reference.columns(both(clinic, "baseline", "month12"), "baseline", "month12", "anchor");
        ours.put("anchor n", (double) sample.n());
        ours.put("anchor spearman improvement", valueOf(sample.correlation()));
        ours.put("anchor spearman baseline", valueOf(sample.correlationWith(columns[0])));
        ours.put("anchor spearman month12", valueOf(sample.correlationWith(columns[1])));
        for (int level = -3; level <= 3; level++) {
            double rating = level;
            double[] y = IntStream.range(0, sample.n())
                    .filter(i -> columns[2][i] == rating)
                    .mapToDouble(i -> columns[0][i] - columns[1][i])
                    .toArray();
            ours.put("anchor " + level + " n", (double) y.length);
            ours.put("anchor " + level + " mean improvement", valueOf(Means.mean(y)));
        }
        ours.put("mean change, anchor 1", valueOf(sample.estimate(AnchorMethod.MEAN_CHANGE)));
        ours.put("mean difference, anchor 1 - 0", valueOf(sample.estimate(AnchorMethod.MEAN_DIFFERENCE)));
        ours.put("improved", (double) sample.improved());
        ours.put("logit intercept", valueOf(sample.logistic()).intercept());
        ours.put("logit slope", valueOf(sample.logistic()).slope());
        ours.put("MIC predictive", valueOf(sample.estimate(AnchorMethod.PREDICTIVE)));
        ours.put("MIC adjusted", valueOf(sample.estimate(AnchorMethod.PREDICTIVE_ADJUSTED)));
        double[] improved = Arrays.stream(columns[2]).map(s -> s >= 1 ? 1 : 0).toArray();
        ours.put(
                "point-biserial r",
                valueOf(Correlation.pearson(Reference.differences(columns[0], columns[1]), improved)));
        RocCurve curve = valueOf(sample.curve());
        ours.put("AUC", curve.auc());
        RocCurve.Point youden = valueOf(curve.youden()).best();
        ours.put("Youden threshold, smallest of ties", youden.threshold());
        ours.put("Youden J", youden.sensitivity() + youden.specificity() - 1);
        ours.put(
                "closest to (0,1) threshold, smallest of ties",
                valueOf(curve.corner()).best().threshold());
        assertEquals(youden.threshold(), valueOf(sample.estimate(AnchorMethod.ROC_YOUDEN)));
        assertTrue(valueOf(curve.youden()).tied().contains(youden.threshold()));
    }

    /** The cases with an anchor at month 12. */
    static AnchorSample sample(List<Map<String, String>> clinic) {
        List<Map<String, String>> rows = Reference.where(
                both(clinic, "baseline", "month12"), row -> !row.get("anchor").isEmpty());
        double[][] columns = Reference.columns(rows, "baseline", "month12", "anchor");
        int[] steps = Arrays.stream(columns[2]).mapToInt(s -> (int) s).toArray();
        return AnchorSample.of(Reference.differences(columns[0], columns[1]), steps, patients(rows));
    }

    private static List<Map<String, String>> both(List<Map<String, String>> rows, String first, String second) {
        return Reference.where(
                rows, row -> !row.get(first).isEmpty() && !row.get(second).isEmpty());
    }

    private static Clusters patients(List<Map<String, String>> rows) {
        return Clusters.of(rows.stream().map(row -> row.get("patient")).toList());
    }

    private void interval(String name, Range interval) {
        ours.put(name + "low", interval.low());
        ours.put(name + "high", interval.high());
    }
}
