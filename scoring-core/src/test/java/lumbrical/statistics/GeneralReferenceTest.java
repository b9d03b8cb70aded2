package lumbrical.statistics;

import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import lumbrical.instrument.Range;
import org.junit.jupiter.api.Test;

/**
 * Published and invented data against R 4.2.2 ({@code expected_R.csv}; the values that were computed twice agree with scipy and
 * statsmodels): every row that is about a statistic we have. The others are listed with the reason.
 */
class GeneralReferenceTest {
    /** Rows left out: a pattern of {@code dataset|method|quantity}, the number of rows, the reason. */
    private static final Map<String, String> LEFT_OUT = leftOut();

    private final Map<String, Double> ours = new HashMap<>();

    private static Map<String, String> leftOut() {
        Map<String, String> left = new LinkedHashMap<>();
        left.put(".*\\|ICC\\|ICC[13].*", "64 other forms of the ICC: reported is ICC(2,1)");
        left.put(".*\\|ICC\\|ICC2k.*", "16 mean of several sittings: reported is the single sitting");
        left.put(".*\\|ANOVA two-way\\|MSW", "4 one-way analysis: only for ICC(1)");
        left.put(
                ".*\\|SEM\\|(within-subject|SD_).*",
                "20 other errors of measurement: reported are agreement and consistency");
        left.put(".*\\|MDC\\|.*z=1\\.96.*", "8 the rounded quantile: ours is the exact one");
        left.put(".*\\|paired t\\|(t|p|p two-sided)", "10 tests and p values: reported are intervals");
        left.put(
                ".*\\|Cronbach\\|(standardised alpha|mean inter-item r)",
                "4 standardised alpha: reported is the raw one");
        left.put(".*\\|effect size\\|d_av.*", "2 another effect size: reported are ES and SRM");
        left.put(".*\\|quantiles\\|type6.*", "8 another type of quantile: ours is type 7");
        left.put(".*\\|Wilcoxon signed rank\\|.*", "3 a test");
        left.put("hollander.*\\|Hodges-Lehmann\\|CI.*", "2 exact limits of the median: reported without limits");
        left.put("cohort60\\|Guyatt\\|.*", "4 another index of responsiveness: reported are ES and SRM");
        left.put("cohort60\\|Spearman\\|.* p .*", "1 a p value");
        left.put("cohort60\\|Kendall\\|.*", "1 another correlation: reported is Spearman's");
        left.put("cohort60\\|MCID distribution\\|.*", "4 shares of the SD: not reported");
        left.put(".*\\|ROC\\|DeLong.*", "3 limits of the area: reported without limits");
        left.put("cohort60\\|MIC predictive\\|(SE |deviance).*", "3 errors of the logistic line: not reported");
        left.put(
                "cohort60\\|MIC predictive\\|MIC_iadj.*",
                "6 needs the reliability of the anchor, which a clinic does not know");
        left.put("wilson_cases\\|(Wilson cc|Clopper).*", "36 other intervals of a proportion: ours is Wilson's");
        left.put("mcnemar.*", "12 paired proportions: not reported");
        left.put(".*\\|(RCI|cut-off)\\|.*", "14 reliable change index and cut-offs: not reported");
        left.put("km20.*", "16 time to an event: not reported");
        return left;
    }

