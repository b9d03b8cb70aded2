package lumbrical.statistics;

import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.Map;
import java.util.stream.IntStream;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate.Reason;

/** Percentile intervals from samples of the patients, each with all of its cases. */
final class PatientBootstrap {
    private static final int PERCENT_USABLE = 95;
    private static final double[] LIMITS = {0.025, 0.975};
    private static final AnchorMethod[] METHODS = AnchorMethod.values();
    private static final int BYTE = 8;
    private static final int HALF = 32;
    /** The lowest byte of each half of a word. */
    private static final long LOWEST = 0xFF_0000_00FFL;

    /**
     * More than the last digits of a quick estimate are off by, of itself or of 1 where that is more: quick and exact fits both stop within
     * the tenth digit. Intervals are therefore those of exact fits.
     */
    private static final double QUICK = 1e-8;

    private final AnchorCalculator original;
    private final AnchorCalculator quick;
    private final AnchorCalculator exact;
    private final PatientResamples samples;
    private final CellCounts counts;
    /** The block of samples that is counted. */
    private int counted = -1;

    private final double[][] estimates;
    /** The resample of each estimate. */
    private final int[][] drawnIn;

    /** By how much the predictive estimates of each resample may be off. */
    private final double[] off;

    private final int[] usable = new int[METHODS.length];

    private PatientBootstrap(AnchorCalculator original, int[] patients, PatientResamples samples) {
        this.original = original;
        this.quick = original.ofResamples(true);
        this.exact = original.ofResamples(false);
        this.samples = samples;
        this.counts = new CellCounts(original, patients);
        this.estimates = new double[METHODS.length][samples.resamples()];
        this.drawnIn = new int[METHODS.length][samples.resamples()];
        this.off = new double[samples.resamples()];
    }

    /**
     * The intervals.
     *
     * @param patients the patient of each case, numbered as in the samples
     * @param several whether the cases are of more than one patient
     */
    static Map<AnchorMethod, BootstrapInterval> intervals95(
            AnchorCalculator original, int[] patients, boolean several, PatientResamples samples) {
        PatientBootstrap bootstrap = new PatientBootstrap(original, patients, samples);
        if (several) {
            bootstrap.draw();
        }
        Map<AnchorMethod, BootstrapInterval> intervals = new EnumMap<>(AnchorMethod.class);
        for (AnchorMethod method : METHODS) {
            Estimate<Range> interval = original.estimate(method)
                    .flatMap(estimate -> several ? bootstrap.interval(method) : Estimate.none(Reason.ONE_PATIENT));
            intervals.put(
                    method, new BootstrapInterval(interval, bootstrap.usable[method.ordinal()], samples.resamples()));
        }
        return intervals;
    }

    private void draw() {
        for (int r = 0; r < samples.resamples(); r++) {
            evaluate(quick, r);
            off[r] = quick.off();
            for (AnchorMethod method : METHODS) {
                int m = method.ordinal();
                if (quick.has(method)) {
                    drawnIn[m][usable[m]] = r;
                    estimates[m][usable[m]++] = quick.valueOf(method);
                }
            }
        }
    }

    private void evaluate(AnchorCalculator calculator, int resample) {
        int block = resample / PatientResamples.TOGETHER;
        if (block != counted) {
            counts.count(samples.block(block));
            counted = block;
        }
        int place = resample % PatientResamples.TOGETHER;
        calculator.evaluate(counts.of(place), CellCounts.shift(place), Logistic.FOR_RESAMPLES);
    }

    private Estimate<Range> interval(AnchorMethod method) {
        double[] drawn = Arrays.copyOf(estimates[method.ordinal()], usable[method.ordinal()]);
        if (100L * drawn.length < (long) PERCENT_USABLE * samples.resamples()) {
            return Estimate.none(Reason.TOO_FEW_RESAMPLES);
        }
        if (method == AnchorMethod.PREDICTIVE || method == AnchorMethod.PREDICTIVE_ADJUSTED) {
            settle(method, drawn);
        }
        double[] limits = Quantiles.type7(drawn, LIMITS);
        return Estimate.of(new Range(limits[0], limits[1]));
    }

    /** Takes exactly, in place of quickly, what decides the limits. */
    private void settle(AnchorMethod method, double[] drawn) {
        int[] resample = drawnIn[method.ordinal()];
        double[] least = new double[drawn.length];
        double[] most = new double[drawn.length];
        for (int i = 0; i < drawn.length; i++) {
            double slack = off[resample[i]] + 2 * QUICK * Math.max(1, Math.abs(drawn[i]));
            least[i] = drawn[i] - slack;
            most[i] = drawn[i] + slack;
        }
        double[] sortedLeast = Values.sorted(least);
        double[] sortedMost = Values.sorted(most);
        for (int i = 0; i < drawn.length; i++) {
            if (decides(least[i], most[i], sortedLeast, sortedMost)) {
                evaluate(exact, resample[i]);
                drawn[i] = exact.valueOf(method);
            }
        }
    }

    /** Whether an estimate between these may be one of the two between which a limit lies. */
    private static boolean decides(double least, double most, double[] sortedLeast, double[] sortedMost) {
        for (double p : LIMITS) {
            double position = p * (sortedLeast.length - 1);
            if (sortedLeast[(int) Math.floor(position)] <= most && least <= sortedMost[(int) Math.ceil(position)]) {
                return true;
            }
        }
        return false;
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

        /** The cell of each case and its patient, patient by patient: weights are read in their order. */
        private final int[] cells;

        private final int[] patients;
        private final long[][] counts;

        CellCounts(AnchorCalculator calculator, int[] patientOfCase) {
            int[] order = IntStream.range(0, patientOfCase.length)
                    .boxed()
                    .sorted(Comparator.comparingInt(i -> patientOfCase[i]))
                    .mapToInt(Integer::intValue)
                    .toArray();
            cells = IntStream.of(order).map(calculator::cell).toArray();
            patients = IntStream.of(order).map(i -> patientOfCase[i]).toArray();
            counts = new long[ARRAYS][calculator.size()];
        }

        void count(long[] weights) {
            for (long[] ofFour : counts) {
                Arrays.fill(ofFour, 0);
            }
            long[] first = counts[0];
            long[] second = counts[1];
            long[] third = counts[2];
            long[] fourth = counts[3];
            for (int i = 0; i < cells.length; i++) {
                int cell = cells[i];
                long weight = weights[patients[i]];
                first[cell] += weight & LOWEST;
                second[cell] += weight >>> BYTE & LOWEST;
                third[cell] += weight >>> 2 * BYTE & LOWEST;
                fourth[cell] += weight >>> 3 * BYTE & LOWEST;
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
