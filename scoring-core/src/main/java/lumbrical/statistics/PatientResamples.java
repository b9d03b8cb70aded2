package lumbrical.statistics;

import org.apache.commons.rng.UniformRandomProvider;
import org.apache.commons.rng.simple.RandomSource;

/**
 * How often each patient is in each of many samples of as many patients, drawn with replacement (Efron and Tibshirani 1993, An
 * Introduction to the Bootstrap, chapter 13; patients as clusters: Davison and Hinkley 1997, section 3.8; both from memory). The same
 * number of patients and seed give the same samples. Drawn once for a group, they serve for all that is known of its patients.
 */
public final class PatientResamples {
    /** Samples are counted eight at a time, one in each byte: a patient is never 256 times in one. */
    static final int TOGETHER = 8;

    private static final int BITS = 32;
    private static final long HALF = (1L << BITS) - 1;

    private final int patients;
    private final int resamples;
    /** By group of eight samples and by patient. */
    private final long[][] weights;

    private PatientResamples(int patients, int resamples, long seed) {
        this.patients = patients;
        this.resamples = resamples;
        this.weights = new long[(resamples + TOGETHER - 1) / TOGETHER][patients];
        if (patients > 0) {
            Draws draws = new Draws(patients, RandomSource.XO_RO_SHI_RO_128_PP.create(seed));
            for (int r = 0; r < resamples; r++) {
                draws.addSample(weights[r / TOGETHER], 1L << TOGETHER * (r % TOGETHER));
            }
        }
    }

    /**
     * Samples of patients numbered from 0.
     *
     * @throws IllegalArgumentException if {@code patients < 0} or {@code resamples < 1}
     */
    public static PatientResamples of(int patients, int resamples, long seed) {
        if (patients < 0 || resamples < 1) {
            throw new IllegalArgumentException(
                    "At least one resample is needed, of 0 patients or more: " + resamples + ", " + patients);
        }
        return new PatientResamples(patients, resamples, seed);
    }

    /** How many patients there are. */
    public int patients() {
        return patients;
    }

    /** How many samples there are. */
    public int resamples() {
        return resamples;
    }

    /** How often each patient is in the samples from {@code TOGETHER * block} on, the first in the lowest byte. */
    long[] block(int block) {
        return weights[block];
    }

    /** Draws patient after patient: the low half of 64 random bits is one, the high half another. */
    private static final class Draws {
        private final UniformRandomProvider random;
        private final long patients;
        private final long refused;
        private long bits;
        private boolean halfLeft;

        Draws(int patients, UniformRandomProvider random) {
            this.random = random;
            this.patients = patients;
            this.refused = (1L << BITS) % patients;
        }

        void addSample(long[] counts, long one) {
            int left = counts.length;
            if (halfLeft) {
                left -= take((bits >>> BITS) * patients, counts, one);
            }
            while (left > 1) {
                bits = random.nextLong();
                left -= take((bits & HALF) * patients, counts, one);
                left -= take((bits >>> BITS) * patients, counts, one);
            }
            halfLeft = false;
            while (left == 1) {
                bits = random.nextLong();
                left -= take((bits & HALF) * patients, counts, one);
                halfLeft = left == 0;
                left -= halfLeft ? 0 : take((bits >>> BITS) * patients, counts, one);
            }
        }

        /**
         * Takes a patient: the high part of the product of 32 random bits with their number. Each is as likely as the others since the
         * lowest products are refused (Lemire 2019, ACM Trans Model Comput Simul 29:3).
         *
         * @return how many were taken, 1 or 0
         */
        private int take(long product, long[] counts, long one) {
            if ((product & HALF) < refused) {
                return 0;
            }
            counts[(int) (product >>> BITS)] += one;
            return 1;
        }
    }
}