    @Test
    void everyValueWeReportAgrees() throws IOException {
        retest("shrout_fleiss_1979", Reference.columns("in/shrout_fleiss_1979.csv", "j1", "j2", "j3", "j4"));
        retest("weir_2005_A", Reference.columns("in/weir_2005_table1.csv", "A1", "A2"));
        retest("weir_2005_B", Reference.columns("in/weir_2005_table1.csv", "B1", "B2"));
        retest("retest24", Reference.columns("in/retest24.csv", "test", "retest"));
        consistency(
                "shrout_fleiss_1979 (judges as items; equals ICC(3,k))", "in/shrout_fleiss_1979.csv", names("j", 4));
        consistency("items12_complete", "in/items12_complete.csv", names("q", 12));
        double[][] sleep = Reference.columns("in/student_sleep_1908.csv", "drug1", "drug2");
        change("student_sleep_1908 (drug1 - drug2)", sleep[0], sleep[1]);
        double[][] cohort = Reference.columns("in/cohort60.csv", "baseline", "followup", "anchor");
        change("cohort60", cohort[0], cohort[1]);
        cohort(cohort);
        double[][] depression = Reference.columns("in/hollander_wolfe_depression.csv", "first", "second");
        ours.put(
                "hollander_wolfe_depression|Hodges-Lehmann|pseudomedian exact",
                valueOf(HodgesLehmann.location(Reference.differences(depression[0], depression[1]))));
        proportions();

        Map<String, Integer> seen = new TreeMap<>();
        List<String> unknown = new ArrayList<>();
        int checked = 0;
        for (Map<String, String> row : Reference.rows("expected_R.csv")) {
            String key = row.get("dataset") + "|" + row.get("method") + "|" + row.get("quantity");
            if (ours.containsKey(key)) {
                // The reference's own agreement: 1e-9, of logistic fits 1e-7.
                double tolerance = row.get("quantity").matches("logit.*|MIC_.*") ? 1e-7 : 1e-9;
                Reference.assertClose(Double.parseDouble(row.get("value")), ours.get(key), tolerance, key);
                checked++;
            } else {
                LEFT_OUT.keySet().stream()
                        .filter(pattern -> Pattern.matches(pattern, key))
                        .findFirst()
                        .ifPresentOrElse(pattern -> seen.merge(pattern, 1, Integer::sum), () -> unknown.add(key));
            }
        }
        assertEquals(List.of(), unknown);
        LEFT_OUT.forEach((pattern, reason) -> assertEquals(
                Integer.parseInt(reason.substring(0, reason.indexOf(' '))), seen.getOrDefault(pattern, 0), pattern));
        assertEquals(235, checked);
    }

    private void retest(String data, double[][] sittings) {
        Retest retest = valueOf(Retest.of(Reference.transposed(sittings)));
        ours.put(data + "|ICC|ICC2.estimate", valueOf(retest.icc()));
        ours.put(data + "|ICC|ICC2.F", retest.betweenPatients() / retest.residual());
        ours.put(data + "|ICC|ICC2.lower95", valueOf(retest.iccInterval95()).low());
        ours.put(data + "|ICC|ICC2.upper95", valueOf(retest.iccInterval95()).high());
        ours.put(data + "|ANOVA two-way|MSB", retest.betweenPatients());
        ours.put(data + "|ANOVA two-way|MSJ", retest.betweenSittings());
        ours.put(data + "|ANOVA two-way|MSE", retest.residual());
        double consistency = valueOf(retest.semConsistency());
        double agreement = valueOf(retest.semAgreement());
        ours.put(data + "|SEM|consistency = sqrt(MSE)", consistency);
        ours.put(data + "|SEM|agreement = sqrt(max(0,(MSJ-MSE)/n)+MSE)", agreement);
        ours.put(data + "|MDC|MDC90 from SEM_consistency", Retest.mdc90(consistency));
        ours.put(data + "|MDC|MDC95 from SEM_consistency", Retest.mdc95(consistency));
        ours.put(data + "|MDC|MDC90 from SEM_agreement", Retest.mdc90(agreement));
        ours.put(data + "|MDC|MDC95 from SEM_agreement", Retest.mdc95(agreement));
        if (sittings.length == 2) {
            double[] differences = Reference.differences(sittings[1], sittings[0]);
            Range limits = valueOf(Retest.limitsOfAgreement(sittings[0], sittings[1]));
            ours.put(data + "|Bland-Altman|mean difference (2nd-1st)", valueOf(Means.mean(differences)));
            ours.put(data + "|Bland-Altman|SD difference", valueOf(Means.sd(differences)));
            ours.put(data + "|Bland-Altman|lower LoA (z=qnorm .975)", limits.low());
            ours.put(data + "|Bland-Altman|upper LoA (z=qnorm .975)", limits.high());
            ours.put(data + "|Bland-Altman|SEM = SD difference/sqrt(2)", consistency);
            ours.put(data + "|Pearson|r", valueOf(Correlation.pearson(sittings[0], sittings[1])));
        }
    }

    private void consistency(String data, String file, String[] items) throws IOException {
        double[][] forms = Reference.transposed(Reference.columns(file, items));
        InternalConsistency scale = InternalConsistency.of(forms);
        ours.put(data + "|Cronbach|n complete", (double) forms.length);
        ours.put(data + "|Cronbach|raw alpha", valueOf(scale.alpha()));
        ours.put(
                data + "|Cronbach|Feldt lower95",
                valueOf(scale.alphaInterval95()).low());
        ours.put(
                data + "|Cronbach|Feldt upper95",
                valueOf(scale.alphaInterval95()).high());
        for (int j = 0; j < items.length; j++) {
            ours.put(data + "|Cronbach|alpha if dropped " + items[j], valueOf(scale.alphaWithout(j)));
            ours.put(data + "|Cronbach|corrected item-rest r " + items[j], valueOf(scale.itemRest(j)));
        }
    }

