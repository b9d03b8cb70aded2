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
     * The score, unrounded.
     *
     * @param sum sum of the answered responses after reversing
     * @param answered how many are answered, at least 1
     * @param counted how many count, at least {@code answered}
     */
    double score(double sum, int answered, int counted);

    /** Whether {@link #standardError} gives one for every score. */
    default boolean hasStandardError() {
        return false;
    }

    /**
     * Standard error of the score with that sum of all items.
     *
     * @throws IllegalStateException if the rule gives none
     */
    default double standardError(double sum) {
        throw new IllegalStateException("The rule gives no standard error");
    }

    /** Whether the mean of the answered items is put in for unanswered ones before the formula, rather than by it. */
    boolean usesFullSum();

    /** What {@code kinds} makes of this kind of rule. */
    <T> T fold(Kinds<T> kinds);

    /**
     * A case for every kind of rule; a new kind does not compile until everyone who asks knows it.
     *
     * @param <T> what is made of a rule
     */
    interface Kinds<T> {
        /** A sum. */
        T sum(Sum rule);

        /** A mean. */
        T mean(Mean rule);

        /** A mean, moved and stretched. */
        T rescaledMean(RescaledMean rule);

        /** A sum put on 0 to 100. */
        T rescaledSum(RescaledSum rule);

        /** A conversion table. */
        T table(Table rule);
    }

    private static double fullSum(double sum, int answered, int counted) {
        return answered == counted ? sum : sum * counted / answered;
    }

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

        @Override
        public double score(double sum, int answered, int counted) {
            return fullSum(sum, answered, counted) / dividedBy;
        }

        @Override
        public boolean usesFullSum() {
            return true;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.sum(this);
        }
    }

    /** {@code sum / n}. */
    record Mean(Provenance provenance) implements ItemRule {
        @Override
        public double score(double sum, int answered, int counted) {
            return sum / answered;
        }

        @Override
        public boolean usesFullSum() {
            return false;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.mean(this);
        }
    }

    /** {@code (sum / n - minus) x times}. The division comes before the subtraction. */
    record RescaledMean(double minus, double times, Provenance provenance) implements ItemRule {
        /** @throws IllegalArgumentException if {@code times} is 0 */
        public RescaledMean {
            if (times == 0) {
                throw new IllegalArgumentException("A mean times 0 is no score");
            }
        }

        @Override
        public double score(double sum, int answered, int counted) {
            return (sum / answered - minus) * times;
        }

        @Override
        public boolean usesFullSum() {
            return false;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.rescaledMean(this);
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

        @Override
        public double score(double sum, int answered, int counted) {
            return 100 * (fullSum(sum, answered, counted) - zeroAt) / (hundredAt - zeroAt) + 0.0; // no negative zero
        }

        @Override
        public boolean usesFullSum() {
            return true;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.rescaledSum(this);
        }
    }

    /**
     * The row whose {@code raw} is the sum of all items; valid for complete answers only.
     *
     * @param rows consecutive whole raw sums, ascending, scores rising or falling throughout, standard errors in all or in none
     */
    record Table(List<Row> rows, Provenance provenance) implements ItemRule {
        /** @throws IllegalArgumentException if raw sums are not consecutive, scores neither rise nor fall throughout, or only some
         *     rows give a standard error */
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
            if (rows.stream()
                            .map(row -> row.standardError().isPresent())
                            .distinct()
                            .count()
                    > 1) {
                throw new IllegalArgumentException("A table gives a standard error in every row or in none");
            }
        }

        @Override
        public double score(double sum, int answered, int counted) {
            return row(sum).score();
        }

        @Override
        public boolean usesFullSum() {
            return true;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.table(this);
        }

        @Override
        public boolean hasStandardError() {
            return rows.get(0).standardError().isPresent();
        }

        @Override
        public double standardError(double sum) {
            return row(sum).standardError()
                    .orElseThrow(() -> new IllegalStateException("The table gives no standard error"));
        }

        private Row row(double sum) {
            return rows.get((int) sum - rows.get(0).raw());
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
