package lumbrical.statistics;

import java.util.Optional;
import java.util.function.Function;

/**
 * What an estimation gave: a value, or the reason it cannot be estimated.
 *
 * @param <T> what is estimated
 */
public sealed interface Estimate<T> {
    /**
     * An estimate.
     *
     * @param value the estimate; finite if it is a number
     */
    record Value<T>(T value) implements Estimate<T> {
        /** @throws IllegalArgumentException if {@code value} is a number that is not finite */
        public Value {
            if (value instanceof Double number && !Double.isFinite(number)) {
                throw new IllegalArgumentException(number + " is no estimate");
            }
        }
    }

    /**
     * No estimate.
     *
     * @param reason why not
     */
    record NotEstimable<T>(Reason reason) implements Estimate<T> {}

    /** Why something cannot be estimated. Codes are written to files: add, never rename. */
    enum Reason {
        NO_VALUES("no-values", "there is nobody"),
        ONE_VALUE("one-value", "there is only one, and one has no spread"),
        TOO_FEW_VALUES("too-few-values", "there are no more values than coefficients"),
        NO_SPREAD("no-spread", "the values do not differ"),
        ONE_PATIENT("one-patient", "all values are of one patient"),
        COLLINEAR("collinear", "the groups and the baseline scores cannot be told apart"),
        NOBODY_AT_FIRST_STEP("nobody-at-first-step", "nobody rated the anchor's first step up"),
        NOBODY_UNCHANGED("nobody-unchanged", "nobody rated the anchor unchanged"),
        EVERYONE_IMPROVED("everyone-improved", "everyone improved by the anchor"),
        NOBODY_IMPROVED("nobody-improved", "nobody improved by the anchor"),
        PERFECT_SEPARATION("perfect-separation", "a threshold separates the improved from the others without overlap"),
        ANCHOR_REVERSED("anchor-reversed", "those improved by the anchor did not improve more by the score"),
        TOO_FEW_ITEMS("too-few-items", "there are too few items"),
        TOO_FEW_RESAMPLES("too-few-resamples", "too many resamples of the patients gave no estimate"),
        FORMULA_UNDEFINED("formula-undefined", "the formula has no solution for these values");

        private final String code;
        private final String explanation;

        Reason(String code, String explanation) {
            this.code = code;
            this.explanation = explanation;
        }

        /** The code in files. */
        public String code() {
            return code;
        }

        /** A clause that goes on from 'not estimable: '. */
        public String explanation() {
            return explanation;
        }
    }

    /** @throws IllegalArgumentException if {@code value} is a number that is not finite */
    static <T> Estimate<T> of(T value) {
        return new Value<>(value);
    }

    /** No estimate, for {@code reason}. */
    static <T> Estimate<T> none(Reason reason) {
        return new NotEstimable<>(reason);
    }

    /** What {@code value} makes of the estimate, or {@code none} of the reason. */
    default <R> R fold(Function<? super T, ? extends R> value, Function<Reason, ? extends R> none) {
        return this instanceof Value<T> v ? value.apply(v.value()) : none.apply(((NotEstimable<T>) this).reason());
    }

    /** The estimate as {@code function} turns it; a reason stays. */
    default <R> Estimate<R> map(Function<? super T, ? extends R> function) {
        return fold(v -> of(function.apply(v)), Estimate::none);
    }

    /** The estimate that {@code function} makes of this one; a reason stays. */
    default <R> Estimate<R> flatMap(Function<? super T, Estimate<R>> function) {
        return fold(function, Estimate::none);
    }

    /** The estimate, or empty if there is none. */
    default Optional<T> optional() {
        return fold(Optional::of, reason -> Optional.empty());
    }

    /** Why there is no estimate, or empty if there is one. */
    default Optional<Reason> whyNot() {
        return fold(value -> Optional.empty(), Optional::of);
    }
}
