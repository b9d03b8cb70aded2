package lumbrical.statistics;

import static lumbrical.statistics.AnchorSampleTest.eachItsOwn;
import static lumbrical.statistics.Reference.assertNone;
import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

/** What a small clinic brings: nobody, one pair, two, no spread, one patient with many episodes. Expected values by hand. */
class HardCasesTest {
    private static final double[] NOBODY = {};
    private static final double[] ONE = {12};
    private static final double[] ALIKE = {7, 7, 7};
    /** Alike but for the last bits of a double. */
    private static final double[] NEARLY_ALIKE = {0.1 + 0.2, 0.3, 0.3};

    private static final double[] TWO = {10, 14};

    static Stream<Arguments> refusals() {
        return Stream.of(
                refusal("mean of nobody", Reason.NO_VALUES, () -> Means.mean(NOBODY)),
                refusal("summary of nobody", Reason.NO_VALUES, () -> Summary.of(NOBODY)),
                refusal("sd of nobody", Reason.NO_VALUES, () -> Means.sd(NOBODY)),
                refusal("sd of one", Reason.ONE_VALUE, () -> Means.sd(ONE)),
                refusal("sd of equal values", Reason.NO_SPREAD, () -> Means.sd(ALIKE)),
                refusal("sd of rounding", Reason.NO_SPREAD, () -> Means.sd(NEARLY_ALIKE)),
                refusal("interval of nobody", Reason.NO_VALUES, () -> Means.interval95(NOBODY)),
                refusal("interval of one", Reason.ONE_VALUE, () -> Means.interval95(ONE)),
                refusal("interval of equal values", Reason.NO_SPREAD, () -> Means.interval95(ALIKE)),
                refusal("clustered, nobody", Reason.NO_VALUES, () -> clustered(NOBODY)),
                refusal("clustered, one", Reason.ONE_VALUE, () -> clustered(ONE, 1)),
                refusal("clustered, equal values", Reason.NO_SPREAD, () -> clustered(ALIKE, 1, 2, 3)),
                refusal("clustered, one patient", Reason.ONE_PATIENT, () -> clustered(new double[] {1, 2, 5}, 1, 1, 1)),
                refusal(
                        "clustered, patients alike",
                        Reason.NO_SPREAD,
                        () -> clustered(new double[] {1, 5, 2, 4}, 1, 1, 2, 2)),
                refusal("effect size of nobody", Reason.NO_VALUES, () -> Means.effectSize(NOBODY, NOBODY)),
                refusal("effect size of one", Reason.ONE_VALUE, () -> Means.effectSize(ONE, ONE)),
                refusal(
                        "effect size, equal baselines",
                        Reason.NO_SPREAD,
                        () -> Means.effectSize(TWO, new double[] {5, 5})),
                refusal("srm of one", Reason.ONE_VALUE, () -> Means.standardisedResponseMean(ONE)),
                refusal("srm of equal changes", Reason.NO_SPREAD, () -> Means.standardisedResponseMean(ALIKE)),
                refusal("welch, nobody in A", Reason.NO_VALUES, () -> TwoSamples.welch(NOBODY, TWO)),
                refusal("welch, nobody in B", Reason.NO_VALUES, () -> TwoSamples.welch(TWO, NOBODY)),
                refusal("welch, one in A", Reason.ONE_VALUE, () -> TwoSamples.welch(ONE, TWO)),
                refusal("welch, one in B", Reason.ONE_VALUE, () -> TwoSamples.welch(TWO, ONE)),
                refusal("welch, no spread", Reason.NO_SPREAD, () -> TwoSamples.welch(ALIKE, new double[] {1, 1})),
                refusal("difference, one", Reason.ONE_VALUE, () -> TwoSamples.standardisedDifference(ONE, TWO)),
                refusal("larger, nobody in A", Reason.NO_VALUES, () -> TwoSamples.probabilityLarger(NOBODY, TWO)),
                refusal("larger, nobody in B", Reason.NO_VALUES, () -> TwoSamples.probabilityLarger(TWO, NOBODY)),
                refusal("location of nobody", Reason.NO_VALUES, () -> HodgesLehmann.location(NOBODY)),
                refusal("shift, nobody in A", Reason.NO_VALUES, () -> HodgesLehmann.shift(NOBODY, TWO)),
                refusal("shift, nobody in B", Reason.NO_VALUES, () -> HodgesLehmann.shift(TWO, NOBODY)),
                refusal("spearman of nobody", Reason.NO_VALUES, () -> Correlation.spearman(NOBODY, NOBODY)),
                refusal("spearman of one", Reason.ONE_VALUE, () -> Correlation.spearman(ONE, ONE)),
                refusal(
                        "spearman, x alike",
                        Reason.NO_SPREAD,
                        () -> Correlation.spearman(ALIKE, new double[] {1, 2, 3})),
                refusal(
                        "spearman, y alike",
                        Reason.NO_SPREAD,
                        () -> Correlation.spearman(new double[] {1, 2, 3}, ALIKE)),
                refusal("model of nobody", Reason.NO_VALUES, () -> LinearModel.fit(NOBODY)),
                refusal("model of too few", Reason.TOO_FEW_VALUES, () -> LinearModel.fit(TWO, TWO)),
                refusal("adjusted, nobody in B", Reason.NO_VALUES, () -> adjusted("1 2 3 5", "4 6 7 7", "1111")),
                refusal("adjusted, nobody in A", Reason.NO_VALUES, () -> adjusted("1 2 3 5", "4 6 7 7", "0000")),
                refusal("adjusted, equal baselines", Reason.NO_SPREAD, () -> adjusted("1 2 3 5", "4 4 4 4", "1010")),
                refusal(
                        "adjusted, groups are baselines",
                        Reason.COLLINEAR,
                        () -> adjusted("1 2 3 5", "4 4 6 6", "1100")),
                refusal("adjusted, too few", Reason.TOO_FEW_VALUES, () -> adjusted("1 2 3", "4 5 6", "110")),
                refusal("adjusted, no error left", Reason.NO_SPREAD, () -> adjusted("1 2 3 9 10", "1 2 3 4 5", "00011")
                        .flatMap(model -> model.interval95(2))),
                refusal("adjusted and clustered, no error left", Reason.NO_SPREAD, () -> adjusted(
                                "1 2 3 9 10", "1 2 3 4 5", "00011")
                        .flatMap(model -> model.clusteredInterval95(2, eachItsOwn(5)))),
                refusal("adjusted, one patient", Reason.ONE_PATIENT, () -> adjusted("1 2 4 9 8", "1 2 3 4 5", "00011")
                        .flatMap(model -> model.clusteredInterval95(2, Clusters.of(Collections.nCopies(5, "P"))))),
                refusal("alpha of nobody", Reason.NO_VALUES, () -> scale().alpha()),
                refusal("alpha of one form", Reason.ONE_VALUE, () -> scale("1 2 3")
                        .alpha()),
                refusal("alpha of one item", Reason.TOO_FEW_ITEMS, () -> scale("1", "2")
                        .alpha()),
                refusal("alpha, sums alike", Reason.NO_SPREAD, () -> scale("1 2", "2 1")
                        .alpha()),
                refusal("alpha without one of two", Reason.TOO_FEW_ITEMS, () -> scale("1 2", "2 4")
                        .alphaWithout(0)),
                refusal("rest of one item", Reason.TOO_FEW_ITEMS, () -> scale("1", "2")
                        .itemRest(0)),
                refusal("rest, item alike", Reason.NO_SPREAD, () -> scale("1 2 3", "1 3 4")
                        .itemRest(0)),
                refusal("rest, rest alike", Reason.NO_SPREAD, () -> scale("1 2 3", "2 3 2")
                        .itemRest(0)),
                refusal("limits of alpha 1", Reason.NO_SPREAD, () -> scale("1 2", "2 3", "5 6")
                        .alphaInterval95()),
                refusal("limits of no alpha", Reason.NO_SPREAD, () -> scale("1 2", "2 1")
                        .alphaInterval95()),
                refusal("retest of nobody", Reason.NO_VALUES, () -> retest()),
                refusal("retest of no sitting", Reason.NO_VALUES, () -> Retest.of(new double[][] {{}, {}})),
                refusal("retest of one patient", Reason.ONE_VALUE, () -> retest("1 2")),
                refusal("retest of one sitting", Reason.ONE_VALUE, () -> retest("1", "2")),
                refusal("icc, no score differs", Reason.NO_SPREAD, () -> retest("3 3", "3 3")
                        .flatMap(Retest::icc)),
                refusal("limits of icc, no score differs", Reason.NO_SPREAD, () -> retest("3 3", "3 3")
                        .flatMap(Retest::iccInterval95)),
                refusal("agreement, sittings alike", Reason.NO_SPREAD, () -> retest("1 1", "4 4")
                        .flatMap(Retest::semAgreement)),
                refusal("consistency, sittings shifted", Reason.NO_SPREAD, () -> retest("1 2", "4 5", "8 9")
                        .flatMap(Retest::semConsistency)),
                refusal("limits of icc, sittings shifted", Reason.NO_SPREAD, () -> retest("1 2", "4 5", "8 9")
                        .flatMap(Retest::iccInterval95)),
                refusal("agreement of one", Reason.ONE_VALUE, () -> Retest.limitsOfAgreement(ONE, ONE)),
                refusal(
                        "agreement, shifted",
                        Reason.NO_SPREAD,
                        () -> Retest.limitsOfAgreement(TWO, new double[] {11, 15})));
    }

