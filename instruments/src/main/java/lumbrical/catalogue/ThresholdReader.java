package lumbrical.catalogue;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import lumbrical.document.Node;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Metric;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;

/** Reads the thresholds of a definition and holds them against their scales. */
final class ThresholdReader {
    private static final Map<String, Threshold.Kind> KINDS = Node.words(Threshold.Kind.values(), Threshold.Kind::code);
    private static final Map<String, Threshold.Group> GROUPS =
            Node.words(Threshold.Group.values(), Threshold.Group::code);

    private final DefinitionReader definition;
    private final List<Scale> scales;

    ThresholdReader(DefinitionReader definition, List<Scale> scales) {
        this.definition = definition;
        this.scales = scales;
    }

    Optional<Threshold> threshold(Node node) {
        String id = node.text("id");
        String scaleName = node.text("scale");
        Optional<Scale> scale =
                scales.stream().filter(s -> s.id().value().equals(scaleName)).findFirst();
        if (scale.isEmpty()) {
            node.fault("scale", "'" + scaleName + "' is no scale of this instrument.");
        }
        Threshold.Kind kind = node.word("kind", KINDS, Threshold.Kind.MCID);
        Metric metric = node.word("metric", ScaleReader.METRICS, Metric.SUM);
        Threshold.Group group = node.word("group", GROUPS, Threshold.Group.OTHER);
        OptionalDouble value = node.optionalNumber("value");
        Optional<Range> ends = definition.range(node, "ends", false);
        Optional<Threshold.Interval> interval = node.optionalNode("interval").map(ThresholdReader::interval);
        OptionalInt level = node.optionalWhole("level");
        Direction better = DefinitionReader.better(node);
        boolean offered = node.flag("offered", true);
        Optional<String> why = node.optionalText("whyNotOffered");
        Provenance provenance = definition.provenance(node);
        Optional<String> note = node.optionalText("note");
        Threshold threshold = new Threshold(
                id,
                scale.map(Scale::id).orElse(new ScaleId("none")),
                kind,
                metric,
                value,
                ends,
                interval,
                node.optionalNumber("sd"),
                level,
                better,
                node.text("population"),
                group,
                node.optionalText("condition"),
                node.texts("boundTo"),
                node.optionalWhole("n"),
                node.text("method"),
                node.optionalText("followUp"),
                node.text("study"),
                node.flag("recommended", false),
                provenance,
                offered,
                why,
                note);
        node.refuseOtherKeys();
        check(node, threshold, scale);
        return scale.map(s -> threshold);
    }

    private static Threshold.Interval interval(Node node) {
        Threshold.Interval interval =
                new Threshold.Interval(node.number("low", 0), node.number("high", 0), node.whole("percent", 95));
        node.refuseOtherKeys();
        return interval;
    }

    private static void check(Node node, Threshold threshold, Optional<Scale> scale) {
        boolean estimate = threshold.value().isPresent() || threshold.ends().isPresent();
        if (!estimate && threshold.note().isEmpty()) {
            node.fault("value", "absent. Give value or ends, or say in note why there is none.");
        }
        if (!threshold.offered() && threshold.whyNotOffered().isEmpty()) {
            node.fault("whyNotOffered", "absent. A value that is never used needs the reason.");
        }
        if (threshold.offered() && scale.isPresent() && isOnScale(threshold.kind())) {
            if (threshold.metric() != scale.get().metric()) {
                node.fault(
                        "metric",
                        threshold.metric().code() + ", but scale " + scale.get().id() + " is "
                                + scale.get().metric().code() + ". Set offered to false and say why.");
            }
            if (threshold.better() != scale.get().better()) {
                node.fault(
                        "better",
                        threshold.better().code() + ", but on scale "
                                + scale.get().id() + " " + scale.get().better().code() + " is better.");
            }
            checkSize(node, threshold, scale.get());
        }
    }

    private static void checkSize(Node node, Threshold threshold, Scale scale) {
        if (threshold.value().isEmpty()) {
            return;
        }
        double value = threshold.value().getAsDouble();
        boolean isState = threshold.kind() == Threshold.Kind.PASS || threshold.kind() == Threshold.Kind.NORM;
        boolean fits = isState
                ? scale.range().contains(value)
                : value > 0 && value <= scale.range().width();
        if (!fits) {
            node.fault(
                    "value",
                    value + " does not fit a scale from " + scale.range().low() + " to "
                            + scale.range().high() + ".");
        }
    }

    /** Kinds whose value is in the scale's own units. */
    private static boolean isOnScale(Threshold.Kind kind) {
        return switch (kind) {
            case MCID, MDC, SEM, PASS, NORM -> true;
            default -> false;
        };
    }

    /** Records a fault for each default that names no offered threshold of its scale and kind. */
    void checkDefaults(List<Scale> all, List<Threshold> thresholds) {
        for (int i = 0; i < all.size(); i++) {
            Scale scale = all.get(i);
            String path = "$.scales[" + i + "].defaults.";
            scale.defaults().ifPresent(d -> {
                d.mcid().ifPresent(id -> checkDefault(path + "mcid", id, Threshold.Kind.MCID, scale, thresholds));
                d.mdc().ifPresent(id -> checkDefault(path + "mdc", id, Threshold.Kind.MDC, scale, thresholds));
                d.pass().ifPresent(id -> checkDefault(path + "pass", id, Threshold.Kind.PASS, scale, thresholds));
            });
        }
    }

    private void checkDefault(String path, String id, Threshold.Kind kind, Scale scale, List<Threshold> thresholds) {
        boolean good = thresholds.stream()
                .anyMatch(t -> t.id().equals(id)
                        && t.kind() == kind
                        && t.scale().equals(scale.id())
                        && t.offered()
                        && t.value().isPresent());
        if (!good) {
            definition
                    .faults()
                    .add(
                            path,
                            "'" + id + "' is no offered " + kind.code() + " of scale " + scale.id() + " with a value.");
        }
    }
}
