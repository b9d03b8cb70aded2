package lumbrical.cdisc;

import java.util.OptionalInt;

/**
 * Study days: the index day is day 1, the day before it day -1, and there is no day 0 (from memory; so the pilot data have it). Weeks are
 * whole weeks from the index date as they are sent: days 0 to 6 after it are week 0, the seven days before it week -1.
 */
final class StudyDay {
    private static final int DAYS_OF_WEEK = 7;

    private StudyDay() {}

    /** Study day of a day counted from the index date, where that is 0. */
    static int of(int daysFromIndex) {
        return daysFromIndex >= 0 ? daysFromIndex + 1 : daysFromIndex;
    }

    static OptionalInt of(OptionalInt daysFromIndex) {
        return daysFromIndex.isPresent() ? OptionalInt.of(of(daysFromIndex.getAsInt())) : OptionalInt.empty();
    }

    /** Whole weeks of a day counted from the index date, rounded down. */
    static int week(int daysFromIndex) {
        return Math.floorDiv(daysFromIndex, DAYS_OF_WEEK);
    }

    /** The last day of a week, counted from the index date. */
    static int lastOfWeek(int week) {
        return week * DAYS_OF_WEEK + DAYS_OF_WEEK - 1;
    }
}
