package lumbrical.instrument;

import java.util.List;
import java.util.OptionalDouble;

/**
 * How a scale is computed from its items. Throughout, <i>n</i> is the number of answered items, <i>k</i> the number of items
 * that count, <i>sum</i> the sum of the answered responses after reversing, and the <i>full sum</i> is {@code sum x k / n}: the
 * sum in which the mean of the answered items stands in for each unanswered one, where the missing-item rule allows that.
 */
public sealed interface ItemRule {
    /** Who states the formula. */
    Provenance provenance();

    /**
     * {@code full sum / dividedBy}.
     *
     * @param dividedBy 1, or what the manual divides the sum by; greater than 0
     */
    record Sum(double dividedBy, Provenance provenance) implements ItemRule {
        /** @throws IllegalArgumentException if {@code dividedBy} is not greater than 0 */
        public Sum {
            if (!(dividedBy > 0)) {
                throw new IllegalArgumentException("A sum is divided by a number greater than 0, not " + dividedBy);
            }
        }
    }

    /** {@code sum / n}. */
    record Mean(Provenance provenance) implements ItemRule {}

    /** {@code (sum / n - minus) x times}. The division comes before the subtraction. */
    record RescaledMean(double minus, double times, Provenance provenance) implements ItemRule {
        /** @throws IllegalArgumentException if {@code times} is 0 */
        public RescaledMean {
            if (times == 0) {
                throw new IllegalArgumentException("A mean times 0 is no score");
            }
        }
    }

    /** {@code 100 x (full sum - zeroAt) / (hundredAt - zeroAt)}; {@code hundredAt < zeroAt} turns the scale round. */
    record RescaledSum(double zeroAt, double hundredAt, Provenance provenance) implements ItemRule {
        /** @throws IllegalArgumentException if both ends are equal */
        public RescaledSum {
            if (zeroAt == hundredAt) {
                throw new IllegalArgumentException("The sums that give 0 and 100 must differ");
            }
        }
    }

    /**
     * The row whose {@code raw} is the sum of all items; valid for complete answers only.
     *
     * @param rows consecutive whole raw sums, ascending, scores rising or falling throughout
     */
    record Table(List<Row> rows, Provenance provenance) implements ItemRule {
        /** @throws IllegalArgumentException if raw sums are not consecutive or scores neither rise nor fall throughout */
        public Table {
            rows = List.copyOf(rows);
            if (rows.size() < 2) {
                throw new IllegalArgumentException("A table needs at least two rows");
            }
            double direction = Math.signum(rows.get(1).score() - rows.get(0).score());
            for (int i = 1; i < rows.size(); i++) {
                Row before = rows.get(i - 1);
                Row row = rows.get(i);
                if (row.raw() != before.raw() + 1
                        || Math.signum(row.score() - before.score()) != direction
                        || direction == 0) {
                    throw new IllegalArgumentException("Table breaks at raw sum " + row.raw());
                }
            }
        }

        /**
         * One row.
         *
         * @param raw sum of all responses
         * @param score the score it stands for
         * @param standardError standard error of that score, where the table gives it
         */
        public record Row(int raw, double score, OptionalDouble standardError) {}
    }
}
