package lumbrical.cdisc;

import java.util.OptionalInt;
import lumbrical.followup.Visit;

/** Study days: the index day is day 1, the day before it day -1, and there is no day 0 (from memory; so the pilot data have it). */
final class StudyDay {
    private StudyDay() {}

    /** Study day of a day counted from the index date, where that is 0. */
    static int of(int daysFromIndex) {
        return daysFromIndex >= 0 ? daysFromIndex + 1 : daysFromIndex;
    }

    static OptionalInt of(OptionalInt daysFromIndex) {
        return daysFromIndex.isPresent() ? OptionalInt.of(of(daysFromIndex.getAsInt())) : OptionalInt.empty();
    }

    /** The window of a visit in study days, such as {@code 8-28}. */
    static String window(Visit visit) {
        return of(visit.fromDay()) + " to " + of(visit.toDay());
    }
}
