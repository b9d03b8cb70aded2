package lumbrical.instrument;

import java.util.Locale;
import java.util.Optional;

/** What unanswered items do to a scale. */
public sealed interface MissingRule {
    /** Who states the rule. */
    StatedBy statedBy();

    /** How sure that is. */
    Provenance provenance();

    /** A sentence a user should read. */
    Optional<String> note();

    /** Every item must be answered. */
    record NoneAllowed(StatedBy statedBy, Provenance provenance, Optional<String> note) implements MissingRule {}

    /**
     * With enough answered items their mean, after reversing, stands in for each unanswered one; else there is no score.
     *
     * @param minimum how many are enough
     */
    record MeanOfAnswered(Minimum minimum, StatedBy statedBy, Provenance provenance, Optional<String> note)
            implements MissingRule {}

    /**
     * Items that the person did not name do not count and are not missing; the score is over the rated ones.
     *
     * @param minimum how many must be rated
     */
    record RatedOnly(Minimum minimum, StatedBy statedBy, Provenance provenance, Optional<String> note)
            implements MissingRule {}

    /** Where the rule stands. */
    enum StatedBy {
        /** The developers' manual or scoring sheet. */
        MANUAL,
        /** A paper that is not the manual. */
        PAPER,
        /** Nobody we know of: a convention of this project. */
        CONVENTION;

        /** The word used in definitions. */
        public String code() {
            return name().toLowerCase(Locale.ROOT);
        }
    }

    /** The fewest answered items with which a scale is scored. Whole numbers only, so a limit never depends on rounding. */
    sealed interface Minimum {
        /** The fewest answered items out of {@code items}, at least 1. */
        int required(int items);

        /** A number of items, 1 or more. */
        record Answered(int answered) implements Minimum {
            /** @throws IllegalArgumentException if {@code answered < 1} */
            public Answered {
                if (answered < 1) {
                    throw new IllegalArgumentException("At least one item must be answered");
                }
            }

            @Override
            public int required(int items) {
                return answered;
            }
        }

        /** At least this share of the items, 1 to 100 percent. */
        record AtLeastPercent(int percent) implements Minimum {
            /** @throws IllegalArgumentException if {@code percent} is not from 1 to 100 */
            public AtLeastPercent {
                checkPercent(percent, 1, 100);
            }

            @Override
            public int required(int items) {
                return Math.max(1, (items * percent + 99) / 100);
            }
        }

        /** More than this share of the items, 0 to 99 percent: exactly that share is not enough. */
        record MoreThanPercent(int percent) implements Minimum {
            /** @throws IllegalArgumentException if {@code percent} is not from 0 to 99 */
            public MoreThanPercent {
                checkPercent(percent, 0, 99);
            }

            @Override
            public int required(int items) {
                return items * percent / 100 + 1;
            }
        }

        private static void checkPercent(int percent, int low, int high) {
            if (percent < low || percent > high) {
                throw new IllegalArgumentException(percent + " percent: must be from " + low + " to " + high);
            }
        }
    }
}
