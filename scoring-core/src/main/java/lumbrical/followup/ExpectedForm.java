package lumbrical.followup;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;

/**
 * An expected form of an episode at a visit and whether it came.
 *
 * @param episode the episode, which has an index date
 * @param visit the visit
 * @param instrument the form
 * @param state how things stand on the as-of date
 * @param asOf the as-of date
 * @param blankItems for a form that came but cannot be scored: the items to ask for by telephone
 */
public record ExpectedForm(
        Episode episode, Visit visit, InstrumentId instrument, State state, LocalDate asOf, List<Item> blankItems) {
    /**
     * Copies the list.
     *
     * @throws IllegalArgumentException if the episode has no index date, so that nothing is expected on a day
     */
    public ExpectedForm {
        if (episode.indexDate().isEmpty()) {
            throw new IllegalArgumentException("Episode " + episode.id() + " has no index date");
        }
        blankItems = List.copyOf(blankItems);
    }

    /**
     * With its days told, which the episode and the visit tell as well.
     *
     * @param opens first day of the window
     * @param target day aimed at
     * @param closes last day of the window
     * @param daysLeft days from the as-of date to the close; negative once past
     * @throws IllegalArgumentException if the episode has no index date, or the days are not those of the visit
     */
    public ExpectedForm(
            Episode episode,
            Visit visit,
            InstrumentId instrument,
            LocalDate opens,
            LocalDate target,
            LocalDate closes,
            State state,
            long daysLeft,
            List<Item> blankItems) {
        this(episode, visit, instrument, state, closes.minusDays(daysLeft), blankItems);
        if (!List.of(opens, target, closes).equals(List.of(opens(), target(), closes()))) {
            throw new IllegalArgumentException("The visit " + visit.name() + " of episode " + episode.id() + " is from "
                    + opens() + " to " + closes() + " with the target " + target() + ", not from " + opens + " to "
                    + closes
                    + " with " + target);
        }
    }

    /** First day of the window. */
    public LocalDate opens() {
        return day(visit.fromDay());
    }

    /** Day aimed at. */
    public LocalDate target() {
        return day(visit.targetDay());
    }

    /** Last day of the window. */
    public LocalDate closes() {
        return day(visit.toDay());
    }

    private LocalDate day(int ofEpisode) {
        return episode.indexDate().orElseThrow().plusDays(ofEpisode);
    }

    /** Days from the as-of date to the close of the window; negative once past. */
    public long daysLeft() {
        return ChronoUnit.DAYS.between(asOf, closes());
    }

    /** How an expected form stands; the first that holds. The codes are written to files. */
    public enum State {
        /** Came and can be scored. */
        DONE,
        /** Came, but cannot be scored; a call may still rescue it. */
        INCOMPLETE,
        /** The episode was closed inside the window, before the form came. */
        CLOSED,
        /** Before the window opens. */
        NOT_YET,
        /** In the window, up to the target day. */
        OPEN,
        /** In the window, after the target day. */
        LATE,
        /** After the window. */
        MISSED;

        /** The code in files, such as {@code not-yet}. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }

    /** Whether the form came, scorable or not. */
    public boolean received() {
        return state == State.DONE || state == State.INCOMPLETE;
    }
}
