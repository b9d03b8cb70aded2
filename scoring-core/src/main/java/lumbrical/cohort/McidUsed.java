package lumbrical.cohort;

import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Threshold;

/**
 * The MCID by which episodes are counted as improved.
 *
 * @param threshold the one; empty = each episode's own
 */
public record McidUsed(Optional<Threshold> threshold) {
    /** Each episode's own, where these differ or conditions are mixed. */
    public static final McidUsed EACH_EPISODES_OWN = new McidUsed(Optional.empty());

    /** Its value; empty where each episode has its own. */
    public OptionalDouble value() {
        return threshold.map(Threshold::value).orElse(OptionalDouble.empty());
    }
}
