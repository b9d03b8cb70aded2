package lumbrical.statistics;

import static lumbrical.statistics.AnchorSampleTest.eachItsOwn;
import static lumbrical.statistics.Reference.valueOf;
import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lumbrical.instrument.Range;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Assume;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;
import org.apache.commons.statistics.ranking.NaNStrategy;
import org.apache.commons.statistics.ranking.NaturalRanking;
import org.apache.commons.statistics.ranking.TiesStrategy;

/** Laws that hold whatever the clinic: cases are rows of a score's half points, an anchor and a patient. */
class StatisticsProperties {
    record Case(double baseline, double improvement, int step, int patient, boolean inA) {}

    @Provide
    Arbitrary<List<Case>> cases() {
        return Combinators.combine(
                        Arbitraries.integers().between(0, 200).map(i -> i * 0.5),
                        Arbitraries.integers().between(-100, 100).map(i -> i * 0.5),
                        Arbitraries.integers().between(-3, 3),
                        Arbitraries.integers().between(1, 12),
                        Arbitraries.of(true, false))
                .as(Case::new)
                .list()
                .ofMaxSize(40)
                // They alone would use up the tries: all cases at the ends.
                .withoutEdgeCases();
    }

    /** Many, whose improvement follows the anchor: cut-offs have hundreds of thresholds to choose from, and fits of resamples lie near. */
    @Provide
    Arbitrary<List<Case>> manyCases() {
        return Combinators.combine(
                        Arbitraries.integers().between(-100, 100).map(i -> i * 0.5),
                        Arbitraries.integers().between(-3, 3),
                        Arbitraries.integers().between(1, 12))
                .as((noise, step, patient) -> new Case(0, noise + 8 * step, step, patient, false))
                .list()
                .ofMinSize(100)
                .ofMaxSize(600)
                .withoutEdgeCases();
    }

    @Property
    void theOrderOfRowsDoesNotMatter(@ForAll("cases") List<Case> cases, @ForAll long seed) {
        List<Case> shuffled = new ArrayList<>(cases);
        Collections.shuffle(shuffled, new Random(seed));
        List<Estimate<Double>> before = everything(cases);
        List<Estimate<Double>> after = everything(shuffled);
        assertEquals(before.size(), after.size());
        for (int i = 0; i < before.size(); i++) {
            same(before.get(i), after.get(i), "statistic " + i);
        }
        assertEquals(anchor(cases).bootstrap95(20, 3), anchor(shuffled).bootstrap95(20, 3));
    }

    /** Mirrored improvement: what has a direction turns its sign, what has none stays. */
    @Property
    void mirroredImprovementMirrorsTheResults(@ForAll("cases") List<Case> cases) {
        List<Case> mirrored = cases.stream()
                .map(c -> new Case(c.baseline(), -c.improvement(), c.step(), c.patient(), c.inA()))
                .toList();
        double[] y = improvements(cases);
        double[] z = improvements(mirrored);
        negated(Means.mean(y), Means.mean(z));
        negated(Means.standardisedResponseMean(y), Means.standardisedResponseMean(z));
        negated(HodgesLehmann.location(y), HodgesLehmann.location(z));
        same(Means.sd(y), Means.sd(z), "sd");
        negated(anchor(cases).correlation(), anchor(mirrored).correlation());
        Estimate<RocCurve> curve = anchor(cases).curve();
        Estimate<RocCurve> other = anchor(mirrored).curve();
        same(curve.map(c -> 1 - c.auc()), other.map(RocCurve::auc), "auc");
        same(
                Means.interval95(y).map(i -> -i.interval().low()),
                Means.interval95(z).map(i -> i.interval().high()),
                "interval");
        double[] a = group(cases, true);
        double[] b = group(cases, false);
        negated(HodgesLehmann.shift(a, b), HodgesLehmann.shift(b, a));
        same(
                TwoSamples.probabilityLarger(a, b).map(p -> 1 - p),
                TwoSamples.probabilityLarger(b, a),
                "probability larger");
        negated(TwoSamples.standardisedDifference(a, b), TwoSamples.standardisedDifference(b, a));
    }

