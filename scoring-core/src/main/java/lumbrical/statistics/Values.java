package lumbrical.statistics;

import java.util.Arrays;
import java.util.stream.IntStream;

/** What the statistics ask of the values they are given. */
final class Values {
    /**
     * Values no further apart count as one: sums that are equal by arithmetic can differ in the last bits of a double. Far below any
     * score's step. Ours, as for thresholds.
     */
    static final double SLACK = 1e-9;

    private Values() {}

    /** @throws IllegalArgumentException if a value is not finite */
    static void requireFinite(double... values) {
        for (double value : values) {
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("Statistics need numbers only, but a value is " + value);
            }
        }
    }

    /** @throws IllegalArgumentException if the lengths differ */
    static void requireSameLength(int first, int second) {
        if (first != second) {
            throw new IllegalArgumentException(
                    "Of every case one value each, but there are " + first + " and " + second);
        }
    }

    /** Whether the values are all the same; true for none and for one. */
    static boolean haveNoSpread(double... values) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double value : values) {
            low = Math.min(low, value);
            high = Math.max(high, value);
        }
        return high - low <= SLACK;
    }

    /** The distinct values, ascending; of those that count as the same the smallest. */
    static double[] distinct(double[] values) {
        double[] sorted = sorted(values);
        return IntStream.range(0, sorted.length)
                .filter(i -> i == 0 || sorted[i] - sorted[i - 1] > SLACK)
                .mapToDouble(i -> sorted[i])
                .toArray();
    }

    /** Where in {@code distinct} the value that counts as {@code value} is: the last that is not above it. */
    static int indexIn(double[] distinct, double value) {
        int found = Arrays.binarySearch(distinct, value + 0.0);
        return found >= 0 ? found : -found - 2;
    }

    static double[] sorted(double[] values) {
        // 0.0 added: without it -0.0 and 0.0 are two values to a sort.
        double[] sorted = Arrays.stream(values).map(v -> v + 0.0).toArray();
        Arrays.sort(sorted);
        return sorted;
    }

    /** All of {@code first}, then all of {@code second}. */
    static double[] joined(double[] first, double[] second) {
        double[] all = Arrays.copyOf(first, first.length + second.length);
        System.arraycopy(second, 0, all, first.length, second.length);
        return all;
    }
}
