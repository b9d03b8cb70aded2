package lumbrical.condition;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** What a text means in a vocabulary. */
public sealed interface ConditionMatch {
    /** A condition of the vocabulary. */
    record Known(Condition condition) implements ConditionMatch {}

    /**
     * None of the vocabulary.
     *
     * @param didYouMean the name that was probably meant
     */
    record Unknown(Optional<String> didYouMean) implements ConditionMatch {}

    /**
     * A code that fits several conditions and so stands for none.
     *
     * @param conditions at least two, in the order of the vocabulary
     */
    record Ambiguous(List<Condition> conditions) implements ConditionMatch {
        /** Copies the list. */
        public Ambiguous {
            conditions = List.copyOf(conditions);
        }
    }

    /** The value that the case at hand gives. */
    default <T> T fold(Function<Known, T> known, Function<Unknown, T> unknown, Function<Ambiguous, T> ambiguous) {
        if (this instanceof Known k) {
            return known.apply(k);
        }
        return this instanceof Unknown u ? unknown.apply(u) : ambiguous.apply((Ambiguous) this);
    }

    /** The condition, if the text means one. */
    default Optional<Condition> found() {
        return fold(k -> Optional.of(k.condition()), u -> Optional.empty(), a -> Optional.empty());
    }
}