    /** A group split in two: counts add up, the mean is the weighted mean of the parts, and the joined group has all in all again. */
    @Property
    void aGroupSplitInTwoAndJoinedIsTheGroup(@ForAll("cases") List<Case> cases) {
        double[] a = group(cases, true);
        double[] b = group(cases, false);
        double[] all = improvements(cases);
        double[] joined = Values.joined(a, b);
        Assume.that(a.length > 0 && b.length > 0);
        assertEquals(
                valueOf(Means.mean(all)) * all.length,
                valueOf(Means.mean(a)) * a.length + valueOf(Means.mean(b)) * b.length,
                1e-9);
        same(Means.sd(all), Means.sd(joined), "sd");
        same(HodgesLehmann.location(all), HodgesLehmann.location(joined), "Hodges-Lehmann");
        assertEquals(ImprovementCurve.of(all), ImprovementCurve.of(joined));
        for (double amount : new double[] {-10, 0, 10}) {
            assertEquals(
                    ImprovementCurve.of(all).atLeast(amount),
                    ImprovementCurve.of(a).atLeast(amount)
                            + ImprovementCurve.of(b).atLeast(amount));
        }
    }

    /** A resample's fit starts near its end and stops sooner; what it gives is what the full fit gives, and the same reasons. */
    @Property
    void aResampleGivesWhatTheFullFitGives(@ForAll("cases") List<Case> cases, @ForAll long seed) {
        resampleGivesWhatTheFullFitGives(cases, seed, true);
        resampleGivesWhatTheFullFitGives(cases, seed, false);
    }

    @Property(tries = 200)
    void aResampleOfManyGivesWhatTheFullFitGives(@ForAll("manyCases") List<Case> cases, @ForAll long seed) {
        resampleGivesWhatTheFullFitGives(cases, seed, true);
        resampleGivesWhatTheFullFitGives(cases, seed, false);
    }

    private static void resampleGivesWhatTheFullFitGives(List<Case> cases, long seed, boolean quick) {
        Random random = new Random(seed);
        int[] weights = random.ints(cases.size(), 0, 4).toArray();
        int[] steps = cases.stream().mapToInt(Case::step).toArray();
        AnchorCalculator full = AnchorCalculator.of(improvements(cases), steps);
        AnchorCalculator resample = full.ofResamples(quick);
        long[] counts = full.counts(weights);
        full.evaluate(counts, 0, Logistic.TO_THE_LAST_DIGIT);
        resample.evaluate(Arrays.stream(counts).map(c -> c << 32 | 7).toArray(), 32, Logistic.FOR_RESAMPLES);
        for (AnchorMethod method : AnchorMethod.values()) {
            Estimate<Double> expected = full.estimate(method);
            Estimate<Double> actual = resample.estimate(method);
            assertEquals(expected.whyNot(), actual.whyNot(), method.code());
            expected.optional()
                    .ifPresent(e -> assertEquals(
                            e, valueOf(actual), resample.off() + 1e-7 * Math.max(1, Math.abs(e)), method.code()));
        }
    }

    /** Fits are quick, but those that decide the limits are exact: to the last bit the limits are those of exact fits of all resamples. */
    @Property(tries = 50)
    void theLimitsAreThoseOfExactFits(@ForAll("manyCases") List<Case> cases, @ForAll long seed) {
        limitsAreThoseOfExactFits(cases, 13, seed);
    }

    /** Resamples of many patients lie so near the whole that their fits need not be taken to the last digits. */
    @Property(tries = 20)
    void theLimitsOfManyPatientsAreThoseOfExactFits(@ForAll long seed) {
        Random random = new Random(seed);
        List<Case> cases = IntStream.range(0, 1500)
                .mapToObj(i -> {
                    int step = random.nextInt(7) - 3;
                    return new Case(0, 0.5 * Math.round(20 * random.nextGaussian()) + 4 * step, step, i / 3, false);
                })
                .toList();
        assertTrue(limitsAreThoseOfExactFits(cases, 500, seed) > 0, "some are not taken to the last digits");
    }

