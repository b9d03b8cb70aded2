package lumbrical.change;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Metric;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.threshold.ExampleThreshold;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** An improvement held against all that a definition offers; thresholds invented, worked by hand. */
class ThresholdOutcomeTest {
    private static ExampleThreshold threshold(String id, Threshold.Kind kind, double value) {
        return ExampleThreshold.called(id, kind).value(value);
    }

    private static final Instrument LEVEL = ExampleInstrument.called("level")
            .items(2, ExampleInstrument.mark(0, 100))
            .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
            .scale("other", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
            .threshold(threshold("mdc", Threshold.Kind.MDC, 30).build())
            .threshold(threshold("mcid", Threshold.Kind.MCID, 20).build())
            .threshold(threshold("bound", Threshold.Kind.MCID, 10)
                    .boundTo("fracture")
                    .build())
            .threshold(threshold("pass", Threshold.Kind.PASS, 5).build())
            .threshold(threshold("sem", Threshold.Kind.SEM, 5).build())
            .threshold(threshold("kept", Threshold.Kind.MCID, 5)
                    .notOffered("seen once")
                    .build())
            .threshold(threshold("elsewhere", Threshold.Kind.MCID, 5)
                    .scale("other")
                    .build())
            .threshold(threshold("percent", Threshold.Kind.MCID, 5)
                    .metric(Metric.PERCENT)
                    .build())
            .threshold(ExampleThreshold.called("span", Threshold.Kind.MCID).build())
            .build();

    private static List<ThresholdOutcome> outcomes(double improvement) {
        return ThresholdOutcome.of(LEVEL, LEVEL.scales().get(0), improvement);
    }

    /** In the scale's own units, offered, of change, and one number: never a percentage against points. */
    @Test
    void mcidsAndMdcsThatMayBeChosenCount() {
        assertEquals(
                List.of("mdc 30.0", "mcid 20.0", "bound 10.0"),
                outcomes(0).stream()
                        .map(o -> o.threshold().id() + " " + o.value())
                        .toList());
    }

    @ParameterizedTest
    @CsvSource({
        // improvement; against 30, 20 and 10
        "30, IMPROVED IMPROVED IMPROVED",
        "29.9, NOT_MET IMPROVED IMPROVED",
        "20, NOT_MET IMPROVED IMPROVED",
        "19.9, NOT_MET NOT_MET IMPROVED",
        "9.9, NOT_MET NOT_MET NOT_MET",
        "0, NOT_MET NOT_MET NOT_MET",
        "-9.9, NOT_MET NOT_MET NOT_MET",
        "-10, NOT_MET NOT_MET WORSENED",
        "-30, WORSENED WORSENED WORSENED"
    })
    void equalCountsAsMetAndWorseningIsTheMirror(double improvement, String expected) {
        assertEquals(
                List.of(expected.split(" ")),
                outcomes(improvement).stream().map(o -> o.outcome().name()).toList());
    }
}
