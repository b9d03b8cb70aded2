package lumbrical.cohort;

import java.util.Optional;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;

/**
 * What a row is about.
 *
 * @param group the group
 * @param instrument the instrument, in the newest version seen
 * @param scale the scale
 * @param visit the visit; empty where a row is of no visit
 */
public record RowPlace(CohortGroup group, Instrument instrument, Scale scale, Optional<Visit> visit) {
    /** The same at a visit. */
    RowPlace at(Visit of) {
        return new RowPlace(group, instrument, scale, Optional.of(of));
    }

    /** In words, for a list of what is blank and why. */
    String inWords() {
        return group.label() + ", " + instrument.id() + " " + scale.id()
                + visit.map(v -> ", " + v.name()).orElse("");
    }
}
