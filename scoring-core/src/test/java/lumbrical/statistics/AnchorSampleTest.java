package lumbrical.statistics;

import static lumbrical.statistics.Reference.assertNone;
import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

class AnchorSampleTest {
    private static final List<AnchorMethod> NEEDS_BOTH = List.of(
            AnchorMethod.ROC_YOUDEN,
            AnchorMethod.ROC_CORNER,
            AnchorMethod.PREDICTIVE,
            AnchorMethod.PREDICTIVE_ADJUSTED);

    /** Every point of the curve, pROC 1.18.0; the two rows at infinity are no thresholds. */
    @Test
    void everyPointOfTheCurveAgrees() throws IOException {
        double[][] cohort = Reference.columns("in/cohort60.csv", "baseline", "followup", "anchor");
        boolean[] improved = new boolean[60];
        for (int i = 0; i < improved.length; i++) {
            improved[i] = cohort[2][i] >= 1;
        }
        RocCurve curve = valueOf(RocCurve.of(Reference.differences(cohort[0], cohort[1]), improved));
        List<Map<String, String>> expected = Reference.where(
                Reference.rows("expected_roc_cohort60_improved_anchor_1.csv"),
                row -> !row.get("threshold").contains("Inf"));
        assertEquals(46, expected.size());
        assertEquals(46, curve.points().size());
        for (int i = 0; i < expected.size(); i++) {
            RocCurve.Point point = curve.points().get(i);
            assertEquals(Double.parseDouble(expected.get(i).get("threshold")), point.threshold(), 1e-9);
            assertEquals(Double.parseDouble(expected.get(i).get("sensitivity")), point.sensitivity(), 1e-9);
            assertEquals(Double.parseDouble(expected.get(i).get("specificity")), point.specificity(), 1e-9);
        }
    }

    /**
     * The percentiles of 40,000 resamples of another program (numpy, generator PCG64): within the chance of 2,000 resamples, five standard
     * deviations of a limit; thresholds come in steps of 0.25.
     */
    @Test
    void bootstrapAgreesWithAnotherProgram() throws IOException {
        AnchorSample sample = ClinicReferenceTest.sample(Reference.rows("in/clinic240.csv"));
        Map<AnchorMethod, BootstrapInterval> intervals = sample.bootstrap95(2000, 1);
        int checked = 0;
        for (Map<String, String> row : Reference.rows("expected_bootstrap_clinic240.csv")) {
            AnchorMethod method = Arrays.stream(AnchorMethod.values())
                    .filter(m -> m.code().equals(row.get("method")))
                    .findFirst()
                    .orElseThrow();
            BootstrapInterval interval = intervals.get(method);
            Range range = valueOf(interval.interval());
            double step = row.get("method").startsWith("roc") ? 0.25 : 0;
            assertEquals(
                    Double.parseDouble(row.get("low")),
                    range.low(),
                    step + 5 * Double.parseDouble(row.get("sd_low_2000")),
                    method + " low");
            assertEquals(
                    Double.parseDouble(row.get("high")),
                    range.high(),
                    step + 5 * Double.parseDouble(row.get("sd_high_2000")),
                    method + " high");
            assertEquals(2000, interval.usable());
            assertEquals(2000, interval.resamples());
            checked++;
        }
        assertEquals(7, checked);
        assertEquals(intervals, sample.bootstrap95(2000, 1), "the same seed");
        assertNotEquals(intervals, sample.bootstrap95(2000, 2), "another seed");
    }

    /** Ten patients with many episodes each, alike within a patient: the interval of patients is far wider than that of episodes. */
    @Test
    void bootstrapDrawsPatientsNotEpisodes() {
        double[] y = IntStream.range(0, 200).mapToDouble(i -> i / 20).toArray();
        int[] steps = IntStream.range(0, 200).map(i -> 1).toArray();
        Clusters patients =
                Clusters.of(IntStream.range(0, 200).mapToObj(i -> i / 20).toList());
        Range clustered = valueOf(AnchorSample.of(y, steps, patients)
                .bootstrap95(500, 1)
                .get(AnchorMethod.MEAN_CHANGE)
                .interval());
        Range independent = valueOf(AnchorSample.of(y, steps, eachItsOwn(200))
                .bootstrap95(500, 1)
                .get(AnchorMethod.MEAN_CHANGE)
                .interval());
        // The means of 10 and of 200 draws from 0 to 9: standard errors 0.908 and 0.203.
        assertEquals(2 * 1.96 * 0.908, clustered.width(), 0.5);
        assertEquals(2 * 1.96 * 0.203, independent.width(), 0.12);
    }

