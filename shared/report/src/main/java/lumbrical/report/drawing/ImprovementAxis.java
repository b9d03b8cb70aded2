package lumbrical.report.drawing;

import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.DoubleStream;

/**
 * What the drawings of improvements share: how far the axis reaches and the thresholds on it.
 *
 * @param low the least improvement of the axis, at most 0
 * @param high the greatest, at least 0
 * @param used the MCID used; empty where each episode has its own, or none is known
 * @param published other published MCIDs
 * @param mdc the smallest change beyond measurement error; empty where it is not one for all
 */
public record ImprovementAxis(
        double low, double high, OptionalDouble used, List<Double> published, OptionalDouble mdc) {
    /** Copies the list. */
    public ImprovementAxis {
        published = List.copyOf(published);
    }

    /** An axis that holds no change, these improvements, and the thresholds. */
    public static ImprovementAxis of(
            List<Double> improvements, OptionalDouble used, List<Double> published, OptionalDouble mdc) {
        double[] all = DoubleStream.concat(
                        DoubleStream.concat(used.stream(), mdc.stream()),
                        DoubleStream.concat(
                                DoubleStream.of(0),
                                DoubleStream.concat(
                                        improvements.stream().mapToDouble(d -> d),
                                        published.stream().mapToDouble(d -> d))))
                .toArray();
        double low = DoubleStream.of(all).min().orElse(0);
        double high = DoubleStream.of(all).max().orElse(0);
        double room = high > low ? (high - low) * 0.04 : 1;
        return new ImprovementAxis(low < 0 ? low - room : 0, high > 0 ? high + room : room, used, published, mdc);
    }
}
