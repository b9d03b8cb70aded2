package lumbrical.change;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.instrument.Range;
import lumbrical.number.Memo;

/** Answers of closed sets, and numbers, as something that is there: one object for each answer, for a clinic holds as many as it has changes. */
final class Known {
    private static final Optional<Boolean> YES = Optional.of(true);
    private static final Optional<Boolean> NO = Optional.of(false);
    private static final Map<BeyondError, Optional<BeyondError>> BEYOND_ERROR = each(BeyondError.values());
    private static final Map<ReachesMcid, Optional<ReachesMcid>> REACHES_MCID = each(ReachesMcid.values());
    private static final Map<VerdictReason, Optional<VerdictReason>> REASONS = each(VerdictReason.values());

    /** Of how many published MCIDs at most the counts are kept; no scale has as many. */
    private static final int PUBLISHED = 40;

    private static final List<List<Optional<Change.McidsMet>>> MCIDS_MET = IntStream.range(0, PUBLISHED)
            .mapToObj(published -> IntStream.rangeClosed(0, published)
                    .mapToObj(met -> Optional.of(new Change.McidsMet(met, published)))
                    .toList())
            .toList();

    /** A scale has hundreds of scores and pairs of scores. */
    private static final int NUMBER_BITS = 14;

    private static final Memo<Double, OptionalDouble> NUMBERS = new Memo<>(NUMBER_BITS, OptionalDouble::of);
    private static final Memo<Range, Optional<Range>> RANGES = new Memo<>(NUMBER_BITS, Optional::of);

    private Known() {}

    static OptionalDouble of(double number) {
        return NUMBERS.of(number);
    }

    static Optional<Range> range(double low, double high) {
        return RANGES.of(new Range(low, high));
    }

    private static <T> Map<T, Optional<T>> each(T[] answers) {
        return Stream.of(answers).collect(Collectors.toUnmodifiableMap(Function.identity(), Optional::of));
    }

    static Optional<Boolean> of(boolean yes) {
        return yes ? YES : NO;
    }

    static Optional<BeyondError> of(BeyondError answer) {
        return BEYOND_ERROR.getOrDefault(answer, Optional.of(answer));
    }

    static Optional<ReachesMcid> of(ReachesMcid answer) {
        return REACHES_MCID.getOrDefault(answer, Optional.of(answer));
    }

    static Optional<VerdictReason> of(VerdictReason reason) {
        return REASONS.getOrDefault(reason, Optional.of(reason));
    }

    static Optional<Change.McidsMet> mcidsMet(int met, int published) {
        return published < PUBLISHED
                ? MCIDS_MET.get(published).get(met)
                : Optional.of(new Change.McidsMet(met, published));
    }
}
