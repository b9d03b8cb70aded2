package lumbrical.cohort;

/**
 * A group of episodes.
 *
 * @param by the column, or columns joined by {@code +}, by which it is grouped; {@code all} for all together
 * @param label the value, or values joined by {@code  / }; {@code (blank)} for none, {@code all} for all together
 */
public record CohortGroup(String by, String label) {
    /** All episodes together. */
    public static final CohortGroup ALL = new CohortGroup("all", "all");

    /** Label of episodes without a value. */
    public static final String BLANK = "(blank)";
}
