package lumbrical.change;

import java.util.ArrayList;
import java.util.List;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.Reached;

/**
 * An improvement held against one published MCID or MDC, whichever is used for the verdict.
 *
 * @param threshold the MCID or MDC
 * @param value its value
 * @param outcome whether it is met
 */
public record ThresholdOutcome(Threshold threshold, double value, Outcome outcome) {
    /** Whether a threshold is met. */
    public enum Outcome {
        /** Better by it or more. */
        IMPROVED,
        /** Worse by it or more; the mirror is our convention. */
        WORSENED,
        /** Neither. */
        NOT_MET
    }

    /** Every MCID and MDC of a scale, in its own metric, that may be chosen and has one value, in the order of the definition. */
    public static List<ThresholdOutcome> of(Instrument instrument, Scale scale, double improvement) {
        List<ThresholdOutcome> outcomes = new ArrayList<>();
        for (Threshold t : instrument.thresholds()) {
            boolean ofChange = t.kind() == Threshold.Kind.MCID || t.kind() == Threshold.Kind.MDC;
            if (ofChange && t.selectable() && t.scale().equals(scale.id()) && t.metric() == scale.metric()) {
                t.value().ifPresent(value -> outcomes.add(new ThresholdOutcome(t, value, outcome(improvement, value))));
            }
        }
        return outcomes;
    }

    private static Outcome outcome(double improvement, double value) {
        if (Reached.meets(improvement, value)) {
            return Outcome.IMPROVED;
        }
        return Reached.meets(-improvement, value) ? Outcome.WORSENED : Outcome.NOT_MET;
    }
}
