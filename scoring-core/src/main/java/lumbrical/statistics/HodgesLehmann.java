package lumbrical.statistics;

import java.util.function.DoubleToLongFunction;

/**
 * Hodges and Lehmann's medians (1963, Ann Math Stat 34:598-611).
 *
 * <p>The pairs of 20,000 values are 2 · 10⁸, so they are never listed. With the values sorted, how many pairs come to at most a given sum
 * is counted in one pass (the sorted matrix of Johnson and Mizoguchi 1978, SIAM J Comput 7:147-153), and the sum at a given rank is found by
 * halving the doubles between the smallest and the largest, at most 64 times: {@code O(n log n)}, exact, and the same every time.
 */
public final class HodgesLehmann {
    private HodgesLehmann() {}

    /**
     * The median of all Walsh averages {@code (xi + xj) / 2}, {@code i <= j}: of all {@code n (n + 1) / 2}, values of 0 included. Not
     * estimable of none.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> location(double[] values) {
        Values.requireFinite(values);
        int n = values.length;
        if (n == 0) {
            return Estimate.none(Estimate.Reason.NO_VALUES);
        }
        double[] x = Values.sorted(values);
        return Estimate.of(median(2 * x[0], 2 * x[n - 1], n * (n + 1L) / 2, sum -> {
                    long count = 0;
                    int last = n - 1;
                    for (int i = 0; i <= last; i++) {
                        while (last >= i && x[i] + x[last] > sum) {
                            last--;
                        }
                        count += last - i + 1;
                    }
                    return count;
                })
                / 2);
    }

    /**
     * The median of all differences {@code a - b}, a value of A minus a value of B. Not estimable if a group is empty.
     *
     * @throws IllegalArgumentException if a value is not finite
     */
    public static Estimate<Double> shift(double[] a, double[] b) {
        Values.requireFinite(a);
        Values.requireFinite(b);
        if (a.length == 0 || b.length == 0) {
            return Estimate.none(Estimate.Reason.NO_VALUES);
        }
        double[] x = Values.sorted(a);
        double[] y = Values.sorted(b);
        return Estimate.of(
                median(x[0] - y[y.length - 1], x[x.length - 1] - y[0], (long) x.length * y.length, difference -> {
                    long count = 0;
                    int first = 0;
                    for (double value : x) {
                        while (first < y.length && value - y[first] > difference) {
                            first++;
                        }
                        count += y.length - first;
                    }
                    return count;
                }));
    }

    /** The median of {@code pairs} sums from {@code lowest} to {@code highest}; {@code atMost} counts those not above a sum. */
    private static double median(double lowest, double highest, long pairs, DoubleToLongFunction atMost) {
        double lower = ranked((pairs + 1) / 2, lowest, highest, atMost);
        double upper = ranked(pairs / 2 + 1, lower, highest, atMost);
        return lower / 2 + upper / 2;
    }

    private static double ranked(long rank, double lowest, double highest, DoubleToLongFunction atMost) {
        long low = ordered(lowest);
        long high = ordered(highest);
        while (low < high) {
            long middle = (low & high) + ((low ^ high) >> 1);
            if (atMost.applyAsLong(Double.longBitsToDouble(ordered(middle))) >= rank) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        return Double.longBitsToDouble(ordered(low)) + 0.0;
    }

    private static long ordered(double value) {
        return ordered(Double.doubleToLongBits(value));
    }

    /** The bits of a double as a number that is larger when the double is; and back. */
    private static long ordered(long bits) {
        return bits ^ ((bits >> 63) & Long.MAX_VALUE);
    }
}
