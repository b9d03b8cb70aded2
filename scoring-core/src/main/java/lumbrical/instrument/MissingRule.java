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

    /**
     * The fewest answered items with which a scale of {@code items} items is scored, at least 1.
     *
     * @param standInOff whether nothing may stand in for an unanswered item
     */
    int required(int items, boolean standInOff);

    /** Whether unanswered items do not count at all, instead of being missing. */
    default boolean ratedOnly() {
        return false;
    }

    /** What {@code kinds} makes of this kind of rule. */
    <T> T fold(Kinds<T> kinds);

    /**
     * A case for every kind of rule.
     *
     * @param <T> what is made of a rule
     */
    interface Kinds<T> {
        /** All must be answered. */
        T noneAllowed(NoneAllowed rule);

        /** The mean stands in. */
        T meanOfAnswered(MeanOfAnswered rule);

        /** What is not rated does not count. */
        T ratedOnly(RatedOnly rule);
    }

    /** Every item must be answered. */
    record NoneAllowed(StatedBy statedBy, Provenance provenance, Optional<String> note) implements MissingRule {
        @Override
        public int required(int items, boolean standInOff) {
            return items;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.noneAllowed(this);
        }
    }

    /**
     * With enough answered items their mean, after reversing, stands in for each unanswered one; else there is no score.
     *
     * @param minimum how many are enough
     */
    record MeanOfAnswered(Minimum minimum, StatedBy statedBy, Provenance provenance, Optional<String> note)
            implements MissingRule {
        @Override
        public int required(int items, boolean standInOff) {
            return standInOff ? items : Math.min(items, minimum.required(items));
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.meanOfAnswered(this);
        }
    }

    /**
     * Items that the person did not name do not count and are not missing; the score is over the rated ones.
     *
     * @param minimum how many must be rated
     */
    record RatedOnly(Minimum minimum, StatedBy statedBy, Provenance provenance, Optional<String> note)
            implements MissingRule {
        @Override
        public int required(int items, boolean standInOff) {
            return minimum.required(items);
        }

        @Override
        public boolean ratedOnly() {
            return true;
        }

        @Override
        public <T> T fold(Kinds<T> kinds) {
            return kinds.ratedOnly(this);
        }
    }

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

        /** The limit as a share or a number, in words: {@code at least 10}, {@code at least 50 %}, {@code more than 50 %}. */
        String inWords();

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

            @Override
            public String inWords() {
                return "at least " + answered;
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

            @Override
            public String inWords() {
                return "at least " + percent + " %";
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

            @Override
            public String inWords() {
                return "more than " + percent + " %";
            }
        }

        private static void checkPercent(int percent, int low, int high) {
            if (percent < low || percent > high) {
                throw new IllegalArgumentException(percent + " percent: must be from " + low + " to " + high);
            }
        }
    }
}
