package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;

/**
 * An expected form of an episode at a visit and whether it came.
 *
 * @param episode the episode
 * @param visit the visit
 * @param instrument the form
 * @param opens first day of the window
 * @param target day aimed at
 * @param closes last day of the window
 * @param state how things stand on the as-of date
 * @param daysLeft days from the as-of date to the close; negative once past
 * @param blankItems for a form that came but cannot be scored: the items to ask for by telephone
 */
public record ExpectedForm(
        Episode episode,
        Visit visit,
        InstrumentId instrument,
        LocalDate opens,
        LocalDate target,
        LocalDate closes,
        State state,
        long daysLeft,
        List<Item> blankItems) {
    /** Copies the list. */
    public ExpectedForm {
        blankItems = List.copyOf(blankItems);
    }

    /** How an expected form stands. */
    public enum State {
        /** Before the window opens. */
        NOT_YET,
        /** In the window, up to the target day. */
        DUE,
        /** In the window, after the target day. */
        OVERDUE,
        /** After the window. */
        MISSED,
        /** Came and is scorable. */
        RECEIVED,
        /** Came, but cannot be scored; a call may still rescue it. */
        RECEIVED_NOT_SCORABLE;

        /** The code in files, such as {@code not-yet}. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }
}
