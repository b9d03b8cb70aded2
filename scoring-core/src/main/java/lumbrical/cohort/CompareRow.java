package lumbrical.cohort;

import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.Newcombe;

/**
 * Two groups compared: A minus B, positive where A improved more.
 *
 * @param at the group within which A and B lie, scale and visit
 * @param nA paired episodes of A
 * @param nB paired episodes of B
 * @param difference of the mean improvements, with Welch's interval
 * @param adjusted the difference at equal baseline
 * @param probabilityABetter that an episode of A improves more than one of B, ties counting one half
 * @param shift median of all differences of an improvement of A and one of B
 * @param responders how many improved by the MCID; empty if no MCID is known
 */
public record CompareRow(
        RowPlace at,
        int nA,
        int nB,
        Difference difference,
        Adjusted adjusted,
        Estimate<Double> probabilityABetter,
        Estimate<Double> shift,
        Optional<Responders> responders) {
    /** Name of the table. */
    public static final String TABLE = "compare";

    /**
     * A difference with its interval.
     *
     * @param value A minus B
     * @param interval 95 %
     */
    public record Difference(Estimate<Double> value, Estimate<Range> interval) {}

    /**
     * A difference at equal baseline.
     *
     * @param difference A minus B
     * @param clustered whether the interval allows for patients with several of the episodes
     */
    public record Adjusted(Difference difference, boolean clustered) {}

    /**
     * Those improved by the MCID.
     *
     * @param mcid by which
     * @param a of A
     * @param b of B
     */
    public record Responders(McidUsed mcid, Share a, Share b) {
        /** Difference A minus B in per cent, from -100 to 100; empty of a group too small. */
        public Optional<Double> difference() {
            return a.percent().flatMap(pA -> b.percent().map(pB -> pA - pB));
        }

        /** Newcombe's 95 % interval in per cent, the episodes being independent; empty of a group too small. */
        public Optional<Range> interval95() {
            return a.shown() && b.shown()
                    ? Optional.of(Newcombe.interval95(a.count(), a.of(), b.count(), b.of()))
                            .map(r -> new Range(100 * r.low(), 100 * r.high()))
                    : Optional.empty();
        }
    }

    Stream<Blank> blanks() {
        return Stream.of(
                        Blank.of(TABLE, at, "difference", difference.value()),
                        Blank.of(TABLE, at, "interval of the difference", difference.interval())
                                .filter(b -> difference.value().whyNot().isEmpty()),
                        Blank.of(
                                TABLE,
                                at,
                                "adjusted difference",
                                adjusted.difference().value()),
                        Blank.of(
                                        TABLE,
                                        at,
                                        "interval of the adjusted difference",
                                        adjusted.difference().interval())
                                .filter(b ->
                                        adjusted.difference().value().whyNot().isEmpty()))
                .flatMap(s -> s);
    }
}
