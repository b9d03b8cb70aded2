package lumbrical.statistics;

import java.util.Arrays;
import java.util.EnumMap;
import java.util.Map;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;

/** Percentile intervals from samples of the patients, each with all of its cases. */
final class PatientBootstrap {
    private static final int PERCENT_USABLE = 95;
    private static final AnchorMethod[] METHODS = AnchorMethod.values();
    private static final int BYTE = 8;
    private static final int HALF = 32;
    /** The lowest byte of each half of a word. */
    private static final long LOWEST = 0xFF_0000_00FFL;

    private PatientBootstrap() {}

    /**
     * The intervals.
     *
     * @param patients the patient of each case, numbered as in the samples
     * @param several whether the cases are of more than one patient
     */
    static Map<AnchorMethod, BootstrapInterval> intervals95(
            AnchorCalculator original, int[] patients, boolean several, PatientResamples samples) {
        int resamples = samples.resamples();
        double[][] estimates = new double[METHODS.length][resamples];
        int[] usable = new int[METHODS.length];
        if (several) {
            AnchorCalculator calculator = original.ofResamples();
            CellCounts counts = new CellCounts(original, patients);
            for (int r = 0; r < resamples; r++) {
                int place = r % PatientResamples.TOGETHER;
                if (place == 0) {
                    counts.count(samples.block(r / PatientResamples.TOGETHER));
                }
                calculator.evaluate(counts.of(place), CellCounts.shift(place), Logistic.FOR_RESAMPLES);
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
                    original.estimate(method).flatMap(estimate -> interval(drawn, several, resamples));
            intervals.put(method, new BootstrapInterval(interval, used, resamples));
        }
        return intervals;
    }

    private static Estimate<Range> interval(double[] drawn, boolean several, int resamples) {
        if (!several) {
            return Estimate.none(Reason.ONE_PATIENT);
        }
        if (100L * drawn.length < (long) PERCENT_USABLE * resamples) {
            return Estimate.none(Reason.TOO_FEW_RESAMPLES);
        }
        double[] limits = Quantiles.type7(drawn, 0.025, 0.975);
        return Estimate.of(new Range(limits[0], limits[1]));
    }

    /**
     * The patient of each case, numbered in the order of their cases: so the order of the rows, and the ids, make no difference to samples
     * drawn for these cases alone.
     */
    static int[] numbered(AnchorCalculator calculator, Clusters patients) {
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
        Integer[] order = new Integer[cells.length];
        Arrays.setAll(order, g -> g);
        Arrays.sort(order, (a, b) -> Arrays.compare(cells[a], cells[b]));
        int[] number = new int[cells.length];
        for (int g = 0; g < order.length; g++) {
            number[order[g]] = g;
        }
        int[] numbered = new int[patients.size()];
        Arrays.setAll(numbered, i -> number[patients.of(i)]);
        return numbered;
    }

    /** How often each cell is in eight samples: the first four in the low halves of four arrays, the others in the high halves. */
    private static final class CellCounts {
        private static final int ARRAYS = PatientResamples.TOGETHER / 2;

        /** The patients of the cases, cell by cell, and where those of each cell start. */
        private final int[] patients;

        private final int[] starts;
        private final long[][] counts;

        CellCounts(AnchorCalculator calculator, int[] patientOfCase) {
            starts = new int[calculator.size() + 1];
            for (int i = 0; i < patientOfCase.length; i++) {
                starts[calculator.cell(i) + 1]++;
            }
            Arrays.parallelPrefix(starts, Integer::sum);
            int[] next = starts.clone();
            patients = new int[patientOfCase.length];
            for (int i = 0; i < patientOfCase.length; i++) {
                patients[next[calculator.cell(i)]++] = patientOfCase[i];
            }
            counts = new long[ARRAYS][calculator.size()];
        }

        void count(long[] weights) {
            for (int cell = 0; cell < starts.length - 1; cell++) {
                long first = 0;
                long second = 0;
                long third = 0;
                long fourth = 0;
                for (int i = starts[cell]; i < starts[cell + 1]; i++) {
                    long weight = weights[patients[i]];
                    first += weight & LOWEST;
                    second += weight >>> BYTE & LOWEST;
                    third += weight >>> 2 * BYTE & LOWEST;
                    fourth += weight >>> 3 * BYTE & LOWEST;
                }
                counts[0][cell] = first;
                counts[1][cell] = second;
                counts[2][cell] = third;
                counts[3][cell] = fourth;
            }
        }

        /** The array that holds the sample at that place of the eight. */
        long[] of(int place) {
            return counts[place % ARRAYS];
        }

        /** By how many bits its counts stand there. */
        static int shift(int place) {
            return place < ARRAYS ? 0 : HALF;
        }
    }
}
