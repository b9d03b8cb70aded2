package lumbrical.change;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
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
 */
public record ScorePair(Optional<Measured> baseline, Measured followUp, boolean nothingInCommon) {
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
                    result.scored().map(s -> OptionalDouble.of(s.value())).orElse(OptionalDouble.empty()),
                    result.bounds());
        }

        private static Measured exactly(double score) {
            return new Measured(OptionalDouble.of(score), Optional.of(new Range(score, score)));
        }

        private static final Measured NOTHING = new Measured(OptionalDouble.empty(), Optional.empty());
    }

    /** Two results of scoring one scale. */
    public static ScorePair of(ScoreResult baseline, ScoreResult followUp) {
        return new ScorePair(Optional.of(Measured.of(baseline)), Measured.of(followUp), false);
    }

    /** A follow-up without a baseline. */
    public static ScorePair withoutBaseline(ScoreResult followUp) {
        return new ScorePair(Optional.empty(), Measured.of(followUp), false);
    }

    /**
     * What the instrument compares: two scores, or the means over the items rated at both sittings.
     *
     * @param before responses at baseline, and the scale's result from them
     * @param after responses at follow-up, and the scale's result from them
     */
    public static ScorePair of(
            Scale scale, Responses before, ScoreResult baseline, Responses after, ScoreResult followUp) {
        Instrument instrument = after.instrument();
        if (instrument.facts().change().kind() != ChangeRule.Kind.PAIRED_ITEMS) {
            return of(baseline, followUp);
        }
        List<Double> first = new ArrayList<>();
        List<Double> second = new ArrayList<>();
        List<Composition.ScaleItem> items =
                scale.composition().fromItems().map(Composition.FromItems::items).orElse(List.of());
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
                ? new ScorePair(Optional.of(Measured.NOTHING), Measured.NOTHING, true)
                : new ScorePair(
                        Optional.of(Measured.exactly(mean(first))), Measured.exactly(mean(second)), false);
    }

    private static double mean(List<Double> values) {
        double sum = 0;
        for (double value : values) {
            sum += value;
        }
        return sum / values.size();
    }
}