    /** A supplier, so that a test computes what it tests. */
    private static Arguments refusal(String what, Reason reason, Supplier<Estimate<?>> estimate) {
        return Arguments.of(what, reason, estimate);
    }

    @ParameterizedTest(name = "{0}: {1}")
    @MethodSource("refusals")
    void tellsWhyThereIsNoNumber(String what, Reason reason, Supplier<Estimate<?>> estimate) {
        assertNone(reason, estimate.get());
    }

    /** Of 10 and 14: mean 12, SD 2√2, standard error 2, t(0.975; 1) = 12.7062047361747 (any table of t). */
    @Test
    void twoPairsHaveAnInterval() {
        TInterval interval = valueOf(Means.interval95(TWO));
        assertEquals(12, interval.estimate());
        assertEquals(2, interval.standardError(), 1e-12);
        assertEquals(12 + 2 * 12.7062047361747, interval.interval().high(), 1e-9);
        assertEquals(12, valueOf(HodgesLehmann.location(TWO)));
        assertEquals(12 / Math.sqrt(8), valueOf(Means.standardisedResponseMean(TWO)), 1e-12);
    }

    @Test
    void onePairHasAMeanAndAMedian() {
        assertEquals(12, valueOf(Means.mean(ONE)));
        assertEquals(12, valueOf(HodgesLehmann.location(ONE)));
        assertEquals(-2, valueOf(HodgesLehmann.shift(TWO, new double[] {14})));
        Summary summary = valueOf(Summary.of(ONE));
        assertEquals(12, summary.lowest());
        assertEquals(12, summary.highest());
        assertNone(Reason.ONE_VALUE, summary.sd());
    }