    private void change(String data, double[] first, double[] second) {
        double[] y = Reference.differences(first, second);
        TInterval interval = valueOf(Means.interval95(y));
        ours.put(data + "|change|n", (double) y.length);
        ours.put(data + "|change|mean improvement", interval.estimate());
        ours.put(data + "|change|SD change", valueOf(Means.sd(y)));
        ours.put(data + "|paired t|df", interval.degreesOfFreedom());
        ours.put(data + "|paired t|mean CI95 low", interval.interval().low());
        ours.put(data + "|paired t|mean CI95 high", interval.interval().high());
        ours.put(data + "|effect size|SRM = mean/SD(change)", valueOf(Means.standardisedResponseMean(y)));
        ours.put(data + "|effect size|ES Kazis = mean/SD(baseline)", valueOf(Means.effectSize(y, first)));
        ours.put(data + "|effect size|SD(baseline)", valueOf(Means.sd(first)));
        ours.put(data + "|Spearman|baseline vs followup rho", valueOf(Correlation.spearman(first, second)));
        ours.put(data + "|Pearson|baseline vs followup r", valueOf(Correlation.pearson(first, second)));
        ours.put(
                data + "|Hodges-Lehmann|median of all n(n+1)/2 Walsh averages (zeros kept)",
                valueOf(HodgesLehmann.location(y)));
        ours.put(data + "|quantiles|median change", Quantiles.of(y).median());
        ours.put(data + "|quantiles|type7 p0.25", Quantiles.of(y).lowerQuartile());
        ours.put(data + "|quantiles|type7 p0.75", Quantiles.of(y).upperQuartile());
        ours.put(data + "|quantiles|type7 p0.1", Quantiles.type7(y, 0.1)[0]);
        ours.put(data + "|quantiles|type7 p0.9", Quantiles.type7(y, 0.9)[0]);
    }

    private void cohort(double[][] cohort) throws IOException {
        double[] y = Reference.differences(cohort[0], cohort[1]);
        int[] steps = Arrays.stream(cohort[2]).mapToInt(s -> (int) s).toArray();
        AnchorSample sample = AnchorSample.of(
                y, steps, Clusters.of(IntStream.range(0, y.length).boxed().toList()));
        double[] first = at(steps, y, 1);
        ours.put("cohort60|groups|n anchor==0", (double) at(steps, y, 0).length);
        ours.put("cohort60|groups|n anchor==1", (double) first.length);
        ours.put("cohort60|groups|n anchor>=1", (double) sample.improved());
        ours.put("cohort60|Spearman|change vs anchor rho", valueOf(sample.correlation()));
        ours.put("cohort60|Spearman|baseline vs anchor rho", valueOf(sample.correlationWith(cohort[0])));
        ours.put("cohort60|Spearman|followup vs anchor rho", valueOf(sample.correlationWith(cohort[1])));
        ours.put("cohort60|Pearson|change vs anchor r", valueOf(Correlation.pearson(y, cohort[2])));
        String mean = "cohort60|MCID mean change|";
        ours.put(mean + "mean change anchor==1", valueOf(sample.estimate(AnchorMethod.MEAN_CHANGE)));
        ours.put(mean + "SD change anchor==1", valueOf(Means.sd(first)));
        ours.put(mean + "CI95 low", valueOf(Means.interval95(first)).interval().low());
        ours.put(mean + "CI95 high", valueOf(Means.interval95(first)).interval().high());
        ours.put(mean + "difference anchor==1 minus anchor==0", valueOf(sample.estimate(AnchorMethod.MEAN_DIFFERENCE)));
        ours.put(mean + "median change anchor==1", Quantiles.of(first).median());
        // The row has the rounded quantile, ours is the exact one; the SD of the unchanged is the row of Guyatt's
        // index.
        ours.put(
                "cohort60|MCID 95% limit|mean(unchanged)+1.645*SD(unchanged)",
                valueOf(sample.estimate(AnchorMethod.LIMIT_95)) + (1.645 - 1.6448536269514722) * 6.52793144027179);
        RocCurve curve = valueOf(sample.curve());
        String roc = "cohort60 improved=anchor>=1|ROC";
        ours.put(roc + "|AUC", curve.auc());
        cutOff(roc + " best youden|row1.", valueOf(curve.youden()));
        cutOff(roc + " best closest.topleft|row1.", valueOf(curve.corner()));
        String predictive = "cohort60|MIC predictive|";
        double share = (double) sample.improved() / sample.n();
        double[] improved =
                Arrays.stream(steps).mapToDouble(s -> s >= 1 ? 1 : 0).toArray();
        ours.put(predictive + "logit intercept", valueOf(sample.logistic()).intercept());
        ours.put(predictive + "logit slope", valueOf(sample.logistic()).slope());
        ours.put(predictive + "proportion improved", share);
        ours.put(predictive + "ln(odds improved)", Math.log(share / (1 - share)));
        ours.put(predictive + "point-biserial r(change, improved)", valueOf(Correlation.pearson(y, improved)));
        ours.put(predictive + "MIC_pred = (ln odds - b0)/b1", valueOf(sample.estimate(AnchorMethod.PREDICTIVE)));
        ours.put(
                predictive + "MIC_adj = MIC_pred-(0.090+0.103*r)*SDchange*ln odds",
                valueOf(sample.estimate(AnchorMethod.PREDICTIVE_ADJUSTED)));
        ImprovementCurve better = ImprovementCurve.of(y);
        int worse = ImprovementCurve.of(Arrays.stream(y).map(v -> -v).toArray()).atLeast(10);
        ours.put("cohort60|classification at 10|n class 1", (double) better.atLeast(10));
        ours.put("cohort60|classification at 10|n class 0", (double) y.length - better.atLeast(10) - worse);
        ours.put("cohort60|classification at 10|n class -1", (double) worse);
        double n = y.length;
        ours.put(
                "cohort60|floor/ceiling|follow-up best score (0) proportion",
                Arrays.stream(cohort[1]).filter(s -> s == 0).count() / n);
        ours.put(
                "cohort60|floor/ceiling|follow-up worst score (100) proportion",
                Arrays.stream(cohort[1]).filter(s -> s == 100).count() / n);
        for (String group : List.of("A", "B")) {
            double[][] own = Reference.columns(
                    Reference.where(Reference.rows("in/cohort60.csv"), row -> row.get("group")
                            .equals(group)),
                    "baseline",
                    "followup");
            int x = ImprovementCurve.of(Reference.differences(own[0], own[1])).atLeast(10);
            String name = "cohort60|responders >=10|group " + group;
            ours.put(name + " n", (double) own[0].length);
            ours.put(name + " x", (double) x);
            ours.put(name + " Wilson low", Wilson.interval95(x, own[0].length).low());
            ours.put(name + " Wilson high", Wilson.interval95(x, own[0].length).high());
        }
    }

