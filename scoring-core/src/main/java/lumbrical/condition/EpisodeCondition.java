package lumbrical.condition;

import java.util.Objects;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Supplier;

/** What the condition of an episode is: one of the vocabulary, a text of its own, or not stated. */
public sealed interface EpisodeCondition {
    /** No condition is stated. */
    EpisodeCondition NONE = new NotStated();

    /** A condition of the vocabulary. */
    record Known(Condition condition) implements EpisodeCondition {
        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Known known && Objects.equals(condition, known.condition);
        }

        @Override
        public int hashCode() {
            return condition.hashCode();
        }
    }

    /**
     * A text that the vocabulary does not know. It forms a group of its own and gets the general thresholds.
     *
     * @param text as written, with repeated blanks as one
     */
    record OwnText(String text) implements EpisodeCondition {
        /** Two texts that differ in case alone are the same condition. */
        @Override
        public boolean equals(Object other) {
            return other instanceof OwnText own && Names.same(own.text, text);
        }

        @Override
        public int hashCode() {
            return Names.normal(text).hashCode();
        }
    }

    /** Nothing is stated. */
    record NotStated() implements EpisodeCondition {}

    /** The value that the case at hand gives. */
    default <T> T fold(Function<Condition, T> known, Function<String, T> ownText, Supplier<T> notStated) {
        if (this instanceof Known k) {
            return known.apply(k.condition());
        }
        return this instanceof OwnText own ? ownText.apply(own.text()) : notStated.get();
    }

    /** The name by which results are grouped: the condition's label, or the text; empty if nothing is stated. */
    default Optional<String> label() {
        return fold(c -> Optional.of(c.label()), Optional::of, Optional::empty);
    }

    /** Whether this is the condition called {@code name}: by id, label or synonym, or by the text itself. */
    default boolean isCalled(String name) {
        return fold(c -> c.isCalled(name), text -> Names.same(text, name), () -> false);
    }
}
