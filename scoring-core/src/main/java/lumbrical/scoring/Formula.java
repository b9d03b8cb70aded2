package lumbrical.scoring;

import lumbrical.instrument.ItemRule;

/** An {@link ItemRule} ready to compute. */
abstract sealed class Formula {
    /**
     * The score.
     *
     * @param sum sum of the answered responses after reversing
     * @param n how many are answered, at least 1
     * @param k how many count
     */
    abstract double score(double sum, int n, int k);

    /** Standard error of the score with that sum of all items, or NaN. */
    double standardError(double sum) {
        return Double.NaN;
    }

    static Formula of(ItemRule rule) {
        if (rule instanceof ItemRule.Sum r) {
            return new Sum(r.dividedBy());
        } else if (rule instanceof ItemRule.Mean) {
            return new RescaledMean(0, 1);
        } else if (rule instanceof ItemRule.RescaledMean r) {
            return new RescaledMean(r.minus(), r.times());
        } else if (rule instanceof ItemRule.RescaledSum r) {
            return new RescaledSum(r.zeroAt(), r.hundredAt());
        }
        return new Table((ItemRule.Table) rule);
    }

    private static double fullSum(double sum, int n, int k) {
        return n == k ? sum : sum * k / n;
    }

    private static final class Sum extends Formula {
        private final double dividedBy;

        Sum(double dividedBy) {
            this.dividedBy = dividedBy;
        }

        @Override
        double score(double sum, int n, int k) {
            return fullSum(sum, n, k) / dividedBy;
        }
    }

    private static final class RescaledMean extends Formula {
        private final double minus;
        private final double times;

        RescaledMean(double minus, double times) {
            this.minus = minus;
            this.times = times;
        }

        @Override
        double score(double sum, int n, int k) {
            return (sum / n - minus) * times;
        }
    }

    private static final class RescaledSum extends Formula {
        private final double zeroAt;
        private final double width;

        RescaledSum(double zeroAt, double hundredAt) {
            this.zeroAt = zeroAt;
            this.width = hundredAt - zeroAt;
        }

        @Override
        double score(double sum, int n, int k) {
            return 100 * (fullSum(sum, n, k) - zeroAt) / width + 0.0; // no negative zero
        }
    }

    private static final class Table extends Formula {
        private final int lowestRaw;
        private final double[] scores;
        private final double[] errors;

        Table(ItemRule.Table table) {
            lowestRaw = table.rows().get(0).raw();
            scores =
                    table.rows().stream().mapToDouble(ItemRule.Table.Row::score).toArray();
            errors = table.rows().stream()
                    .mapToDouble(row -> row.standardError().orElse(Double.NaN))
                    .toArray();
        }

        @Override
        double score(double sum, int n, int k) {
            return scores[(int) sum - lowestRaw];
        }

        @Override
        double standardError(double sum) {
            return errors[(int) sum - lowestRaw];
        }
    }
}
