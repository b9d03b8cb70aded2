package lumbrical.followup;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.PublishedMcids;
import lumbrical.threshold.Reached;
import lumbrical.threshold.ThresholdChoice;

/** Sets a follow-up against its baseline and says what the change amounts to. */
final class ChangeJudge {
    private final ThresholdChoice choice;

    ChangeJudge(ThresholdChoice choice) {
        this.choice = choice;
    }

    /** What is compared: scores, or for paired items the means over the items rated at both sittings. */
    private record Pair(double baseline, double followUp, Range baselineBounds, Range followUpBounds) {}

    Change judge(AssignedScore followUp, boolean used, Optional<AssignedScore> baseline) {
        Instrument instrument = followUp.form().instrument();
        Scale scale = followUp.scale();
        Episode episode = followUp.placement().orElseThrow().episode();
        Optional<Threshold> mcid = choice.mcid(instrument, scale, episode.condition());
        Optional<Threshold> mdc = choice.mdc(instrument, scale, episode.condition());
        Optional<Threshold> pass = choice.pass(instrument, scale, episode.condition());
        Optional<Pair> pair = baseline.flatMap(b -> pair(b, followUp));
        OptionalDouble mcidValue = mcid.map(Threshold::value).orElse(OptionalDouble.empty());
        OptionalDouble mdcValue = mdc.map(Threshold::value).orElse(OptionalDouble.empty());
        Optional<String> why = whyNot(followUp, baseline, pair.isPresent(), mcidValue.isPresent());
        OptionalDouble improvement = pair.isPresent()
                ? OptionalDouble.of(scale.better()
                        .improvement(pair.get().baseline(), pair.get().followUp()))
                : OptionalDouble.empty();
        Optional<Range> bounds = pair.map(p -> improvementBounds(scale.better(), p));
        Change.Verdict verdict = why.isPresent()
                ? Change.Verdict.NOT_ASSESSABLE
                : verdict(improvement.orElseThrow(), mcidValue.orElseThrow(), mdcValue);
        Optional<Boolean> certain = why.isPresent()
                ? Optional.empty()
                : bounds.map(b -> verdict(b.low(), mcidValue.orElseThrow(), mdcValue)
                        == verdict(b.high(), mcidValue.orElseThrow(), mdcValue));
        return new Change(
                followUp,
                used,
                baseline,
                pair.isPresent() ? OptionalDouble.of(pair.get().baseline()) : baselineScore(baseline),
                pair.isPresent()
                        ? OptionalDouble.of(pair.get().followUp() - pair.get().baseline())
                        : OptionalDouble.empty(),
                improvement,
                bounds,
                mdc,
                mcid,
                verdict,
                why,
                certain,
                pair.filter(p -> mcidValue.isPresent())
                        .map(p -> Reached.atLeast(room(scale, p.baseline()), mcidValue.orElseThrow())),
                met(instrument, scale, episode, improvement),
                pass,
                acceptable(followUp.result(), scale.better(), pass));
    }

    private static OptionalDouble baselineScore(Optional<AssignedScore> baseline) {
        return baseline.flatMap(b -> b.result().scored())
                .map(s -> OptionalDouble.of(s.value()))
                .orElse(OptionalDouble.empty());
    }

    private static double room(Scale scale, double baseline) {
        return scale.better() == Direction.LOWER
                ? baseline - scale.range().low()
                : scale.range().high() - baseline;
    }

    private static Optional<String> whyNot(
            AssignedScore followUp, Optional<AssignedScore> baseline, boolean paired, boolean mcidKnown) {
        AssignedScore.VisitAssignment placement = followUp.placement().orElseThrow();
        Optional<Scale.NoVerdictBefore> early = followUp.scale().noVerdictBefore();
        if (baseline.isEmpty()) {
            return Optional.of("no baseline score");
        } else if (followUp.result().scored().isEmpty()) {
            return Optional.of("follow-up not scored");
        } else if (!paired) {
            return Optional.of("no item rated at both sittings");
        } else if (!mcidKnown) {
            return Optional.of("no MCID known");
        } else if (placement.visit().isPresent() && !placement.visit().get().verdict()) {
            return Optional.of("too early by the schedule");
        } else if (early.isPresent()
                && placement.day().orElseThrow() < early.get().day()) {
            return Optional.of("too early, before day " + early.get().day());
        }
        return Optional.empty();
    }

