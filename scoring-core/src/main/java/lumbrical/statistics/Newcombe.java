package lumbrical.statistics;

import lumbrical.instrument.Range;

/** The score interval of a difference of two independent proportions. */
public final class Newcombe {
    private Newcombe() {}

    /**
     * The 95 % interval of {@code pA - pB}, from -1 to 1: {@code d - √((pA - lA)² + (uB - pB)²)} to {@code d + √((uA - pA)² + (pB -
     * lB)²)}, with {@code l} and {@code u} the limits of {@link Wilson} (Newcombe 1998, Stat Med 17:873-890, method 10).
     *
     * @throws IllegalArgumentException if there is nobody in a group or a count is not from 0 to those there are
     */
    public static Range interval95(long countA, long ofA, long countB, long ofB) {
        Range a = Wilson.interval95(countA, ofA);
        Range b = Wilson.interval95(countB, ofB);
        double pA = (double) countA / ofA;
        double pB = (double) countB / ofB;
        double low = pA - pB - Math.hypot(pA - a.low(), b.high() - pB);
        double high = pA - pB + Math.hypot(a.high() - pA, pB - b.low());
        return new Range(Math.max(-1, low), Math.min(1, high));
    }
}