    /** How many resamples' quick fits may be off by more than their last digits; no more than is said. */
    private static int limitsAreThoseOfExactFits(List<Case> cases, int patients, long seed) {
        int[] steps = cases.stream().mapToInt(Case::step).toArray();
        int[] numbers = cases.stream().mapToInt(Case::patient).toArray();
        PatientResamples samples = PatientResamples.of(patients, 100, seed);
        AnchorCalculator exact = AnchorCalculator.of(improvements(cases), steps).ofResamples(false);
        AnchorCalculator quick = AnchorCalculator.of(improvements(cases), steps).ofResamples(true);
        Map<AnchorMethod, List<Double>> estimates =
                Map.of(AnchorMethod.PREDICTIVE, new ArrayList<>(), AnchorMethod.PREDICTIVE_ADJUSTED, new ArrayList<>());
        int off = 0;
        for (int r = 0; r < 100; r++) {
            long[] block = samples.block(r / PatientResamples.TOGETHER);
            int shift = 8 * (r % PatientResamples.TOGETHER);
            int[] weights = Arrays.stream(numbers)
                    .map(n -> (int) (block[n] >>> shift & 0xFF))
                    .toArray();
            exact.evaluate(exact.counts(weights), 0, Logistic.FOR_RESAMPLES);
            quick.evaluate(exact.counts(weights), 0, Logistic.FOR_RESAMPLES);
            estimates.forEach((method, of) -> exact.estimate(method).optional().ifPresent(e -> {
                of.add(e);
                assertEquals(e, valueOf(quick.estimate(method)), quick.off() + 1e-8 * Math.max(1, Math.abs(e)));
            }));
            off += quick.off() > 0 ? 1 : 0;
        }
        var intervals = anchor(cases).bootstrap95(samples, numbers);
        estimates.forEach((method, of) -> {
            if (of.size() >= 95) {
                double[] limits = Quantiles.type7(
                        of.stream().mapToDouble(Double::doubleValue).toArray(), 0.025, 0.975);
                assertEquals(
                        new Range(limits[0], limits[1]),
                        valueOf(intervals.get(method).interval()));
            }
        });
        return off;
    }

    /** What looks for the best thresholds alone finds those of the whole curve. */
    @Property
    void theCutOffsAreTheBestOfTheCurve(@ForAll("cases") List<Case> cases) {
        cutOffsAreTheBestOfTheCurve(cases);
    }

    @Property(tries = 200)
    void theCutOffsOfManyAreTheBestOfTheCurve(@ForAll("manyCases") List<Case> cases) {
        cutOffsAreTheBestOfTheCurve(cases);
    }

    private static void cutOffsAreTheBestOfTheCurve(List<Case> cases) {
        AnchorSample sample = anchor(cases);
        same(
                sample.curve().flatMap(RocCurve::youden).map(c -> c.best().threshold()),
                sample.estimate(AnchorMethod.ROC_YOUDEN),
                "Youden");
        same(
                sample.curve().flatMap(RocCurve::corner).map(c -> c.best().threshold()),
                sample.estimate(AnchorMethod.ROC_CORNER),
                "corner");
    }

    /** Counted ranks are those of Apache Commons Statistics, which sorts. */
    @Property
    void ranksAreThoseOfALibrary(@ForAll("cases") List<Case> cases) {
        Assume.that(!cases.isEmpty());
        double[] y = improvements(cases);
        assertArrayEquals(new NaturalRanking(NaNStrategy.FAILED, TiesStrategy.AVERAGE).apply(y), Correlation.ranks(y));
    }

    /** Each sample has as many patients as there are, those that the generator's own bounded numbers name, one after the other. */
    @Property
    void samplesAreTheGeneratorsOwnDraws(
            @ForAll @IntRange(min = 1, max = 300) int patients,
            @ForAll @IntRange(min = 1, max = 20) int resamples,
            @ForAll long seed) {
        PatientResamples samples = PatientResamples.of(patients, resamples, seed);
        UniformRandomProvider random = RandomSource.XO_RO_SHI_RO_128_PP.create(seed);
        for (int r = 0; r < resamples; r++) {
            int[] expected = new int[patients];
            for (int i = 0; i < patients; i++) {
                expected[random.nextInt(patients)]++;
            }
            int shift = 8 * (r % PatientResamples.TOGETHER);
            assertArrayEquals(
                    expected,
                    Arrays.stream(samples.block(r / PatientResamples.TOGETHER))
                            .mapToInt(w -> (int) (w >>> shift & 0xFF))
                            .toArray());
        }
    }

    /** Drawn beforehand for the same patients in the same order, samples give the same intervals; of a larger group they need not. */
    @Property(tries = 100)
    void samplesDrawnBeforehandServe(@ForAll("cases") List<Case> cases) {
        int[] steps = cases.stream().mapToInt(Case::step).toArray();
        Clusters patients = Clusters.of(cases.stream().mapToInt(Case::patient).toArray());
        int[] numbers = PatientBootstrap.numbered(AnchorCalculator.of(improvements(cases), steps), patients);
        assertEquals(
                anchor(cases).bootstrap95(30, 5),
                anchor(cases).bootstrap95(PatientResamples.of(patients.count(), 30, 5), numbers));
    }

