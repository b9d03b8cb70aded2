package lumbrical.scoring;

import java.util.Optional;
import lumbrical.instrument.Range;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;

/** What scoring one scale gave: a score, or the reason there is none. */
public sealed interface ScoreResult {
    /** The definition and version that gave it, such as {@code quickdash@1}. */
    String definition();

    /** The scale. */
    ScaleId scale();

    /** The hand asked about, or both averaged; empty for a scale asked of the person. */
    Optional<Side> hand();

    /** How many items count at this sitting; an item that the form lets the person skip does not. */
    int items();

    /** How many of them were answered with an allowed response. */
    int answered();

    /**
     * The lowest and highest score that any answers to the unanswered items could give; both equal the score when complete.
     * Empty when a response is not allowed or the rule is not used.
     */
    Optional<Range> bounds();

    /** {@code complete}, {@code with-missing} or {@code not-scored}. */
    Outcome outcome();

    /** The score, or empty. */
    default Optional<Scored> scored() {
        return this instanceof Scored s ? Optional.of(s) : Optional.empty();
    }

    /** The reason there is no score, or empty. */
    default Optional<Reason> reason() {
        return this instanceof NotScored n ? Optional.of(n.why()) : Optional.empty();
    }

    /**
     * A score, unrounded, in the scale's own units.
     *
     * @param value the score
     * @param range bounds under missing items; contains {@code value}
     * @param precision standard error and interval, where the scale has them
     */
    record Scored(
            String definition,
            ScaleId scale,
            Optional<Side> hand,
            double value,
            int items,
            int answered,
            Range range,
            Optional<Precision> precision)
            implements ScoreResult {
        /** @throws IllegalArgumentException if {@code value} is not finite */
        public Scored {
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("Score of " + scale + " is " + value);
            }
        }

        @Override
        public Optional<Range> bounds() {
            return Optional.of(range);
        }

        @Override
        public Outcome outcome() {
            return answered == items ? Outcome.COMPLETE : Outcome.WITH_MISSING;
        }
    }

    /**
     * No score.
     *
     * @param why the reason
     */
    record NotScored(
            String definition,
            ScaleId scale,
            Optional<Side> hand,
            Reason why,
            int items,
            int answered,
            Optional<Range> bounds)
            implements ScoreResult {
        @Override
        public Outcome outcome() {
            return Outcome.NOT_SCORED;
        }
    }

    /**
     * How sure a table score is.
     *
     * @param standardError standard error from the instrument's table
     */
    record Precision(double standardError) {
        /** The 97.5th percentile of the standard normal distribution, as the instruments' guides round it. */
        private static final double Z95 = 1.96;

        /** {@code score - 1.96 x standard error} to {@code score + 1.96 x standard error}. */
        public Range interval95(double score) {
            return new Range(score - Z95 * standardError, score + Z95 * standardError);
        }
    }

    /** How a scale fared. */
    enum Outcome {
        /** Every item that counts was answered. */
        COMPLETE("complete"),
        /** Scored under the instrument's missing-item rule. */
        WITH_MISSING("with-missing"),
        /** No score. */
        NOT_SCORED("not-scored");

        private final String code;

        Outcome(String code) {
            this.code = code;
        }

        /** The code in files. */
        public String code() {
            return code;
        }
    }
}
