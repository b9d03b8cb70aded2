package lumbrical.followup;

import java.util.List;
import lumbrical.instrument.InstrumentId;

/**
 * A planned time of assessment, in days from the index date.
 *
 * @param name as written in the schedule
 * @param targetDay the day aimed at
 * @param fromDay first day of the window
 * @param toDay last day of the window, included
 * @param role baseline or follow-up
 * @param forms instruments expected at this visit; empty = not stated here
 * @param verdict whether a change at this visit is judged
 */
public record Visit(
        String name, int targetDay, int fromDay, int toDay, Role role, List<InstrumentId> forms, boolean verdict) {
    /** @throws IllegalArgumentException if the window ends before it starts or the target lies outside */
    public Visit {
        if (fromDay > toDay || targetDay < fromDay || targetDay > toDay) {
            throw new IllegalArgumentException("Visit '" + name + "': target day " + targetDay
                    + " must lie in its window, which must not end before it starts (" + fromDay + " to " + toDay
                    + ")");
        }
        forms = List.copyOf(forms);
    }

    /** Of the name, which tells the visits of a schedule apart. */
    @Override
    public int hashCode() {
        return name.hashCode();
    }

    /** What a visit is for. */
    public enum Role {
        BASELINE,
        FOLLOW_UP
    }

    /** The instruments asked for at it: its own where the schedule names any, else those given. */
    public List<InstrumentId> formsOr(List<InstrumentId> throughout) {
        return forms.isEmpty() ? throughout : forms;
    }

    /** Whether {@code day} lies in the window, both ends included. */
    public boolean holds(int day) {
        return day >= fromDay && day <= toDay;
    }
}