    /** Half improved, half not: the log odds are 0, so the adjustment is 0; and the curve crosses one half there. */
    @Property
    void atOneHalfThePredictiveEstimatesAgree(@ForAll("cases") List<Case> cases) {
        List<Case> improved = cases.stream().filter(c -> c.step() >= 1).toList();
        List<Case> others = cases.stream().filter(c -> c.step() < 1).toList();
        int half = Math.min(improved.size(), others.size());
        List<Case> balanced = new ArrayList<>(improved.subList(0, half));
        balanced.addAll(others.subList(0, half));
        AnchorSample sample = anchor(balanced);
        same(
                sample.estimate(AnchorMethod.PREDICTIVE),
                sample.estimate(AnchorMethod.PREDICTIVE_ADJUSTED),
                "predictive and adjusted");
        sample.estimate(AnchorMethod.PREDICTIVE).optional().ifPresent(mcid -> {
            LogisticModel line = valueOf(sample.logistic());
            assertEquals(0, line.intercept() + line.slope() * mcid, 1e-6);
        });
    }

    @Property
    void anExactCopyOfEveryEpisodeLeavesTheClusteredInterval(@ForAll("cases") List<Case> cases) {
        List<Case> twice = new ArrayList<>(cases);
        twice.addAll(cases);
        Assume.that(cases.size() > 1);
        Estimate<TInterval> once = Means.clusteredInterval95(improvements(cases), patients(cases));
        Estimate<TInterval> doubled = Means.clusteredInterval95(improvements(twice), patients(twice));
        same(once.map(i -> i.interval().low()), doubled.map(i -> i.interval().low()), "low");
        same(once.map(i -> i.interval().high()), doubled.map(i -> i.interval().high()), "high");
        for (AnchorMethod method : AnchorMethod.values()) {
            if (method != AnchorMethod.LIMIT_95 && method != AnchorMethod.PREDICTIVE_ADJUSTED) {
                same(anchor(cases).estimate(method), anchor(twice).estimate(method), method.code());
            }
        }
    }

    /** Where nobody has two episodes the robust interval of a mean is Student's. */
    @Property
    void clusteredIntervalOfSinglesIsThePlainOne(@ForAll("cases") List<Case> cases) {
        double[] y = improvements(cases);
        same(
                Means.interval95(y).map(i -> i.interval().low()),
                Means.clusteredInterval95(y, eachItsOwn(y.length))
                        .map(i -> i.interval().low()),
                "low");
    }

    /** Moved by c and stretched by s, every threshold moves and stretches. */
    @Property
    void thresholdsMoveWithTheScores(@ForAll("cases") List<Case> cases) {
        List<Case> moved = cases.stream()
                .map(c -> new Case(c.baseline(), 2 * c.improvement() + 5, c.step(), c.patient(), c.inA()))
                .toList();
        for (AnchorMethod method : AnchorMethod.values()) {
            double shift = method == AnchorMethod.MEAN_DIFFERENCE ? 0 : 5;
            same(
                    anchor(cases).estimate(method).map(v -> 2 * v + shift),
                    anchor(moved).estimate(method),
                    method.code());
        }
    }

    /** The fast medians against all pairs listed and sorted. */
    @Property
    void hodgesLehmannIsTheMedianOfAllPairs(@ForAll("cases") List<Case> cases) {
        double[] y = improvements(cases);
        double[] walsh = IntStream.range(0, y.length)
                .boxed()
                .flatMapToDouble(i -> IntStream.rangeClosed(0, i).mapToDouble(j -> (y[i] + y[j]) / 2))
                .toArray();
        assertEquals(median(walsh), HodgesLehmann.location(y).optional());
        double[] a = group(cases, true);
        double[] b = group(cases, false);
        double[] differences = DoubleStream.of(a)
                .flatMap(x -> DoubleStream.of(b).map(v -> x - v))
                .toArray();
        assertEquals(median(differences), HodgesLehmann.shift(a, b).optional());
    }

    /** The area under the curve and the probability that A is larger are one statistic, counted here pair by pair. */
    @Property
    void areaIsTheShareOfPairsInOrder(@ForAll("cases") List<Case> cases) {
        double[] a = group(cases, true);
        double[] b = group(cases, false);
        double wins = DoubleStream.of(a)
                .flatMap(x -> DoubleStream.of(b).map(v -> x > v ? 1 : x == v ? 0.5 : 0))
                .sum();
        boolean[] inA = new boolean[cases.size()];
        for (int i = 0; i < inA.length; i++) {
            inA[i] = cases.get(i).inA();
        }
        Estimate<RocCurve> curve = RocCurve.of(improvements(cases), inA);
        assertEquals(a.length > 0 && b.length > 0, curve.optional().isPresent());
        curve.optional().ifPresent(c -> {
            assertEquals(wins / (a.length * b.length), c.auc(), 1e-12);
            assertEquals(c.auc(), valueOf(TwoSamples.probabilityLarger(a, b)), 1e-12);
        });
    }

