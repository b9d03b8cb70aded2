package lumbrical.report.drawing;

import java.util.ArrayList;
import java.util.List;

/**
 * Puts values on a line: {@code low} lies at {@code from}, {@code high} at {@code to}, all others in proportion.
 *
 * @param low the value at the one end
 * @param high the value at the other end, greater than {@code low}
 * @param from where {@code low} lies
 * @param to where {@code high} lies; may be less than {@code from}
 */
record LinearScale(double low, double high, double from, double to) {
    /** @throws IllegalArgumentException unless {@code low < high} */
    LinearScale {
        if (!(low < high)) {
            throw new IllegalArgumentException("No scale: from " + low + " to " + high);
        }
    }

    /** Where a value lies, to the nearest unit; one outside lies beyond the end. */
    int at(double value) {
        return (int) Math.round(from + (value - low) / (high - low) * (to - from));
    }

    /** Where a value lies; one outside lies at the end. */
    int clipped(double value) {
        return at(Math.max(low, Math.min(high, value)));
    }

    /** Round values at equal steps of 1, 2 or 5 times a power of ten, at most {@code most} of them, the ends included if round. */
    List<Double> ticks(int most) {
        double step = Math.pow(10, Math.floor(Math.log10((high - low) / most)));
        for (double factor : new double[] {1, 2, 5, 10}) {
            if (Math.floor(high / (step * factor)) - Math.ceil(low / (step * factor)) + 1 <= most) {
                step *= factor;
                break;
            }
        }
        List<Double> ticks = new ArrayList<>();
        for (double n = Math.ceil(low / step); n * step <= high + step * 1e-9; n++) {
            ticks.add(n * step);
        }
        return ticks;
    }
}