    /** Eight samples are counted together; of twelve, the last four are neither lost nor taken for others. */
    @Test
    void everySampleCounts() {
        AnchorSample sample = sample("1 2 3", "1 1 1");
        assertEquals(12, sample.bootstrap95(12, 1).get(AnchorMethod.MEAN_CHANGE).usable());
    }

    @Test
    void bootstrapDoesNotMindTheOrderOfRows() throws IOException {
        List<Map<String, String>> clinic = new java.util.ArrayList<>(Reference.rows("in/clinic240.csv"));
        Map<AnchorMethod, BootstrapInterval> intervals =
                ClinicReferenceTest.sample(clinic).bootstrap95(200, 7);
        Collections.reverse(clinic);
        assertEquals(intervals, ClinicReferenceTest.sample(clinic).bootstrap95(200, 7));
    }

    @Test
    void bootstrapNeedsPatientsAndEstimates() {
        double[] y = {1, 5, 2, 8, 3, 9};
        int[] steps = {0, 1, 1, 2, 0, 1};
        AnchorSample onePatient = AnchorSample.of(y, steps, Clusters.of(Collections.nCopies(6, "P1")));
        for (BootstrapInterval interval : onePatient.bootstrap95(10, 1).values()) {
            assertNone(Reason.ONE_PATIENT, interval.interval());
            assertEquals(0, interval.usable());
        }
        // Of six patients many resamples lack the two unchanged, or have them separated.
        Map<AnchorMethod, BootstrapInterval> six =
                AnchorSample.of(y, steps, eachItsOwn(6)).bootstrap95(400, 1);
        BootstrapInterval limit = six.get(AnchorMethod.LIMIT_95);
        assertNone(Reason.TOO_FEW_RESAMPLES, limit.interval());
        assertTrue(limit.usable() > 0 && limit.usable() < 380, "usable: " + limit.usable());
        assertTrue(six.get(AnchorMethod.MEAN_CHANGE).interval().optional().isPresent());
        assertThrows(IllegalArgumentException.class, () -> AnchorSample.of(y, steps, eachItsOwn(6))
                .bootstrap95(0, 1));
        Map<AnchorMethod, BootstrapInterval> none =
                AnchorSample.of(new double[0], new int[0], eachItsOwn(0)).bootstrap95(10, 1);
        for (BootstrapInterval interval : none.values()) {
            assertNone(Reason.NO_VALUES, interval.interval());
        }
    }

    @ParameterizedTest
    @EnumSource(AnchorMethod.class)
    void nobodyHasNoMcid(AnchorMethod method) {
        AnchorSample sample = AnchorSample.of(new double[0], new int[0], eachItsOwn(0));
        assertNone(Reason.NO_VALUES, sample.estimate(method));
        assertNone(Reason.NO_VALUES, sample.curve());
        assertNone(Reason.NO_VALUES, sample.logistic());
        assertNone(Reason.NO_VALUES, sample.correlation());
    }

    @Test
    void oneSidedAnchorsSayWhich() {
        double[] y = {4, 6, 9};
        AnchorSample all = AnchorSample.of(y, new int[] {1, 2, 3}, eachItsOwn(3));
        AnchorSample none = AnchorSample.of(y, new int[] {0, -1, 0}, eachItsOwn(3));
        for (AnchorMethod method : NEEDS_BOTH) {
            assertNone(Reason.EVERYONE_IMPROVED, all.estimate(method));
            assertNone(Reason.NOBODY_IMPROVED, none.estimate(method));
        }
        assertNone(Reason.EVERYONE_IMPROVED, all.curve());
        assertNone(Reason.NOBODY_IMPROVED, none.curve());
        assertNone(Reason.EVERYONE_IMPROVED, all.logistic());
        assertEquals(4, valueOf(all.estimate(AnchorMethod.MEAN_CHANGE)));
        assertNone(Reason.NOBODY_UNCHANGED, all.estimate(AnchorMethod.MEAN_DIFFERENCE));
        assertNone(Reason.NOBODY_UNCHANGED, all.estimate(AnchorMethod.LIMIT_95));
        assertNone(Reason.NOBODY_AT_FIRST_STEP, none.estimate(AnchorMethod.MEAN_CHANGE));
        assertNone(Reason.NOBODY_AT_FIRST_STEP, none.estimate(AnchorMethod.MEAN_DIFFERENCE));
        // 6.5 + 1.644853626951473 * SD of 4 and 9, by hand.
        assertEquals(6.5 + 1.644853626951473 * 5 / Math.sqrt(2), valueOf(none.estimate(AnchorMethod.LIMIT_95)), 1e-12);
        assertEquals(3, all.improved());
        assertEquals(0, none.improved());
    }

