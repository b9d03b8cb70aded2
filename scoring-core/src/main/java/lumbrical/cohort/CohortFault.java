package lumbrical.cohort;

import java.util.List;

/**
 * A request that cannot be met.
 *
 * @param kind what is wrong
 * @param value what was asked for
 * @param allowed what could be asked for instead
 */
public record CohortFault(Kind kind, String value, List<String> allowed) {
    /** Copies the list. */
    public CohortFault {
        allowed = List.copyOf(allowed);
    }

    /** What can be wrong. */
    public enum Kind {
        /** A grouping names a column by which episodes cannot be grouped. */
        GROUPING_UNKNOWN("episodes cannot be grouped by it; columns are"),
        /** The column to be compared is none by which episodes can be grouped. */
        COMPARED_COLUMN_UNKNOWN("episodes cannot be compared by it; columns are"),
        /** No episode has a value that is to be compared. */
        COMPARED_VALUE_UNKNOWN("no episode has this value; values are"),
        /** The two values to be compared are one. */
        COMPARED_WITH_ITSELF("both values are the same group; values are"),
        /** The anchor is no instrument. */
        ANCHOR_UNKNOWN("there is no such instrument; ratings of change that were read are"),
        /** The anchor is not a single rating of change with whole steps around 0. */
        ANCHOR_IS_NO_RATING("it is no rating of change; ratings of change that were read are");

        private final String words;

        Kind(String words) {
            this.words = words;
        }
    }

    /** What is wrong and what would be right. */
    public String message() {
        return "'" + value + "': " + kind.words + " " + (allowed.isEmpty() ? "none" : String.join(", ", allowed)) + ".";
    }
}
