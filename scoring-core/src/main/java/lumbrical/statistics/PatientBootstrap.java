package lumbrical.statistics;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;
import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;

/**
 * Percentile intervals from samples of as many patients, drawn with replacement, each with all of its cases (Efron and Tibshirani 1993, An
 * Introduction to the Bootstrap, chapter 13; patients as clusters: Davison and Hinkley 1997, section 3.8; both from memory).
 */
final class PatientBootstrap {
    private static final int PERCENT_USABLE = 95;
    private static final AnchorMethod[] METHODS = AnchorMethod.values();

    private PatientBootstrap() {}

    static Map<AnchorMethod, BootstrapInterval> intervals95(
            AnchorCalculator original, Clusters patients, int resamples, long seed) {
        int groups = patients.count();
        double[][] estimates = new double[METHODS.length][resamples];
        int[] usable = new int[METHODS.length];
        if (groups > 1) {
            AnchorCalculator calculator = original.copy();
            int[][] cellsOfEach = cellsOfPatients(original, patients);
            // One after the other in one array, which is read faster than an array of arrays.
            int[] cells =
                    Arrays.stream(cellsOfEach).flatMapToInt(Arrays::stream).toArray();
            int[] starts = new int[groups + 1];
            for (int g = 0; g < groups; g++) {
                starts[g + 1] = starts[g] + cellsOfEach[g].length;
            }
            UniformRandomProvider random = RandomSource.XO_RO_SHI_RO_128_PP.create(seed);
            int[] counts = new int[calculator.size()];
            for (int r = 0; r < resamples; r++) {
                Arrays.fill(counts, 0);
                for (int g = 0; g < groups; g++) {
                    int patient = random.nextInt(groups);
                    for (int c = starts[patient]; c < starts[patient + 1]; c++) {
                        counts[cells[c]]++;
                    }
                }
                calculator.evaluate(counts);
                for (AnchorMethod method : METHODS) {
                    int m = method.ordinal();
                    if (calculator.has(method)) {
                        estimates[m][usable[m]++] = calculator.valueOf(method);
                    }
                }
            }
        }
        Map<AnchorMethod, BootstrapInterval> intervals = new EnumMap<>(AnchorMethod.class);
        for (AnchorMethod method : METHODS) {
            int used = usable[method.ordinal()];
            double[] drawn = Arrays.copyOf(estimates[method.ordinal()], used);
            Estimate<Range> interval =
                    original.estimate(method).flatMap(estimate -> interval(drawn, groups, resamples));
            intervals.put(method, new BootstrapInterval(interval, used, resamples));
        }
        return intervals;
    }

    private static Estimate<Range> interval(double[] drawn, int groups, int resamples) {
        if (groups < 2) {
            return Estimate.none(Reason.ONE_PATIENT);
        }
        if (100L * drawn.length < (long) PERCENT_USABLE * resamples) {
            return Estimate.none(Reason.TOO_FEW_RESAMPLES);
        }
        double[] limits = Quantiles.type7(drawn, 0.025, 0.975);
        return Estimate.of(new Range(limits[0], limits[1]));
    }

    /** The cells of each patient, patients in the order of these: so the order of the rows, and the ids, make no difference. */
    private static int[][] cellsOfPatients(AnchorCalculator calculator, Clusters patients) {
        int[] sizes = new int[patients.count()];
        for (int i = 0; i < patients.size(); i++) {
            sizes[patients.of(i)]++;
        }
        int[][] cells = Arrays.stream(sizes).mapToObj(int[]::new).toArray(int[][]::new);
        for (int i = 0; i < patients.size(); i++) {
            int patient = patients.of(i);
            cells[patient][--sizes[patient]] = calculator.cell(i);
        }
        for (int[] own : cells) {
            Arrays.sort(own);
        }
        Arrays.sort(cells, Arrays::compare);
        return cells;
    }
}