    private void cutOff(String name, RocCurve.CutOff cutOff) {
        RocCurve.Point best = cutOff.best();
        ours.put(name + "threshold", best.threshold());
        ours.put(name + "sensitivity", best.sensitivity());
        ours.put(name + "specificity", best.specificity());
        ours.put(name + "youden", best.sensitivity() + best.specificity());
        ours.put(name + "closest.topleft", Math.pow(1 - best.sensitivity(), 2) + Math.pow(1 - best.specificity(), 2));
    }

    private void proportions() throws IOException {
        for (Map<String, String> row : Reference.rows("in/wilson_cases.csv")) {
            int x = Integer.parseInt(row.get("x"));
            int n = Integer.parseInt(row.get("n"));
            ours.put(
                    "wilson_cases|Wilson|" + x + "/" + n + " low",
                    Wilson.interval95(x, n).low());
            ours.put(
                    "wilson_cases|Wilson|" + x + "/" + n + " high",
                    Wilson.interval95(x, n).high());
        }
        for (Map<String, String> row : Reference.rows("in/newcombe_diff_cases.csv")) {
            int x1 = Integer.parseInt(row.get("x1"));
            int n1 = Integer.parseInt(row.get("n1"));
            int x2 = Integer.parseInt(row.get("x2"));
            int n2 = Integer.parseInt(row.get("n2"));
            String name = "newcombe_diff_cases|Newcombe hybrid score|" + x1 + "/" + n1 + " - " + x2 + "/" + n2;
            ours.put(name + " diff", (double) x1 / n1 - (double) x2 / n2);
            ours.put(name + " low", Newcombe.interval95(x1, n1, x2, n2).low());
            ours.put(name + " high", Newcombe.interval95(x1, n1, x2, n2).high());
        }
    }

    private static double[] at(int[] steps, double[] y, int step) {
        return IntStream.range(0, y.length)
                .filter(i -> steps[i] == step)
                .mapToDouble(i -> y[i])
                .toArray();
    }

    private static String[] names(String letter, int count) {
        return IntStream.rangeClosed(1, count).mapToObj(i -> letter + i).toArray(String[]::new);
    }
}
