package lumbrical.intake;

import lumbrical.instrument.Instrument;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Responses;

/**
 * One instrument of one sitting as read.
 *
 * @param instrument the instrument
 * @param responses what was answered; may be blank
 * @param named what the long layout names, so that it gives a row even without an answer
 * @param rows how many rows of the file it came from
 */
public record FormEntry(Instrument instrument, Responses responses, RequestedColumns named, int rows) {
    /** The same form, that came again from so many rows. */
    public FormEntry again(int fromRows) {
        return new FormEntry(instrument, responses, named, fromRows);
    }
}