    @ParameterizedTest
    @CsvSource({
        // improvements; anchor; reason
        "5 5 5 5, 0 1 0 1, NO_SPREAD",
        "1 2 3 4, 0 0 1 1, PERFECT_SEPARATION",
        // All but ties at one value: still no slope is steep enough.
        "1 2 2 4, 0 0 1 1, PERFECT_SEPARATION",
        "4 3 2 1, 0 0 1 1, PERFECT_SEPARATION",
        // The improved by the anchor are those that got worse by the score.
        "4 1 3 2 5, 0 1 1 1 0, PERFECT_SEPARATION",
        "4 1 3 2 5 1.5, 0 1 1 1 0 0, ANCHOR_REVERSED",
        "1 2 1 2, 0 0 1 1, ANCHOR_REVERSED"
    })
    void predictiveTellsWhyNot(String improvements, String anchor, Reason reason) {
        AnchorSample sample = sample(improvements, anchor);
        assertNone(reason, sample.estimate(AnchorMethod.PREDICTIVE));
        assertNone(reason, sample.estimate(AnchorMethod.PREDICTIVE_ADJUSTED));
    }

    @Test
    void separationStillHasACutOff() {
        AnchorSample sample = sample("1 2 3 4", "0 0 1 1");
        assertEquals(2.5, valueOf(sample.estimate(AnchorMethod.ROC_YOUDEN)));
        assertEquals(2.5, valueOf(sample.estimate(AnchorMethod.ROC_CORNER)));
        assertEquals(1, valueOf(sample.curve()).auc());
    }

    @Test
    void reversedAnchorHasACurveButNoCutOff() {
        AnchorSample sample = sample("4 3 2 1", "0 0 1 1");
        RocCurve curve = valueOf(sample.curve());
        assertEquals(0, curve.auc());
        assertNone(Reason.ANCHOR_REVERSED, curve.youden());
        assertNone(Reason.ANCHOR_REVERSED, curve.corner());
        assertNone(Reason.ANCHOR_REVERSED, sample.estimate(AnchorMethod.ROC_YOUDEN));
        AnchorSample level = sample("5 5 5", "0 1 2");
        assertNone(Reason.NO_SPREAD, level.estimate(AnchorMethod.ROC_CORNER));
        assertNone(Reason.NO_SPREAD, valueOf(level.curve()).youden());
        assertEquals(0.5, valueOf(level.curve()).auc());
        assertNone(Reason.NO_SPREAD, level.logistic());
    }

    /** By hand: of the thresholds 1.5, 2.5, 3.5 the outer two have J 0.5 each; the corner is as far from both. */
    @Test
    void tiesOfCutOffsAreAllListedAndTheSmallestTaken() {
        RocCurve curve = valueOf(sample("1 2 3 4", "0 1 0 1").curve());
        RocCurve.CutOff youden = valueOf(curve.youden());
        assertEquals(List.of(1.5, 3.5), youden.tied());
        assertEquals(new RocCurve.Point(1.5, 1, 0.5), youden.best());
        RocCurve.CutOff corner = valueOf(curve.corner());
        assertEquals(List.of(1.5, 3.5), corner.tied());
        assertEquals(1.5, corner.best().threshold());
    }

    /** Sums equal by arithmetic that differ in the last bits are one value, not a threshold between two. */
    @Test
    void roundingMakesNoThresholds() {
        double third = 100.0 / 3;
        RocCurve curve = valueOf(RocCurve.of(
                new double[] {3 * third - 2 * third, third, 100 - 2 * third, 0, 50},
                new boolean[] {false, true, false, false, true}));
        assertEquals(2, curve.points().size());
        assertEquals(third / 2, curve.points().get(0).threshold(), 1e-9);
        assertEquals((third + 50) / 2, curve.points().get(1).threshold(), 1e-9);
    }