    private static Optional<Pair> pair(AssignedScore baseline, AssignedScore followUp) {
        if (baseline.result().scored().isEmpty() || followUp.result().scored().isEmpty()) {
            return Optional.empty();
        }
        if (followUp.form().instrument().facts().change().kind() == ChangeRule.Kind.PAIRED_ITEMS) {
            return pairedItems(baseline.form(), followUp.form(), followUp.scale());
        }
        ScoreResult.Scored before = baseline.result().scored().get();
        ScoreResult.Scored after = followUp.result().scored().get();
        return Optional.of(new Pair(before.value(), after.value(), before.range(), after.range()));
    }

    private static Optional<Pair> pairedItems(ScoredForm before, ScoredForm after, Scale scale) {
        Composition.FromItems made = (Composition.FromItems) scale.composition();
        List<Double> first = new ArrayList<>();
        List<Double> second = new ArrayList<>();
        for (Column column : after.instrument().columns()) {
            boolean inScale = made.items().stream()
                    .anyMatch(i -> i.item().id().equals(column.item().id()));
            double a = before.responses().at(column.index());
            double b = after.responses().at(column.index());
            if (inScale
                    && column.item().responses().allows(a)
                    && column.item().responses().allows(b)) {
                first.add(a);
                second.add(b);
            }
        }
        if (first.isEmpty()) {
            return Optional.empty();
        }
        double baseline = mean(first);
        double followUp = mean(second);
        return Optional.of(new Pair(baseline, followUp, new Range(baseline, baseline), new Range(followUp, followUp)));
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(Double::doubleValue).average().orElseThrow();
    }

    private static Range improvementBounds(Direction better, Pair pair) {
        return better == Direction.LOWER
                ? new Range(
                        pair.baselineBounds().low() - pair.followUpBounds().high(),
                        pair.baselineBounds().high() - pair.followUpBounds().low())
                : new Range(
                        pair.followUpBounds().low() - pair.baselineBounds().high(),
                        pair.followUpBounds().high() - pair.baselineBounds().low());
    }

    /** Worsening mirrors improvement: our convention. */
    static Change.Verdict verdict(double improvement, double mcid, OptionalDouble mdc) {
        boolean beyondError = mdc.isEmpty() || Reached.atLeast(Math.abs(improvement), mdc.getAsDouble());
        if (Reached.atLeast(improvement, mcid)) {
            return beyondError ? Change.Verdict.IMPORTANT_IMPROVEMENT : Change.Verdict.IMPROVEMENT_WITHIN_ERROR;
        }
        if (Reached.atLeast(-improvement, mcid)) {
            return beyondError ? Change.Verdict.IMPORTANT_WORSENING : Change.Verdict.WORSENING_WITHIN_ERROR;
        }
        return Change.Verdict.NO_IMPORTANT_CHANGE;
    }

    private static Optional<Change.Met> met(
            Instrument instrument, Scale scale, Episode episode, OptionalDouble improvement) {
        if (improvement.isEmpty()) {
            return Optional.empty();
        }
        List<Double> published = PublishedMcids.of(instrument, scale, episode.condition());
        int met = (int) published.stream()
                .filter(mcid -> Reached.atLeast(improvement.getAsDouble(), mcid))
                .count();
        return Optional.of(new Change.Met(met, published.size()));
    }

    private static Optional<Boolean> acceptable(ScoreResult result, Direction better, Optional<Threshold> pass) {
        if (result.scored().isEmpty() || pass.isEmpty()) {
            return Optional.empty();
        }
        double score = result.scored().get().value();
        double state = pass.get().value().orElseThrow();
        return Optional.of(better == Direction.LOWER ? Reached.atLeast(state, score) : Reached.atLeast(score, state));
    }
}
