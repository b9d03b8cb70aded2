package lumbrical.followup;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Metric;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.TestInstruments;

/** An invented instrument of ten items with invented thresholds. */
final class FollowUpInstruments {
    private static final Provenance PUBLISHED = new Provenance(Standing.PUBLISHED, "paper");

    private FollowUpInstruments() {}

    static Instrument tenItems() {
        Instrument.Facts f = TestInstruments.of(
                        10,
                        1,
                        5,
                        new ItemRule.RescaledMean(1, 25, PUBLISHED),
                        TestInstruments.meanOfAnswered(new MissingRule.Minimum.AtLeastPercent(80)),
                        new Range(0, 100))
                .facts();
        Scale s = f.scales().get(0);
        Scale withDefaults = new Scale(
                s.id(),
                s.title(),
                s.composition(),
                s.range(),
                s.better(),
                s.metric(),
                false,
                true,
                Optional.of(new Scale.NoVerdictBefore(21, "invented", PUBLISHED)),
                Optional.of(new Scale.Defaults(Optional.of("a"), Optional.of("mdc"), Optional.empty(), "invented")));
        List<Threshold> thresholds = List.of(
                mcid("a", 25, "a", Threshold.Group.HAND_WRIST, Standing.PUBLISHED, false, List.of()),
                mcid("b1", 10, "b", Threshold.Group.UPPER_LIMB, Standing.PUBLISHED, false, List.of()),
                mcid("b2", 20, "b", Threshold.Group.UPPER_LIMB, Standing.PUBLISHED, false, List.of()),
                mcid("c1", 40, "c", Threshold.Group.HAND_WRIST, Standing.PUBLISHED, true, List.of()),
                mcid("c2", 5, "c", Threshold.Group.HAND_WRIST, Standing.PUBLISHED, false, List.of()),
                mcid("borrowed", 1, "d", Threshold.Group.SHOULDER, Standing.PUBLISHED, false, List.of()),
                mcid("remembered", 1, "e", Threshold.Group.HAND_WRIST, Standing.FROM_MEMORY, false, List.of()),
                mcid("bound", 1, "f", Threshold.Group.HAND_WRIST, Standing.PUBLISHED, false, List.of("fresh fracture")),
                threshold(
                        "mdc",
                        Threshold.Kind.MDC,
                        50,
                        "a",
                        Threshold.Group.HAND_WRIST,
                        Standing.PUBLISHED,
                        false,
                        List.of()));
        return Instrument.of(new Instrument.Facts(
                f.id(),
                f.version(),
                f.shortCode(),
                f.variantOf(),
                f.title(),
                f.measures(),
                f.answeredFor(),
                f.recall(),
                f.licence(),
                f.sources(),
                f.responseSets(),
                f.items(),
                List.of(withDefaults),
                f.hands(),
                f.change(),
                thresholds,
                f.notes()));
    }

    private static Threshold mcid(
            String id,
            double value,
            String study,
            Threshold.Group group,
            Standing standing,
            boolean recommended,
            List<String> boundTo) {
        return threshold(id, Threshold.Kind.MCID, value, study, group, standing, recommended, boundTo);
    }

    private static Threshold threshold(
            String id,
            Threshold.Kind kind,
            double value,
            String study,
            Threshold.Group group,
            Standing standing,
            boolean recommended,
            List<String> boundTo) {
        return new Threshold(
                id,
                new ScaleId("total"),
                kind,
                Metric.ZERO_TO_HUNDRED,
                OptionalDouble.of(value),
                Optional.empty(),
                Optional.empty(),
                OptionalDouble.empty(),
                OptionalInt.empty(),
                Direction.LOWER,
                "invented",
                group,
                Optional.empty(),
                boundTo,
                OptionalInt.empty(),
                "invented",
                Optional.empty(),
                study,
                recommended,
                new Provenance(standing, "paper"),
                true,
                Optional.empty(),
                Optional.empty());
    }
}