    @Test
    void limit95NeedsASpreadOfTheUnchanged() {
        assertNone(Reason.ONE_VALUE, sample("1 4 5", "0 1 1").estimate(AnchorMethod.LIMIT_95));
        assertNone(Reason.NO_SPREAD, sample("1 1 5", "0 0 1").estimate(AnchorMethod.LIMIT_95));
    }

    /** A far value makes Newton's first steps overshoot; the slope at the peak is 0, so the scores of the fit sum to the events. */
    @Test
    void logisticLineIsThePeakOfTheLikelihoodEvenWithAFarValue() {
        double[] y = {0, 1, 2, 3, 4, 5, 6, 7, 1000, 2000};
        boolean[] improved = {false, false, true, false, true, false, true, true, true, true};
        LogisticModel line = valueOf(LogisticModel.fit(y, improved));
        double atConstant = 0;
        double atSlope = 0;
        for (int i = 0; i < y.length; i++) {
            double p = 1 / (1 + Math.exp(-line.intercept() - line.slope() * y[i]));
            atConstant += (improved[i] ? 1 : 0) - p;
            atSlope += ((improved[i] ? 1 : 0) - p) * y[i];
        }
        assertEquals(0, atConstant, 1e-9);
        assertEquals(0, atSlope, 1e-9);
        assertTrue(line.slope() > 0.1);
    }

    /** The overlap is a millionth of the range: the peak is out of reach, which is told rather than a giant. */
    @Test
    void hardlyAnyOverlapCountsAsSeparation() {
        assertNone(
                Reason.PERFECT_SEPARATION,
                LogisticModel.fit(
                        new double[] {0, 1000000, 1000000.00001, 2e9}, new boolean[] {false, true, false, true}));
    }

    @Test
    void weightsCountCasesAsOften() throws IOException {
        AnchorSample clinic = ClinicReferenceTest.sample(Reference.rows("in/clinic240.csv"));
        int[] once = new int[clinic.n()];
        Arrays.fill(once, 1);
        AnchorSample thrice = sample("1 1 1 2 3 4 4 5 8", "0 0 0 1 0 1 1 0 3");
        AnchorSample weighted = sample("1 2 3 4 5 8", "0 1 0 1 0 3");
        for (AnchorMethod method : AnchorMethod.values()) {
            assertEquals(clinic.estimate(method), clinic.estimate(method, once));
            assertEquals(
                    valueOf(thrice.estimate(method)),
                    valueOf(weighted.estimate(method, new int[] {3, 1, 1, 2, 1, 1})),
                    1e-9);
            assertNone(Reason.NO_VALUES, weighted.estimate(method, new int[6]));
        }
        assertNone(Reason.EVERYONE_IMPROVED, weighted.estimate(AnchorMethod.PREDICTIVE, new int[] {0, 1, 0, 1, 0, 1}));
        assertEquals(
                "A case cannot count -1 times",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> weighted.estimate(AnchorMethod.LIMIT_95, new int[] {1, 1, 1, 1, 1, -1}))
                        .getMessage());
        assertThrows(IllegalArgumentException.class, () -> weighted.estimate(AnchorMethod.LIMIT_95, new int[] {1}));
    }

    @Test
    void eachCaseNeedsEverything() {
        assertThrows(IllegalArgumentException.class, () -> AnchorSample.of(new double[2], new int[1], eachItsOwn(2)));
        assertThrows(IllegalArgumentException.class, () -> AnchorSample.of(new double[2], new int[2], eachItsOwn(1)));
        assertThrows(IllegalArgumentException.class, () -> RocCurve.of(new double[2], new boolean[1]));
        assertThrows(IllegalArgumentException.class, () -> LogisticModel.fit(new double[2], new boolean[1]));
        assertThrows(
                IllegalArgumentException.class,
                () -> AnchorSample.of(new double[] {Double.NaN}, new int[1], eachItsOwn(1)));
    }

    private static AnchorSample sample(String improvements, String anchor) {
        double[] y = Arrays.stream(improvements.split(" "))
                .mapToDouble(Double::parseDouble)
                .toArray();
        int[] steps =
                Arrays.stream(anchor.split(" ")).mapToInt(Integer::parseInt).toArray();
        return AnchorSample.of(y, steps, eachItsOwn(y.length));
    }

    static Clusters eachItsOwn(int n) {
        return Clusters.of(IntStream.range(0, n).boxed().toList());
    }
}
