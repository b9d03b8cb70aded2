package lumbrical.reconcile;

import java.util.Locale;
import java.util.Optional;
import lumbrical.problem.Place;
import lumbrical.sitting.Sitting;

/**
 * A cell, or a whole sitting, on which the tables do not agree.
 *
 * @param sitting the sitting, as the first table has it, else the second
 * @param column the column; {@code *} for the sitting as a whole
 * @param kind how they differ
 * @param first what the first table has, blank if nothing
 * @param second what the second table has, blank if nothing
 * @param firstScores scores that the cell bears on, with the first table's entry
 * @param secondScores the same scores with the second table's entry
 * @param firstPlace row in the first table
 * @param secondPlace row in the second table
 * @param counted whether it counts for the error rate
 * @param hint what may have happened, for a sitting that only one table has
 * @param decision what a person decided
 */
public record Difference(
        Sitting sitting,
        String column,
        Kind kind,
        String first,
        String second,
        String firstScores,
        String secondScores,
        Optional<Place> firstPlace,
        Optional<Place> secondPlace,
        boolean counted,
        String hint,
        Optional<Decision> decision) {
    /** Stands for the sitting as a whole. */
    public static final String WHOLE = "*";

    /** How two entries differ. */
    public enum Kind {
        /** Both are filled, otherwise. */
        DIFFERENT,
        /** Only the first table has an entry. */
        ONLY_FIRST,
        /** Only the second table has an entry. */
        ONLY_SECOND,
        /** Only the first table has the sitting. */
        SITTING_ONLY_FIRST,
        /** Only the second table has the sitting. */
        SITTING_ONLY_SECOND;

        /** The code in files. */
        public String code() {
            return name().toLowerCase(Locale.ROOT).replace('_', '-');
        }
    }

    /** Whether nobody has decided it yet. */
    public boolean open() {
        return decision.isEmpty();
    }

    Difference decided(Decision made) {
        return new Difference(
                sitting,
                column,
                kind,
                first,
                second,
                firstScores,
                secondScores,
                firstPlace,
                secondPlace,
                counted,
                hint,
                Optional.of(made));
    }
}