    /** One patient with three episodes and one with one: residual sums of 1, 2, 6 and 11 about 5 are -6 and 6; se = √(2/1 · 72 / 16) = 3. */
    @Test
    void aPatientWithManyEpisodesIsOneCluster() {
        TInterval interval = valueOf(clustered(new double[] {1, 2, 6, 11}, 1, 1, 1, 2));
        assertEquals(5, interval.estimate(), 1e-12);
        assertEquals(3, interval.standardError(), 1e-12);
        assertEquals(1, interval.degreesOfFreedom());
        Clusters patients = Clusters.of(List.of("a", "b", "a"));
        assertTrue(patients.repeated());
        assertEquals(2, patients.count());
        assertEquals(3, patients.size());
        assertFalse(eachItsOwn(3).repeated());
    }

    @Test
    void oneGroupMayBeAlikeIfTheOtherIsNot() {
        TInterval welch = valueOf(TwoSamples.welch(ALIKE, TWO));
        assertEquals(-5, welch.estimate());
        assertEquals(1, welch.degreesOfFreedom(), 1e-12);
        assertEquals(0.0, valueOf(TwoSamples.probabilityLarger(ALIKE, TWO)));
        assertEquals(0.5, valueOf(TwoSamples.probabilityLarger(ALIKE, ALIKE)));
        assertEquals(0.5, valueOf(TwoSamples.probabilityLarger(NEARLY_ALIKE, new double[] {0.3})));
    }

