package lumbrical.followup;

import java.util.Optional;
import java.util.OptionalInt;

/**
 * Where a sitting stands: an episode and a day in it.
 *
 * @param episode the episode
 * @param day days from the index date; empty if the episode has none or the sitting lies in the future
 * @param visit the visit whose window holds the day; empty = unscheduled, or without a day
 */
public record VisitAssignment(Episode episode, OptionalInt day, Optional<Visit> visit) {
    /** Text for a sitting that no window holds. */
    public static final String UNSCHEDULED = "unscheduled";

    /** Name of the visit, {@code unscheduled}, or empty without a day. */
    public Optional<String> visitName() {
        return day.isEmpty()
                ? Optional.empty()
                : Optional.of(visit.map(Visit::name).orElse(UNSCHEDULED));
    }

    /** Whether the window of that visit holds the day; the visits of a schedule have different names. */
    boolean isAt(Visit other) {
        return visit.isPresent() && visit.get().name().equals(other.name());
    }

    /** Whether the window of a visit in that role holds the day. */
    boolean inRole(Visit.Role role) {
        return visit.filter(v -> v.role() == role).isPresent();
    }
}
