package lumbrical.followup;

import java.util.Collections;
import java.util.Map;
import java.util.TreeMap;
import lumbrical.instrument.InstrumentId;
import lumbrical.scoring.Reason;

/**
 * Expected against received, for one instrument at one visit, over all episodes: one row of the {@code Follow-up} sheet. Expected
 * is received and not received together; the forms not received are those that are open, late, missed, or closed inside the window.
 *
 * @param visit the visit
 * @param instrument the instrument
 * @param expected episodes of which the form is expected and whose window has opened by the as-of date, not closed before it
 * @param closed episodes of which it would be expected, but that were closed before the window's first day
 * @param notYet episodes of which it is expected, but whose window has not opened
 * @param received forms received in the window, with at least one answer
 * @param scorable of these, forms of which every scale that is not optional has a score
 * @param notScorable of these, the others, by the reason of their first scale without a score
 * @param enteredTwice of these, forms entered twice with different answers
 * @param outsideWindow forms of these episodes received outside every window nearest to this visit's target
 */
public record VisitCount(
        Visit visit,
        InstrumentId instrument,
        int expected,
        int closed,
        int notYet,
        int received,
        int scorable,
        Map<Reason, Integer> notScorable,
        int enteredTwice,
        int outsideWindow) {
    /** Copies the map. */
    public VisitCount {
        notScorable = Collections.unmodifiableMap(new TreeMap<>(notScorable));
    }
}