    /** The same baseline in both groups: the difference is that of the means. */
    @Test
    void adjustedDifferenceOfBalancedGroupsIsThatOfTheMeans() {
        LinearModel model = valueOf(adjusted("1 2 6 4 5 6", "1 2 3 1 2 3", "111000"));
        assertEquals(-2, model.coefficient(2), 1e-12);
        assertEquals(-2, valueOf(model.interval95(2)).estimate(), 1e-12);
    }

    /** A shift alone: ICC(2,1) of MSB 24.5 and MSJ 1.5 is 24.5 / (24.5 + 2 · 1.5 / 3), SEM for agreement √(1.5 / 3). */
    @Test
    void aShiftBetweenSittingsIsDisagreement() {
        Retest shifted = valueOf(retest("1 2", "4 5", "8 9"));
        assertEquals(24.5 + 1.0 / 6, shifted.betweenPatients(), 1e-9);
        assertEquals(1.5, shifted.betweenSittings(), 1e-12);
        assertEquals(0, shifted.residual());
        assertEquals(Math.sqrt(0.5), valueOf(shifted.semAgreement()), 1e-12);
        assertEquals(shifted.betweenPatients() / (shifted.betweenPatients() + 1), valueOf(shifted.icc()), 1e-12);
        assertEquals(1, valueOf(valueOf(retest("1 1", "4 4")).icc()), 1e-12);
    }

    /** Patients that differ less than their sittings: an ICC below 0, whose limits the formula may not have. */
    @Test
    void iccOfDisagreeingSittingsIsBelowZero() {
        Retest opposed = valueOf(retest("1 4", "4 1", "2.5 2.5"));
        assertTrue(valueOf(opposed.icc()) < 0);
        // MSB 0, MSJ 0: k r Fj + n (1 + (k - 1) r) - k r is n (1 + r) - 2 r, r = -MSE / (MSE (1 - 2/3)) = -3: here 0.
        assertEquals(-3, valueOf(opposed.icc()), 1e-12);
        assertNone(Reason.FORMULA_UNDEFINED, opposed.iccInterval95());
        // Nearly so: degrees of freedom so few that the quantile of F is beyond any double.
        assertNone(Reason.FORMULA_UNDEFINED, new Retest(3, 2, 1e-4, 0.01, 4.5).iccInterval95());
        // Two patients who swap their scores: MSB + MSE - MSE is 0.
        assertNone(Reason.FORMULA_UNDEFINED, valueOf(retest("1 3", "3 1")).icc());
    }

    @Test
    void curveOfNobodyHasNoSteps() {
        ImprovementCurve nobody = ImprovementCurve.of(NOBODY);
        assertEquals(new ImprovementCurve(0, List.of()), nobody);
        assertEquals(0, nobody.atLeast(-100));
        ImprovementCurve rounded = ImprovementCurve.of(NEARLY_ALIKE);
        assertEquals(List.of(new ImprovementCurve.Step(0.3, 3)), rounded.steps());
        assertEquals(3, rounded.atLeast(0.3));
        assertEquals(3, rounded.atLeast(0.1 + 0.2));
        assertEquals(0, rounded.atLeast(0.31));
        ImprovementCurve zeros = ImprovementCurve.of(new double[] {0.0, -0.0});
        assertEquals(List.of(new ImprovementCurve.Step(0.0, 2)), zeros.steps());
    }

