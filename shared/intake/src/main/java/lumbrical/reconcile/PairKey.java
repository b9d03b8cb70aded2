package lumbrical.reconcile;

import java.time.LocalDate;
import java.util.Optional;
import lumbrical.instrument.Side;
import lumbrical.sitting.Sitting;

/**
 * What makes two entries entries of one form.
 *
 * @param patient pseudonymous id
 * @param completedOn the day
 * @param side the side, if given
 */
public record PairKey(String patient, LocalDate completedOn, Optional<Side> side) {
    static PairKey of(Sitting sitting) {
        return new PairKey(sitting.patient(), sitting.completedOn(), sitting.side());
    }

    /** How many of patient, day and side are the same. */
    int inCommon(PairKey other) {
        return (patient.equals(other.patient) ? 1 : 0)
                + (completedOn.equals(other.completedOn) ? 1 : 0)
                + (side.equals(other.side) ? 1 : 0);
    }
}
