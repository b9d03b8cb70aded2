package lumbrical.instrument;

/**
 * From the lowest to the highest value, both included.
 *
 * @param low the lowest value
 * @param high the highest value
 */
public record Range(double low, double high) {
    /** @throws IllegalArgumentException if an end is not finite or {@code low > high} */
    public Range {
        if (!(low <= high) || Double.isInfinite(low) || Double.isInfinite(high)) {
            throw new IllegalArgumentException("No range: from " + low + " to " + high);
        }
    }

    /** Whether {@code value} lies between the ends, both included; false for NaN. */
    public boolean contains(double value) {
        return value >= low && value <= high;
    }

    /** Distance between the ends. */
    public double width() {
        return high - low;
    }

    // Equality written out: the one a record is given is put together at run time, and every start would pay for it.

    @Override
    public boolean equals(Object other) {
        return other instanceof Range range
                && Double.compare(low, range.low) == 0
                && Double.compare(high, range.high) == 0;
    }

    @Override
    public int hashCode() {
        return 31 * Double.hashCode(low) + Double.hashCode(high);
    }
}
