package lumbrical.cohort;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;

/**
 * What is asked of a clinic's results.
 *
 * @param by groupings: a column of the episodes each, or two and more joined by {@code +}
 * @param compare the two groups to be compared
 * @param anchor id of the rating of change from which own MCIDs are read
 * @param retestDays most days between two sittings of a stable patient; empty = no retest is looked for
 * @param oneEpisodeEach whether of each patient only the first episode within a group counts
 * @param smallestGroup no percentage of fewer
 * @param seed of the resamples; the same seed gives the same intervals
 * @param resamples how many
 * @param itemAgreement whether it is asked how well the items of a scale agree with each other
 */
public record CohortRequest(
        List<String> by,
        Optional<Compare> compare,
        Optional<String> anchor,
        OptionalInt retestDays,
        boolean oneEpisodeEach,
        int smallestGroup,
        long seed,
        int resamples,
        boolean itemAgreement) {
    /** By condition; nothing compared, no anchor, no retest; no percentage of fewer than five. */
    public static final CohortRequest BY_CONDITION = builder().build();

    /** @throws IllegalArgumentException if {@code smallestGroup} or {@code resamples} is under 1, or {@code retestDays} under 0 */
    public CohortRequest {
        by = List.copyOf(by);
        if (smallestGroup < 1 || resamples < 1 || retestDays.orElse(0) < 0) {
            throw new IllegalArgumentException("At least one in a group and one resample, and no negative days: "
                    + smallestGroup + ", " + resamples + ", " + retestDays);
        }
    }

    /** A request that also asks how well the items agree. */
    public CohortRequest(
            List<String> by,
            Optional<Compare> compare,
            Optional<String> anchor,
            OptionalInt retestDays,
            boolean oneEpisodeEach,
            int smallestGroup,
            long seed,
            int resamples) {
        this(by, compare, anchor, retestDays, oneEpisodeEach, smallestGroup, seed, resamples, true);
    }

    /**
     * Two groups of episodes.
     *
     * @param column a column of the episodes
     * @param a value of the first group, as its label, as written in the episodes, or a condition's id
     * @param b value of the second
     */
    public record Compare(String column, String a, String b) {}

    /** A request that asks by condition. */
    public static Builder builder() {
        return new Builder();
    }

    /** The parts of a request. */
    public static final class Builder {
        private List<String> by = List.of("condition");
        private Optional<Compare> compare = Optional.empty();
        private Optional<String> anchor = Optional.empty();
        private OptionalInt retestDays = OptionalInt.empty();
        private boolean oneEpisodeEach;
        private int smallestGroup = 5;
        private long seed = 1;
        private int resamples = 2000;
        private boolean itemAgreement = true;

        private Builder() {}

        /** The groupings. */
        public Builder by(List<String> groupings) {
            by = List.copyOf(groupings);
            return this;
        }

        /** The two groups to be compared. */
        public Builder compare(Optional<Compare> two) {
            compare = two;
            return this;
        }

        /** The rating of change. */
        public Builder anchor(Optional<String> instrument) {
            anchor = instrument;
            return this;
        }

        /** Most days between the two sittings of a retest. */
        public Builder retestDays(OptionalInt days) {
            retestDays = days;
            return this;
        }

        /** Whether only the first episode of each patient counts. */
        public Builder oneEpisodeEach(boolean only) {
            oneEpisodeEach = only;
            return this;
        }

        /** No percentage of fewer; 5 unless said. */
        public Builder smallestGroup(int n) {
            smallestGroup = n;
            return this;
        }

        /** Seed of the resamples; 1 unless said. */
        public Builder seed(long number) {
            seed = number;
            return this;
        }

        /** How many resamples; 2,000 unless said. */
        public Builder resamples(int number) {
            resamples = number;
            return this;
        }

        /** Whether it is asked how well the items of a scale agree with each other; yes unless said. */
        public Builder itemAgreement(boolean asked) {
            itemAgreement = asked;
            return this;
        }

        /**
         * The request.
         *
         * @throws IllegalArgumentException as {@link CohortRequest}
         */
        public CohortRequest build() {
            return new CohortRequest(
                    by, compare, anchor, retestDays, oneEpisodeEach, smallestGroup, seed, resamples, itemAgreement);
        }
    }
}
