package lumbrical.statistics;

import lumbrical.instrument.Range;

/** The score interval of a proportion. */
public final class Wilson {
    private static final double Z = Distributions.Z975;

    private Wilson() {}

    /**
     * The 95 % interval of {@code count / of}: centre {@code (x + z²/2) / (n + z²)}, half width {@code z / (n + z²) · √(x (n −
     * x) / n + z²/4)} (Wilson 1927; Newcombe 1998, Stat Med 17:857-872). Exactly 0 at no event and exactly 1 when all are.
     *
     * @throws IllegalArgumentException if {@code of < 1} or {@code count} is not from 0 to {@code of}
     */
    public static Range interval95(long count, long of) {
        if (of < 1 || count < 0 || count > of) {
            throw new IllegalArgumentException(count + " of " + of + " is no proportion");
        }
        double z2 = Z * Z;
        double centre = (count + z2 / 2) / (of + z2);
        double half = Z / (of + z2) * Math.sqrt((double) count * (of - count) / of + z2 / 4);
        double low = count == 0 ? 0 : Math.max(0, centre - half);
        double high = count == of ? 1 : Math.min(1, centre + half);
        return new Range(low, high);
    }
}
