package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import lumbrical.instrument.InstrumentId;

/**
 * One reason to call, or not to: the forms of an episode at a visit that stand alike.
 *
 * @param episode the episode
 * @param visit the visit
 * @param opens first day of the window
 * @param target day aimed at
 * @param closes last day of the window
 * @param state how the forms stand
 * @param forms the forms in that state, in the order in which they are expected
 * @param daysLeft days from the as-of date to the close; negative once past
 */
public record CallRow(
        Episode episode,
        Visit visit,
        LocalDate opens,
        LocalDate target,
        LocalDate closes,
        ExpectedForm.State state,
        List<InstrumentId> forms,
        long daysLeft) {
    /** Copies the list. */
    public CallRow {
        forms = List.copyOf(forms);
    }
}
