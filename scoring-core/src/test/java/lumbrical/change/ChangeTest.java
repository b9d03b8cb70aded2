package lumbrical.change;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lumbrical.instrument.Direction;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.threshold.ExampleThreshold;
import lumbrical.threshold.ThresholdSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Two scores, a scale and thresholds, without a clinic: section 7 of the formats, worked by hand, thresholds invented. */
class ChangeTest {
    private static Scale scale(Direction better) {
        return scale(better, 0, 100);
    }

    private static Scale scale(Direction better, double lowest, double highest) {
        ExampleInstrument made = ExampleInstrument.called("level")
                .items(1, ExampleInstrument.mark(lowest, highest))
                .scale(
                        "total",
                        new ItemRule.Mean(ExampleInstrument.PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(lowest, highest));
        return (better == Direction.LOWER ? made : made.higherIsBetter())
                .build()
                .scales()
                .get(0);
    }

    private static Direction direction(String better) {
        return better.equals("lower") ? Direction.LOWER : Direction.HIGHER;
    }

    private static Optional<Threshold> threshold(Threshold.Kind kind, Double value) {
        return Optional.ofNullable(value)
                .map(v -> ExampleThreshold.called(kind.code(), kind).value(v).build());
    }

    private static ThresholdSet thresholds(Double mcid, Double mdc, Double pass, Double... published) {
        return new ThresholdSet(
                threshold(Threshold.Kind.MCID, mcid),
                threshold(Threshold.Kind.MDC, mdc),
                threshold(Threshold.Kind.PASS, pass),
                List.of(published));
    }

    private static ScorePair.Measured measured(Double low, Double score, Double high) {
        return new ScorePair.Measured(
                score == null ? OptionalDouble.empty() : OptionalDouble.of(score),
                low == null ? Optional.empty() : Optional.of(new Range(low, high)));
    }

    private static ScorePair.Measured exactly(double score) {
        return measured(score, score, score);
    }

    private static ScorePair pair(double before, double after) {
        return new ScorePair(Optional.of(exactly(before)), exactly(after), false);
    }

    @ParameterizedTest(name = "{0}: {7}")
    @CsvFileSource(resources = "verdicts.csv", useHeadersInDisplayName = true)
    void bothQuestionsAndTheVerdict(
            String id,
            Double mcid,
            Double mdc,
            double improvement,
            String beyondError,
            String reachesMcid,
            String verdict,
            String why) {
        for (Direction better : Direction.values()) {
            double change = better == Direction.LOWER ? -improvement : improvement;
            Change judged = Change.of(scale(better), pair(50, 50 + change), thresholds(mcid, mdc, null));
            String what = id + " " + better;
            assertEquals(OptionalDouble.of(50), judged.baseline(), what);
            assertEquals(OptionalDouble.of(50 + change), judged.followUp(), what);
            assertEquals(change, judged.change().orElseThrow(), 1e-12, what);
            assertEquals(improvement, judged.improvement().orElseThrow(), 1e-12, what);
            assertEquals(Optional.of(beyondError), judged.beyondError().map(BeyondError::code), what);
            assertEquals(Optional.of(reachesMcid), judged.reachesMcid().map(ReachesMcid::code), what);
            assertEquals(verdict, judged.verdict().code(), what);
            assertEquals(mcid == null ? Optional.of(VerdictReason.NO_MCID) : Optional.empty(), judged.reason(), what);
            assertEquals(mcid == null ? Optional.empty() : Optional.of(false), judged.gapsCouldChangeVerdict(), what);
            assertEquals(thresholds(mcid, mdc, null), judged.thresholds(), what);
        }
    }

    @ParameterizedTest(name = "{0}: {14}")
    @CsvFileSource(resources = "gaps.csv", useHeadersInDisplayName = true)
    void whatUnansweredItemsCouldDo(
            String id,
            String better,
            Double beforeLow,
            Double before,
            Double beforeHigh,
            Double afterLow,
            Double after,
            Double afterHigh,
            Double mcid,
            Double mdc,
            Double lowest,
            Double highest,
            String verdict,
            String couldChange,
            String why) {
        ScorePair pair = new ScorePair(
                Optional.of(measured(beforeLow, before, beforeHigh)), measured(afterLow, after, afterHigh), false);
        Change judged = Change.of(scale(direction(better)), pair, thresholds(mcid, mdc, null));
        assertEquals(lowest != null, judged.improvementBounds().isPresent(), id);
        judged.improvementBounds().ifPresent(bounds -> {
            assertEquals(lowest, bounds.low(), 1e-12, id);
            assertEquals(highest, bounds.high(), 1e-12, id);
        });
        assertEquals(verdict, judged.verdict().code(), id);
        assertEquals(Optional.ofNullable(couldChange).map("yes"::equals), judged.gapsCouldChangeVerdict(), id);
    }

    @ParameterizedTest
    @CsvSource({
        // better, lowest and highest of the scale, baseline, MCID; whether the baseline leaves room for it
        "lower, 0, 100, 20.1, 20, true",
        "lower, 0, 100, 20, 20, true",
        "lower, 0, 100, 19.9, 20, false",
        "lower, 0, 100, 0, 20, false",
        "higher, 0, 100, 79.9, 20, true",
        "higher, 0, 100, 80, 20, true",
        "higher, 0, 100, 80.1, 20, false",
        "lower, 1, 5, 2.5, 1.5, true",
        "lower, 1, 5, 2.4, 1.5, false",
        "higher, 1, 5, 3.5, 1.5, true",
        "higher, 1, 5, 3.6, 1.5, false",
        "lower, 0, 100, 50, , ",
        "lower, 0, 100, , 20, "
    })
    void theRoomIsCountedFromTheBestEndOfTheScale(
            String better, double lowest, double highest, Double before, Double mcid, Boolean couldReach) {
        Optional<ScorePair.Measured> baseline = Optional.ofNullable(before).map(ChangeTest::exactly);
        Change judged = Change.of(
                scale(direction(better), lowest, highest),
                new ScorePair(baseline, exactly(3), false),
                thresholds(mcid, null, null));
        assertEquals(Optional.ofNullable(couldReach), judged.couldReach());
    }

    @ParameterizedTest
    @CsvSource({
        // better, follow-up, PASS; whether the state is acceptable
        "lower, 39.9, 40, true",
        "lower, 40, 40, true",
        "lower, 40.1, 40, false",
        "lower, 40.0000000005, 40, true", // equal is within 0.000000001
        "lower, 40.000000002, 40, false",
        "higher, 40.1, 40, true",
        "higher, 40, 40, true",
        "higher, 39.9, 40, false",
        "lower, 10, , ",
        "lower, , 40, "
    })
    void theStateIsSetAgainstThePassAlone(String better, Double after, Double pass, Boolean acceptable) {
        ScorePair.Measured followUp = after == null ? measured(0.0, null, 100.0) : exactly(after);
        Change withBaseline = Change.of(
                scale(direction(better)),
                new ScorePair(Optional.of(exactly(50)), followUp, false),
                thresholds(20.0, null, pass));
        Change without = Change.of(
                scale(direction(better)),
                new ScorePair(Optional.empty(), followUp, false),
                thresholds(null, null, pass));
        assertEquals(Optional.ofNullable(acceptable), withBaseline.acceptableState());
        assertEquals(Optional.ofNullable(acceptable), without.acceptableState());
    }

    @ParameterizedTest
    @CsvSource({
        // improvement; how many of 5, 20 and 40 it reaches
        "-50, 0",
        "4.9, 0",
        "5, 1",
        "19.9, 1",
        "20, 2",
        "39.9, 2",
        "40, 3",
        "50, 3"
    })
    void ofThePublishedMcidsSoManyAreReached(double improvement, int met) {
        Change judged = Change.of(
                scale(Direction.LOWER), pair(50, 50 - improvement), thresholds(null, null, null, 5.0, 20.0, 40.0));
        assertEquals(Optional.of(new Change.McidsMet(met, 3)), judged.mcidsMet());
    }

    @Test
    void withoutPublishedMcidsNoneIsReached() {
        Change judged = Change.of(scale(Direction.LOWER), pair(80, 20), thresholds(20.0, null, null));
        assertEquals(Optional.of(new Change.McidsMet(0, 0)), judged.mcidsMet());
    }

    /** All ways in which a verdict can be missing, alone and together: the first of section 7's order is given. */
    @ParameterizedTest
    @ValueSource(
            ints = {
                0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27,
                28, 29, 30, 31
            })
    void theFirstReasonThatHoldsIsGiven(int which) {
        boolean noBaseline = (which & 1) > 0;
        boolean notScored = (which & 2) > 0;
        boolean versions = (which & 4) > 0;
        boolean noMcid = (which & 8) > 0;
        boolean early = (which & 16) > 0;
        Set<VerdictReason> circumstances = EnumSet.noneOf(VerdictReason.class);
        if (versions) {
            circumstances.add(VerdictReason.DIFFERENT_VERSIONS);
        }
        if (early) {
            circumstances.add(VerdictReason.TOO_EARLY);
        }
        Change judged = Change.of(
                scale(Direction.LOWER),
                new ScorePair(
                        noBaseline ? Optional.empty() : Optional.of(exactly(80)),
                        notScored ? measured(0.0, null, 100.0) : exactly(40),
                        false),
                thresholds(noMcid ? null : 20.0, 10.0, null, 20.0),
                circumstances);
        String first = noBaseline
                ? "no-baseline"
                : notScored
                        ? "not-scored"
                        : versions ? "different-versions" : noMcid ? "no-mcid" : early ? "too-early" : "none";
        assertEquals(first, judged.reason().map(VerdictReason::code).orElse("none"));
        assertEquals(
                first.equals("none") ? "important-improvement" : "not-assessable",
                judged.verdict().code());
        assertEquals(first.equals("none") ? Optional.of(false) : Optional.empty(), judged.gapsCouldChangeVerdict());
        // both questions are answered wherever both scores are, whatever the verdict, but never over two versions
        boolean numbers = !noBaseline && !notScored && !versions;
        assertEquals(numbers ? Optional.of(BeyondError.YES) : Optional.empty(), judged.beyondError());
        assertEquals(
                numbers ? Optional.of(noMcid ? ReachesMcid.UNKNOWN : ReachesMcid.IMPROVED) : Optional.empty(),
                judged.reachesMcid());
        assertEquals(numbers ? OptionalDouble.of(40) : OptionalDouble.empty(), judged.improvement());
        assertEquals(numbers ? OptionalDouble.of(-40) : OptionalDouble.empty(), judged.change());
        assertEquals(numbers ? Optional.of(new Change.McidsMet(1, 1)) : Optional.empty(), judged.mcidsMet());
        assertEquals(noBaseline || noMcid || versions ? Optional.empty() : Optional.of(true), judged.couldReach());
    }

    @Test
    void scoresOfTwoVersionsAreNeverOneChange() {
        ScorePair pair = new ScorePair(Optional.of(exactly(80)), exactly(30), false, true, OptionalDouble.of(30));
        Change judged = Change.of(scale(Direction.LOWER), pair, thresholds(20.0, 10.0, 40.0, 20.0));
        assertEquals(Verdict.NOT_ASSESSABLE, judged.verdict());
        assertEquals(Optional.of(VerdictReason.DIFFERENT_VERSIONS), judged.reason());
        assertEquals(OptionalDouble.of(80), judged.baseline());
        assertEquals(OptionalDouble.of(30), judged.followUp());
        assertEquals(OptionalDouble.empty(), judged.change());
        assertEquals(OptionalDouble.empty(), judged.improvement());
        assertEquals(Optional.empty(), judged.improvementBounds());
        assertEquals(Optional.empty(), judged.beyondError());
        assertEquals(Optional.empty(), judged.reachesMcid());
        assertEquals(Optional.empty(), judged.gapsCouldChangeVerdict());
        assertEquals(Optional.empty(), judged.couldReach());
        assertEquals(Optional.empty(), judged.mcidsMet());
        assertEquals(Optional.of(true), judged.acceptableState(), "the state needs no baseline");
    }

    /** No item rated at both sittings: both scores blank, and not-scored although there is a baseline sitting. */
    @Test
    void nothingInCommonIsNotScored() {
        ScorePair.Measured nothing = measured(null, null, null);
        Change judged = Change.of(
                scale(Direction.LOWER),
                new ScorePair(Optional.of(nothing), nothing, true, false, OptionalDouble.of(30)),
                thresholds(20.0, 10.0, 40.0));
        assertEquals(Optional.of(VerdictReason.NOT_SCORED), judged.reason());
        assertEquals(OptionalDouble.empty(), judged.baseline());
        assertEquals(OptionalDouble.empty(), judged.followUp());
        assertEquals(Optional.empty(), judged.couldReach());
        assertEquals(Optional.of(true), judged.acceptableState());
    }

    /** A larger improvement is never a worse verdict, and worsening mirrors improvement: ours. */
    @ParameterizedTest
    @EnumSource(Direction.class)
    void theVerdictsAreOrderedFromBestToWorst(Direction better) {
        int before = -1;
        for (int improvement = 50; improvement >= -50; improvement--) {
            double after = better == Direction.LOWER ? 50 - improvement : 50 + improvement;
            Verdict verdict = Change.of(scale(better), pair(50, after), thresholds(20.0, 10.0, null))
                    .verdict();
            Verdict mirror = Change.of(scale(better), pair(after, 50), thresholds(20.0, 10.0, null))
                    .verdict();
            assertEquals(Verdict.IMPORTANT_WORSENING.ordinal(), verdict.ordinal() + mirror.ordinal());
            assertEquals(true, verdict.ordinal() >= before);
            before = verdict.ordinal();
        }
        assertEquals(Verdict.IMPORTANT_WORSENING.ordinal(), before);
    }
}
