package lumbrical.catalogue;

import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.document.Node;
import lumbrical.instrument.Metric;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Threshold;

/** Reads the thresholds of a definition and holds them against their scales. */
final class ThresholdReader {
    private static final Map<String, Threshold.Kind> KINDS = Node.words(Threshold.Kind.values(), Threshold.Kind::code);
    private static final Map<String, Threshold.Group> GROUPS =
            Node.words(Threshold.Group.values(), Threshold.Group::code);

    private static final Map<String, Threshold.Baseline> BASELINES =
            Node.words(Threshold.Baseline.values(), Threshold.Baseline::code);

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
        boolean selectable = node.flag("offered", true);
        Threshold threshold = Threshold.builder(
                        id, scale.map(Scale::id).orElse(new ScaleId("none")), kind, metric, definition.provenance(node))
                .value(node.optionalNumber("value"))
                .ends(definition.range(node, "ends", false))
                .interval(node.optionalNode("interval").map(ThresholdReader::interval))
                .sd(node.optionalNumber("sd"))
                .level(node.optionalWhole("level"))
                .better(DefinitionReader.better(node))
                .population(node.text("population"), group)
                .condition(node.optionalText("condition"))
                .conditions(node.texts("boundTo").stream()
                        .map(definition::conditionOf)
                        .toList())
                .treatment(node.optionalText("treatment"))
                .baseline(
                        node.has("baseline")
                                ? Optional.of(node.word("baseline", BASELINES, Threshold.Baseline.NOT_STATED))
                                : Optional.empty())
                .n(node.optionalWhole("n"))
                .method(node.text("method"))
                .followUp(node.optionalText("followUp"))
                .study(node.text("study"))
                .recommended(node.flag("recommended", false))
                .ofOneItem(node.flag("ofOneItem", false))
                .selectable(selectable, node.optionalText("whyNotOffered"))
                .note(node.optionalText("note"))
                .build();
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
        if (!threshold.selectable() && threshold.whyNotSelectable().isEmpty()) {
            node.fault("whyNotOffered", "absent. A value that is never used needs the reason.");
        }
        if (threshold.selectable() && scale.isPresent() && isOnScale(threshold.kind())) {
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

    /** Records a fault for each default that names no offered threshold of its scale and kind, or one that it must not name. */
    void checkDefaults(List<Scale> all, List<Threshold> thresholds) {
        for (int i = 0; i < all.size(); i++) {
            Scale scale = all.get(i);
            String path = "$.scales[" + i + "].";
            scale.defaults().ifPresent(d -> checkAll(path + "defaults.", scale, d, thresholds));
            Set<String> seen = new HashSet<>();
            for (int j = 0; j < scale.conditionDefaults().size(); j++) {
                Scale.ConditionDefaults own = scale.conditionDefaults().get(j);
                String ownPath = path + "defaultsFor[" + j + "].";
                if (!seen.add(own.condition())) {
                    definition.faults().add(ownPath + "condition", "'" + own.condition() + "' stands here twice.");
                }
                checkAll(ownPath, scale, own.defaults(), thresholds);
                ids(own.defaults())
                        .flatMap(id -> thresholds.stream().filter(t -> t.id().equals(id)))
                        .forEach(t -> checkConditionDefault(ownPath, own.condition(), t));
            }
        }
    }

    private static Stream<String> ids(Scale.Defaults defaults) {
        return Stream.of(defaults.mcid(), defaults.mdc(), defaults.pass()).flatMap(Optional::stream);
    }

    private void checkAll(String path, Scale scale, Scale.Defaults d, List<Threshold> thresholds) {
        if (ids(d).findAny().isEmpty()) {
            definition.faults().add(path + "mcid", "absent, and so are mdc and pass. Name at least one.");
        }
        d.mcid().ifPresent(id -> checkDefault(path + "mcid", id, Threshold.Kind.MCID, scale, thresholds));
        d.mdc().ifPresent(id -> checkDefault(path + "mdc", id, Threshold.Kind.MDC, scale, thresholds));
        d.pass().ifPresent(id -> checkDefault(path + "pass", id, Threshold.Kind.PASS, scale, thresholds));
    }

    /** A clinic's baseline lies before treatment; a change from a fresh injury or from after an operation is another change. */
    private void checkConditionDefault(String path, String condition, Threshold threshold) {
        if (!threshold.conditions().isEmpty() && !threshold.conditions().contains(condition)) {
            definition
                    .faults()
                    .add(
                            path + threshold.kind().code(),
                            "'" + threshold.id() + "' holds only for " + String.join(", ", threshold.conditions())
                                    + ".");
        }
        boolean otherBaseline = threshold.baseline().stream()
                .anyMatch(b -> b == Threshold.Baseline.FRESH_INJURY || b == Threshold.Baseline.AFTER_TREATMENT);
        if (threshold.kind() == Threshold.Kind.MCID && otherBaseline) {
            definition
                    .faults()
                    .add(
                            path + threshold.kind().code(),
                            "'" + threshold.id() + "' counts from a baseline "
                                    + threshold.baseline().get().words()
                                    + "; it can be chosen, but is no default.");
        }
    }

    private void checkDefault(String path, String id, Threshold.Kind kind, Scale scale, List<Threshold> thresholds) {
        boolean good = thresholds.stream()
                .anyMatch(t -> t.id().equals(id)
                        && t.kind() == kind
                        && t.scale().equals(scale.id())
                        && t.selectable()
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