    /** R's ecdf of the change of 60 cases: F(x) and the share at x or above. */
    @Test
    void everyStepOfTheCurveAgrees() throws IOException {
        double[][] cohort = Reference.columns("in/cohort60.csv", "baseline", "followup");
        ImprovementCurve curve = ImprovementCurve.of(Reference.differences(cohort[0], cohort[1]));
        List<Map<String, String>> expected = Reference.rows("expected_ecdf_cohort60.csv");
        assertEquals(47, expected.size());
        assertEquals(47, curve.steps().size());
        for (int i = 0; i < 47; i++) {
            ImprovementCurve.Step step = curve.steps().get(i);
            assertEquals(Double.parseDouble(expected.get(i).get("change")), step.improvement(), 1e-9);
            assertEquals(Double.parseDouble(expected.get(i).get("S_ge")), step.atLeast() / 60.0, 1e-12);
            double atMost = i == 46 ? 1 : 1 - curve.steps().get(i + 1).atLeast() / 60.0;
            assertEquals(Double.parseDouble(expected.get(i).get("F_le")), atMost, 1e-12);
        }
    }

    /** 20,000 cases have 2 · 10⁸ pairs: the median of evenly spaced values is their middle, and a shift is found again. */
    @Test
    void hodgesLehmannOfManyCases() {
        double[] a = IntStream.range(0, 20_000).mapToDouble(i -> i * 0.5).toArray();
        double[] b =
                IntStream.range(0, 20_000).mapToDouble(i -> i * 0.5 - 12.25).toArray();
        assertEquals(4999.75, valueOf(HodgesLehmann.location(a)), 1e-9);
        assertEquals(12.25, valueOf(HodgesLehmann.shift(a, b)), 1e-9);
    }

    static Stream<Executable> notFinite() {
        double[] infinite = {1, Double.POSITIVE_INFINITY};
        return Stream.of(
                () -> Means.mean(infinite),
                () -> Means.sd(infinite),
                () -> Summary.of(infinite),
                () -> Correlation.spearman(infinite, TWO),
                () -> Correlation.spearman(TWO, infinite),
                () -> HodgesLehmann.location(infinite),
                () -> HodgesLehmann.shift(infinite, TWO),
                () -> HodgesLehmann.shift(TWO, infinite),
                () -> TwoSamples.welch(infinite, TWO),
                () -> TwoSamples.welch(TWO, infinite),
                () -> TwoSamples.probabilityLarger(infinite, TWO),
                () -> TwoSamples.probabilityLarger(TWO, infinite),
                () -> ImprovementCurve.of(infinite),
                () -> LinearModel.fit(TWO, infinite),
                () -> LinearModel.adjustedForBaseline(TWO, infinite, new boolean[] {true, false}),
                () -> RocCurve.of(infinite, new boolean[2]),
                () -> Retest.of(new double[][] {infinite, TWO}),
                () -> InternalConsistency.of(new double[][] {TWO, infinite}));
    }

    @ParameterizedTest
    @MethodSource("notFinite")
    void refusesWhatIsNotFinite(Executable statistic) {
        assertEquals(
                "Statistics need numbers only, but a value is Infinity",
                assertThrows(IllegalArgumentException.class, statistic).getMessage());
    }

    /** Nearer than a score's step and farther than rounding: distinct. */
    @Test
    void aMillionthIsADifference() {
        assertTrue(Means.sd(new double[] {1, 1.000001}).optional().isPresent());
        assertEquals(2, ImprovementCurve.of(new double[] {1, 1.000001}).steps().size());
        // By hand: the slope of 1, 2, 4 over 0, 1, 2 is 1.5.
        LinearModel steep = valueOf(LinearModel.fit(new double[] {1, 2, 4}, new double[] {5, 5.0001, 5.0002}));
        assertEquals(15000, steep.coefficient(1), 1e-4);
    }