    /** No residual is left along a column of the design: the mark of least squares. */
    @Property
    void leastSquaresLeavesNothingAlongItsColumns(@ForAll("cases") List<Case> cases) {
        double[] y = improvements(cases);
        double[] baselines = cases.stream().mapToDouble(Case::baseline).toArray();
        boolean[] inA = new boolean[cases.size()];
        for (int i = 0; i < inA.length; i++) {
            inA[i] = cases.get(i).inA();
        }
        LinearModel.adjustedForBaseline(y, baselines, inA).optional().ifPresent(model -> {
            double[] left = new double[3];
            for (int i = 0; i < y.length; i++) {
                double residual = y[i]
                        - model.coefficient(0)
                        - model.coefficient(1) * baselines[i]
                        - (inA[i] ? model.coefficient(2) : 0);
                left[0] += residual;
                left[1] += residual * baselines[i];
                left[2] += inA[i] ? residual : 0;
            }
            assertTrue(Arrays.stream(left).allMatch(v -> Math.abs(v) < 1e-6), Arrays.toString(left));
        });
    }

    private static List<Estimate<Double>> everything(List<Case> cases) {
        double[] y = improvements(cases);
        double[] baselines = cases.stream().mapToDouble(Case::baseline).toArray();
        double[] a = group(cases, true);
        double[] b = group(cases, false);
        boolean[] inA = new boolean[cases.size()];
        for (int i = 0; i < inA.length; i++) {
            inA[i] = cases.get(i).inA();
        }
        Estimate<LinearModel> model = LinearModel.adjustedForBaseline(y, baselines, inA);
        List<Estimate<Double>> all = new ArrayList<>(List.of(
                Means.mean(y),
                Means.sd(y),
                Means.interval95(y).map(i -> i.interval().low()),
                Means.clusteredInterval95(y, patients(cases))
                        .map(i -> i.interval().low()),
                Means.effectSize(y, baselines),
                HodgesLehmann.location(y),
                HodgesLehmann.shift(a, b),
                TwoSamples.welch(a, b).map(i -> i.interval().high()),
                TwoSamples.standardisedDifference(a, b),
                TwoSamples.probabilityLarger(a, b),
                model.flatMap(m -> m.interval95(2)).map(i -> i.interval().low()),
                model.flatMap(m -> m.clusteredInterval95(2, patients(cases)))
                        .map(i -> i.interval().low()),
                Correlation.spearman(y, baselines)));
        for (AnchorMethod method : AnchorMethod.values()) {
            all.add(anchor(cases).estimate(method));
        }
        return all;
    }

    private static void same(Estimate<Double> expected, Estimate<Double> actual, String what) {
        assertEquals(expected.whyNot(), actual.whyNot(), what);
        expected.optional()
                .ifPresent(value -> assertEquals(value, valueOf(actual), 1e-7 * Math.max(1, Math.abs(value)), what));
    }

    private static void negated(Estimate<Double> expected, Estimate<Double> actual) {
        same(expected.map(v -> -v), actual, "mirrored");
    }

    private static Optional<Double> median(double[] values) {
        double[] sorted = values.clone();
        Arrays.sort(sorted);
        int n = sorted.length;
        return n == 0 ? Optional.empty() : Optional.of((sorted[(n - 1) / 2] + sorted[n / 2]) / 2 + 0.0);
    }

    private static double[] improvements(List<Case> cases) {
        return cases.stream().mapToDouble(Case::improvement).toArray();
    }

    private static double[] group(List<Case> cases, boolean inA) {
        return cases.stream()
                .filter(c -> c.inA() == inA)
                .mapToDouble(Case::improvement)
                .toArray();
    }

    private static Clusters patients(List<Case> cases) {
        return Clusters.of(cases.stream().map(Case::patient).toList());
    }

    private static AnchorSample anchor(List<Case> cases) {
        return AnchorSample.of(
                improvements(cases), cases.stream().mapToInt(Case::step).toArray(), patients(cases));
    }
}
