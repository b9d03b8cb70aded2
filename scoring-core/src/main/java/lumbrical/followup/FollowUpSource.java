package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import java.util.function.Consumer;

/** A clinic's episodes over time, for readers that go through them one by one; whether they are held or judged anew does not show. */
public interface FollowUpSource {
    /** The day on which things are looked at. */
    LocalDate asOf();

    /** The visits. */
    Schedule schedule();

    /** The episodes, in the order of the input. */
    List<Episode> listed();

    /**
     * All that is known of an episode; of a source that judges anew, without the functional-task profile and the forms expected. Equal
     * each time.
     *
     * @throws IllegalArgumentException if it is none of these episodes
     */
    EpisodeFollowUp followUp(Episode.Key episode);

    /**
     * Hands on every form with at least one answer or score row, in the order of the input; one of a sitting of both sides once for each
     * side's episode. Whether an assigned form has its scores here is not said: {@link #followUp} has them.
     */
    void eachForm(Consumer<PlacedForm> taker);

    /** The episodes of a result that holds them. */
    static FollowUpSource of(FollowUpResult held) {
        return new HeldFollowUp(held);
    }
}
