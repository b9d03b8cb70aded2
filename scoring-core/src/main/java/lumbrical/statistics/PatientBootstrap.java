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
            AnchorCalculator calculator = original.ofResamples();
            PatientDraws draws = new PatientDraws(
                    cellsOfPatients(original, patients),
                    calculator.size(),
                    RandomSource.XO_RO_SHI_RO_128_PP.create(seed));
            for (int r = 0; r < resamples; r++) {
                calculator.evaluate(draws.next(), Logistic.FOR_RESAMPLES);
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

    /**
     * Draws as many patients as there are, with replacement. Most have one case or two: these are counted without a question asked, the
     * second of those who have none in cells that nobody reads, of which there are several so that one need not wait for another.
     */
    private static final class PatientDraws {
        private static final int BITS = 32;
        private static final long LANE = (1L << BITS) - 1;
        private static final int UNREAD = 16;

        private final UniformRandomProvider random;
        private final int[] counts;
        /** The cell of each patient's first case. */
        private final int[] first;
        /** That of the second case. */
        private final int[] second;
        /** Those of the others, one patient after the other, and where those of each start. */
        private final int[] others;

        private final int[] starts;
        private final long refused;
        private long bits;
        /** Whether the high half of the bits is still to be used. */
        private boolean halfLeft;

        PatientDraws(int[][] cells, int size, UniformRandomProvider random) {
            this.random = random;
            int groups = cells.length;
            counts = new int[size + UNREAD];
            first = new int[groups];
            second = new int[groups];
            starts = new int[groups + 1];
            for (int g = 0; g < groups; g++) {
                int[] own = cells[g];
                first[g] = own[0];
                second[g] = own.length > 1 ? own[1] : size + g % UNREAD;
                starts[g + 1] = starts[g] + Math.max(0, own.length - 2);
            }
            others = Arrays.stream(cells)
                    .flatMapToInt(own -> Arrays.stream(own).skip(2))
                    .toArray();
            refused = (1L << BITS) % groups;
        }

        /** How often each cell was drawn; valid until the next call. */
        int[] next() {
            Arrays.fill(counts, 0);
            int left = first.length;
            if (halfLeft) {
                left -= take((bits >>> BITS) * first.length);
            }
            while (left > 1) {
                bits = random.nextLong();
                left -= take((bits & LANE) * first.length);
                left -= take((bits >>> BITS) * first.length);
            }
            halfLeft = false;
            while (left == 1) {
                bits = random.nextLong();
                left -= take((bits & LANE) * first.length);
                halfLeft = left == 0;
                left -= halfLeft ? 0 : take((bits >>> BITS) * first.length);
            }
            return counts;
        }

        /**
         * Takes a patient: the high part of the product of 32 random bits with their number. Each is as likely as the others since the
         * lowest products are refused (Lemire 2019, ACM Trans Model Comput Simul 29:3).
         *
         * @return how many were taken, 1 or 0
         */
        private int take(long product) {
            if ((product & LANE) < refused) {
                return 0;
            }
            int patient = (int) (product >>> BITS);
            counts[first[patient]]++;
            counts[second[patient]]++;
            if (others.length > 0) {
                for (int c = starts[patient]; c < starts[patient + 1]; c++) {
                    counts[others[c]]++;
                }
            }
            return 1;
        }
    }
}
