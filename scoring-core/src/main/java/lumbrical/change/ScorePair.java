package lumbrical.change;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;

/**
 * A scale at baseline and at follow-up, ready to be compared.
 *
 * @param baseline at baseline; empty = there is no baseline sitting
 * @param followUp at follow-up
 * @param nothingInCommon whether items are compared and none was rated at both sittings
 * @param differentVersions whether the two sittings used different versions of the definition
 * @param pairedItems over how many items, rated at both sittings, the two means are taken; empty where scores are compared
 * @param state the score of the follow-up by itself, which tells the person's state; where items are compared it may differ from
 *     the one that is compared
 */
public record ScorePair(
        Optional<Measured> baseline,
        Measured followUp,
        boolean nothingInCommon,
        boolean differentVersions,
        OptionalInt pairedItems,
        OptionalDouble state) {
    /** Scores of one version of a definition, where the follow-up's score is the one that is compared. */
    public ScorePair(Optional<Measured> baseline, Measured followUp, boolean nothingInCommon) {
        this(baseline, followUp, nothingInCommon, false, followUp.score());
    }

    /** As the canonical one, where scores are compared. */
    public ScorePair(
            Optional<Measured> baseline,
            Measured followUp,
            boolean nothingInCommon,
            boolean differentVersions,
            OptionalDouble state) {
        this(baseline, followUp, nothingInCommon, differentVersions, OptionalInt.empty(), state);
    }

    /**
     * What a sitting gave for a scale.
     *
     * @param score the score that is compared, if there is one
     * @param bounds lowest and highest score that any answers to unanswered items could give, where known
     */
    public record Measured(OptionalDouble score, Optional<Range> bounds) {
        /** A result of scoring. */
        public static Measured of(ScoreResult result) {
            return new Measured(
                    result.scored().map(s -> Known.of(s.value())).orElse(OptionalDouble.empty()), result.bounds());
        }

        private static Measured exactly(double score) {
            return new Measured(OptionalDouble.of(score), Optional.of(new Range(score, score)));
        }

        private static final Measured NOTHING = new Measured(OptionalDouble.empty(), Optional.empty());
    }

    /**
     * Two results of scoring one scale of an instrument that compares scores; of two versions of its definition the pair tells that.
     *
     * @throws IllegalArgumentException if they are not of this instrument, of two scales or of two hands, or if the instrument compares
     *     the items rated at both sittings, so that the responses are needed
     */
    public static ScorePair of(Instrument instrument, ScoreResult baseline, ScoreResult followUp) {
        if (instrument.facts().change().kind() == ChangeRule.Kind.PAIRED_ITEMS) {
            throw new IllegalArgumentException(
                    instrument + " compares the items rated at both sittings; the responses of both are needed");
        }
        requireOf(instrument, baseline);
        requireOf(instrument, followUp);
        return asScored(baseline, followUp);
    }

    private static void requireOf(Instrument instrument, ScoreResult result) {
        if (!result.definition().startsWith(instrument.id() + "@")) {
            throw new IllegalArgumentException(
                    "A score of " + result.definition() + " is never set against one of " + instrument);
        }
        instrument.requireScale(result.scale());
    }

    private static ScorePair asScored(ScoreResult baseline, ScoreResult followUp) {
        if (!baseline.scale().equals(followUp.scale())) {
            throw new IllegalArgumentException(
                    "A score of " + followUp.scale() + " is never set against one of " + baseline.scale());
        }
        if (!baseline.hand().equals(followUp.hand())) {
            throw new IllegalArgumentException(
                    "A score of " + handOf(followUp) + " is never set against one of " + handOf(baseline));
        }
        OptionalDouble state = Measured.of(followUp).score();
        boolean differentVersions = !baseline.definition().equals(followUp.definition());
        return new ScorePair(
                Optional.of(Measured.of(baseline)), Measured.of(followUp), false, differentVersions, state);
    }

    private static String handOf(ScoreResult result) {
        return result.hand().map(h -> "hand " + h.code()).orElse("the person");
    }

    /** A follow-up without a baseline. */
    public static ScorePair withoutBaseline(ScoreResult followUp) {
        return new ScorePair(Optional.empty(), Measured.of(followUp), false);
    }

    /**
     * What the instrument compares: two scores, or the means over the items rated at both sittings. A sitting without a score gives
     * no such mean.
     *
     * @param before responses at baseline, and the scale's result from them
     * @param after responses at follow-up, and the scale's result from them
     * @throws IllegalArgumentException if the two sittings are of two instruments, if a result is not one of this scale from its
     *     sitting's definition, or if the results are of two hands
     */
    public static ScorePair of(
            Scale scale, Responses before, ScoreResult baseline, Responses after, ScoreResult followUp) {
        Instrument instrument = after.instrument();
        if (!before.instrument().id().equals(instrument.id())) {
            throw new IllegalArgumentException(
                    "Responses to " + instrument + " are never set against responses to " + before.instrument());
        }
        requireFrom(before, scale, baseline);
        requireFrom(after, scale, followUp);
        ScorePair asScored = asScored(baseline, followUp);
        OptionalDouble state = asScored.state();
        if (asScored.differentVersions()) {
            return asScored;
        } else if (instrument.facts().change().kind() != ChangeRule.Kind.PAIRED_ITEMS) {
            return asScored;
        } else if (baseline.scored().isEmpty() || followUp.scored().isEmpty()) {
            boolean onlyBaseline = baseline.scored().isPresent();
            return new ScorePair(Optional.of(Measured.NOTHING), Measured.NOTHING, onlyBaseline, false, state);
        }
        List<Double> first = new ArrayList<>();
        List<Double> second = new ArrayList<>();
        List<Composition.ScaleItem> items = scale.composition()
                .fromItems()
                .map(Composition.FromItems::items)
                .orElse(List.of());
        for (Composition.ScaleItem item : items) {
            Column column = instrument.column(item.item(), followUp.hand());
            OptionalDouble a = before.allowed(column);
            OptionalDouble b = after.allowed(column);
            if (a.isPresent() && b.isPresent()) {
                first.add(a.getAsDouble());
                second.add(b.getAsDouble());
            }
        }
        return first.isEmpty()
                ? new ScorePair(Optional.of(Measured.NOTHING), Measured.NOTHING, true, false, state)
                : new ScorePair(
                        Optional.of(Measured.exactly(mean(first))),
                        Measured.exactly(mean(second)),
                        false,
                        false,
                        OptionalInt.of(first.size()),
                        state);
    }

    private static void requireFrom(Responses responses, Scale scale, ScoreResult result) {
        if (!result.definition().equals(responses.instrument().definition())
                || !result.scale().equals(scale.id())) {
            throw new IllegalArgumentException("A result of " + result.definition() + " " + result.scale()
                    + " is none of " + responses.instrument() + " " + scale.id());
        }
    }

    private static double mean(List<Double> values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.size();
    }
}
