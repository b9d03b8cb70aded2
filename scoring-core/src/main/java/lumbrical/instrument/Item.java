package lumbrical.instrument;

import java.util.Optional;

/**
 * One thing an instrument asks.
 *
 * @param id its column without prefix and hand
 * @param topic our own short label, never the form's wording
 * @param topicStanding how sure the topic is: a code of {@link Standing}, or {@code not-seen}
 * @param responses what may be answered
 * @param better which end of the responses is the good one
 * @param grip the grip that its task plainly is
 * @param perHand whether it is asked of each hand
 * @param module name of an optional module, such as {@code work}
 * @param note a sentence a user should read
 * @param text the item's wording, only in a set whose wording is ours and open
 */
public record Item(
        ItemId id,
        String topic,
        String topicStanding,
        ResponseSet responses,
        Direction better,
        Optional<Grip> grip,
        boolean perHand,
        Optional<String> module,
        Optional<String> note,
        Optional<String> text) {

    /** {@code value} put on 0 (best response) to 100 (worst response). */
    public double difficulty(double value) {
        double low = responses.low();
        double high = responses.high();
        double fromLow = (value - low) / (high - low) * 100;
        return better == Direction.LOWER ? fromLow : 100 - fromLow;
    }
}
