package lumbrical.cohort;

import java.util.Collections;
import java.util.Map;
import java.util.OptionalInt;
import java.util.TreeMap;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.scoring.Reason;

/**
 * What became of an instrument's forms of a group at a visit.
 *
 * @param group the group
 * @param instrument the instrument
 * @param visit the visit
 * @param asked of whom the form was expected and from whom it came
 * @param scorable how many of the received have a score of the instrument's first scale that is not optional; all if it has none
 * @param paired how many of these can be set against a baseline; empty at baseline, and for an instrument without such a scale
 * @param notScored the received without that score, by reason
 * @param enteredTwice the received that were entered twice with different answers
 */
public record FlowRow(
        CohortGroup group,
        InstrumentId instrument,
        Visit visit,
        Asked asked,
        int scorable,
        OptionalInt paired,
        Map<Reason, Integer> notScored,
        int enteredTwice) {
    /** Copies the map. */
    public FlowRow {
        notScored = Collections.unmodifiableMap(new TreeMap<>(notScored));
    }

    /**
     * Of whom a form was expected.
     *
     * @param episodes episodes of the group, whether the form is asked of them or not
     * @param notYet of how many the window has not opened
     * @param closed how many were closed before the window
     * @param expected of how many it is expected
     * @param received from how many of these it came
     */
    public record Asked(int episodes, int notYet, int closed, int expected, int received) {}
}