    @Test
    void callersMistakesAreRefused() {
        assertEquals(
                "Statistics need numbers only, but a value is NaN",
                assertThrows(IllegalArgumentException.class, () -> Means.mean(new double[] {1, Double.NaN}))
                        .getMessage());
        assertEquals(
                "Of every case one value each, but there are 2 and 1",
                assertThrows(IllegalArgumentException.class, () -> Means.effectSize(TWO, ONE))
                        .getMessage());
        assertThrows(IllegalArgumentException.class, () -> Means.clusteredInterval95(TWO, eachItsOwn(1)));
        assertThrows(IllegalArgumentException.class, () -> Means.clusteredInterval95(ONE, eachItsOwn(2)));
        assertThrows(IllegalArgumentException.class, () -> LinearModel.fit(TWO, ONE));
        assertThrows(IllegalArgumentException.class, () -> LinearModel.fit(new double[] {Double.NaN}));
        assertThrows(
                IllegalArgumentException.class, () -> LinearModel.fit(TWO, new double[] {1, Double.POSITIVE_INFINITY}));
        assertThrows(
                IllegalArgumentException.class, () -> LinearModel.adjustedForBaseline(TWO, TWO, new boolean[] {true}));
        LinearModel model = valueOf(LinearModel.fit(TWO));
        assertThrows(IllegalArgumentException.class, () -> model.clusteredInterval95(0, eachItsOwn(3)));
        assertThrows(IllegalArgumentException.class, () -> Correlation.pearson(TWO, ONE));
        assertThrows(IllegalArgumentException.class, () -> Retest.limitsOfAgreement(TWO, ONE));
        assertThrows(IllegalArgumentException.class, () -> Retest.of(new double[][] {{1, 2}, {1}}));
        assertThrows(IllegalArgumentException.class, () -> RocCurve.of(TWO, new boolean[3]));
        assertThrows(IllegalArgumentException.class, () -> InternalConsistency.of(new double[][] {{1, Double.NaN}}));
        assertThrows(IndexOutOfBoundsException.class, () -> scale("1 2", "2 3").itemRest(2));
        assertThrows(IllegalArgumentException.class, () -> Newcombe.interval95(1, 2, 0, 0));
        assertThrows(IllegalArgumentException.class, () -> HodgesLehmann.location(new double[] {Double.NaN}));
        assertThrows(IllegalArgumentException.class, () -> ImprovementCurve.of(new double[] {Double.NaN}));
    }

    @Test
    void nothingThatIsGivenIsChanged() {
        double[] values = {3, 1, 2};
        Quantiles.of(values);
        HodgesLehmann.location(values);
        ImprovementCurve.of(values);
        Correlation.spearman(values, values);
        assertEquals(3, values[0]);
        assertEquals(Optional.of(1.0), Correlation.spearman(values, values).optional());
    }

    @Test
    void newcombeStaysWithinOne() {
        assertEquals(new Range(-1, 1).high(), Newcombe.interval95(1, 1, 0, 1).high());
        assertEquals(-1, Newcombe.interval95(0, 1, 1, 1).low());
    }

    private static Estimate<TInterval> clustered(double[] values, Integer... patients) {
        return Means.clusteredInterval95(values, Clusters.of(List.of(patients)));
    }

    private static Estimate<LinearModel> adjusted(String improvements, String baselines, String inA) {
        boolean[] a = new boolean[inA.length()];
        for (int i = 0; i < a.length; i++) {
            a[i] = inA.charAt(i) == '1';
        }
        return LinearModel.adjustedForBaseline(row(improvements), row(baselines), a);
    }

    private static InternalConsistency scale(String... forms) {
        return InternalConsistency.of(rows(forms));
    }

    private static Estimate<Retest> retest(String... patients) {
        return Retest.of(rows(patients));
    }

    private static double[][] rows(String... rows) {
        return Stream.of(rows).map(HardCasesTest::row).toArray(double[][]::new);
    }

    private static double[] row(String row) {
        return Stream.of(row.split(" ")).mapToDouble(Double::parseDouble).toArray();
    }
}
