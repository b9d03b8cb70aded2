package lumbrical.cohort;

import java.util.Optional;
import lumbrical.instrument.Range;
import lumbrical.statistics.Wilson;

/**
 * So many of so many.
 *
 * @param count how many
 * @param of of how many
 * @param shown whether the group is large enough for a percentage
 */
public record Share(int count, int of, boolean shown) {
    /** @throws IllegalArgumentException if {@code count} is not from 0 to {@code of} */
    public Share {
        if (count < 0 || count > of) {
            throw new IllegalArgumentException(count + " of " + of + " is no share");
        }
    }

    static Share of(int count, int of, int smallest) {
        return new Share(count, of, of > 0 && of >= smallest);
    }

    /** From 0 to 100; empty of a group too small. */
    public Optional<Double> percent() {
        return shown ? Optional.of(100.0 * count / of) : Optional.empty();
    }

    /** Wilson's 95 % interval in per cent, the episodes being independent; empty of a group too small. */
    public Optional<Range> interval95() {
        return shown
                ? Optional.of(Wilson.interval95(count, of)).map(r -> new Range(100 * r.low(), 100 * r.high()))
                : Optional.empty();
    }
}
