package lumbrical.change;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.number.Figures;
import lumbrical.number.Numbers;
import lumbrical.threshold.Reached;
import lumbrical.threshold.ThresholdSet;

/**
 * A follow-up score set against its baseline.
 *
 * @param baseline the baseline score that was compared; for paired items the mean over the items rated at both sittings
 * @param followUp the follow-up score that was compared
 * @param change follow-up minus baseline
 * @param improvement positive when the person got better, whichever way the scale runs
 * @param improvementBounds lowest and highest improvement under the bounds of both scores, also of a follow-up without a score
 * @param thresholds what it was set against
 * @param beyondError whether measurement error alone explains it; empty without both scores
 * @param reachesMcid whether it is as much as patients call important; empty without both scores
 * @param verdict both questions together
 * @param reason why there is no verdict, for {@link Verdict#NOT_ASSESSABLE}
 * @param gapsCouldChangeVerdict whether answers to unanswered items could have turned the verdict; empty without one
 * @param couldReach whether the baseline leaves room for the MCID; empty without a baseline score or MCID, and for scores of
 *     different versions
 * @param mcidsMet of the published MCIDs, how many are reached; empty without an improvement
 * @param acceptableState whether the follow-up's own score reaches the PASS; empty without a score or PASS
 */
public record Change(
        OptionalDouble baseline,
        OptionalDouble followUp,
        OptionalDouble change,
        OptionalDouble improvement,
        Optional<Range> improvementBounds,
        ThresholdSet thresholds,
        Optional<BeyondError> beyondError,
        Optional<ReachesMcid> reachesMcid,
        Verdict verdict,
        Optional<VerdictReason> reason,
        Optional<Boolean> gapsCouldChangeVerdict,
        Optional<Boolean> couldReach,
        Optional<McidsMet> mcidsMet,
        Optional<Boolean> acceptableState) {
    /** How far the last bits may carry a score beyond an end of its scale. */
    private static final double OF_LAST_BITS = 1e-6;

    /**
     * Of so many published MCIDs so many are reached.
     *
     * @param met how many are reached
     * @param published how many there are
     */
    public record McidsMet(int met, int published) {}

    /**
     * As many decimals as tell the improvement from the MCID and the MDC used, so that no two numbers print alike of which one is
     * larger.
     *
     * @param usual the decimals of the scale, if they suffice
     */
    public Figures figures(Figures usual) {
        List<Double> used = Stream.of(thresholds.mcid(), thresholds.mdc())
                .flatMap(Optional::stream)
                .flatMap(t -> t.value().stream().boxed())
                .toList();
        return improvement.isPresent() ? usual.tellingApart(Math.abs(improvement.getAsDouble()), used) : usual;
    }

    /**
     * The change between two scores, whatever their dates.
     *
     * @throws IllegalArgumentException if a score lies outside the scale's range, so that it is another scale's
     */
    public static Change of(Scale scale, ScorePair pair, ThresholdSet thresholds) {
        return of(scale, pair, thresholds, Set.of());
    }

    /**
     * The change between two scores. A change over a single paired item is set against the MDC of one item, where there is one.
     *
     * @param forScores what a change between two scores of the scale is set against
     * @param circumstances reasons against a verdict that lie outside the scores: {@link VerdictReason#TOO_EARLY}, or {@link
     *     VerdictReason#DIFFERENT_VERSIONS} where the pair does not know; scores of different versions give no numbers of a change
     * @throws IllegalArgumentException if a score lies outside the scale's range, so that it is another scale's
     */
    public static Change of(Scale scale, ScorePair pair, ThresholdSet forScores, Set<VerdictReason> circumstances) {
        ThresholdSet thresholds = forScores.forItems(pair.pairedItems());
        requireIn(scale, pair.followUp());
        pair.baseline().ifPresent(b -> requireIn(scale, b));
        boolean comparable = !pair.differentVersions() && !circumstances.contains(VerdictReason.DIFFERENT_VERSIONS);
        OptionalDouble before = pair.baseline().map(ScorePair.Measured::score).orElse(OptionalDouble.empty());
        OptionalDouble after = pair.followUp().score();
        boolean both = comparable && before.isPresent() && after.isPresent();
        OptionalDouble improvement = both
                ? Known.of(scale.better().improvement(before.getAsDouble(), after.getAsDouble()))
                : OptionalDouble.empty();
        Optional<Range> bounds = comparable && before.isPresent()
                ? pair.baseline().flatMap(b -> b.bounds()
                        .flatMap(from ->
                                pair.followUp().bounds().flatMap(to -> improvementBounds(scale.better(), from, to))))
                : Optional.empty();
        OptionalDouble mcid = value(thresholds.mcid());
        OptionalDouble mdc = value(thresholds.mdc());
        Set<VerdictReason> reasons = EnumSet.noneOf(VerdictReason.class);
        reasons.addAll(circumstances);
        if (before.isEmpty() && !pair.nothingInCommon()) {
            reasons.add(VerdictReason.NO_BASELINE);
        }
        if (after.isEmpty()) {
            reasons.add(VerdictReason.NOT_SCORED);
        }
        if (!comparable) {
            reasons.add(VerdictReason.DIFFERENT_VERSIONS);
        }
        if (mcid.isEmpty()) {
            reasons.add(VerdictReason.NO_MCID);
        }
        Optional<VerdictReason> reason = reasons.isEmpty()
                ? Optional.empty()
                : Known.of(reasons.iterator().next()); // an EnumSet goes in the order of the constants
        Optional<Verdict> verdict = reason.isEmpty() && both && mcid.isPresent()
                ? Optional.of(Verdict.of(improvement.getAsDouble(), mcid.getAsDouble(), mdc))
                : Optional.empty();
        return new Change(
                before,
                after,
                both ? Known.of(after.getAsDouble() - before.getAsDouble()) : OptionalDouble.empty(),
                improvement,
                bounds,
                thresholds,
                both ? Known.of(beyondError(improvement.getAsDouble(), mdc)) : Optional.empty(),
                both ? Known.of(reachesMcid(improvement.getAsDouble(), mcid)) : Optional.empty(),
                verdict.orElse(Verdict.NOT_ASSESSABLE),
                reason,
                verdict.flatMap(v -> bounds.flatMap(b -> Known.of(
                        Verdict.of(b.low(), mcid.orElse(0), mdc) != Verdict.of(b.high(), mcid.orElse(0), mdc)))),
                comparable && before.isPresent() && mcid.isPresent()
                        ? Known.of(Reached.meets(room(scale, before.getAsDouble()), mcid.getAsDouble()))
                        : Optional.empty(),
                both ? met(improvement.getAsDouble(), thresholds) : Optional.empty(),
                acceptable(scale.better(), pair.state(), value(thresholds.pass())));
    }

    private static void requireIn(Scale scale, ScorePair.Measured measured) {
        double score = measured.score().orElse(scale.range().low());
        if (score < scale.range().low() - OF_LAST_BITS || score > scale.range().high() + OF_LAST_BITS) {
            throw new IllegalArgumentException(
                    "A score of " + Numbers.format(score) + " lies outside the range of " + scale.id() + ", "
                            + Numbers.format(scale.range().low()) + " to "
                            + Numbers.format(scale.range().high()));
        }
    }

    private static OptionalDouble value(Optional<Threshold> threshold) {
        return threshold.map(Threshold::value).orElse(OptionalDouble.empty());
    }

    private static Optional<Range> improvementBounds(Direction better, Range before, Range after) {
        return better == Direction.LOWER
                ? Known.range(before.low() - after.high(), before.high() - after.low())
                : Known.range(after.low() - before.high(), after.high() - before.low());
    }

    private static double room(Scale scale, double baseline) {
        return scale.better() == Direction.LOWER
                ? baseline - scale.range().low()
                : scale.range().high() - baseline;
    }

    private static BeyondError beyondError(double improvement, OptionalDouble mdc) {
        if (mdc.isEmpty()) {
            return BeyondError.UNKNOWN;
        }
        return Reached.meets(Math.abs(improvement), mdc.getAsDouble()) ? BeyondError.YES : BeyondError.NO;
    }

    private static ReachesMcid reachesMcid(double improvement, OptionalDouble mcid) {
        if (mcid.isEmpty()) {
            return ReachesMcid.UNKNOWN;
        } else if (Reached.meets(improvement, mcid.getAsDouble())) {
            return ReachesMcid.IMPROVED;
        }
        return Reached.meets(-improvement, mcid.getAsDouble()) ? ReachesMcid.WORSENED : ReachesMcid.NO;
    }

    private static Optional<McidsMet> met(double improvement, ThresholdSet thresholds) {
        int met = 0;
        for (double mcid : thresholds.publishedMcids()) {
            met += Reached.meets(improvement, mcid) ? 1 : 0;
        }
        return Known.mcidsMet(met, thresholds.publishedMcids().size());
    }

    private static Optional<Boolean> acceptable(Direction better, OptionalDouble score, OptionalDouble pass) {
        if (score.isEmpty() || pass.isEmpty()) {
            return Optional.empty();
        }
        return Known.of(
                better == Direction.LOWER
                        ? Reached.meets(pass.getAsDouble(), score.getAsDouble())
                        : Reached.meets(score.getAsDouble(), pass.getAsDouble()));
    }
}
