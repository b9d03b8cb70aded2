package lumbrical.catalogue;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.document.Nearest;
import lumbrical.document.Node;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Metric;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;

/** Reads the scales of a definition. */
final class ScaleReader {
    static final Map<String, Metric> METRICS = Node.words(Metric.values(), Metric::code);

    private static final Map<String, MissingRule.StatedBy> STATED_BY =
            Node.words(MissingRule.StatedBy.values(), MissingRule.StatedBy::code);
    private static final List<String> ITEM_RULES = List.of("sum", "mean", "rescaled-mean", "rescaled-sum", "table");
    private static final List<String> PART_RULES = List.of("sum-of-parts", "mean-of-parts");
    private static final List<String> MISSING_RULES = List.of("none-allowed", "mean-of-answered", "rated-only");

    private final DefinitionReader definition;
    private final Map<String, Item> items = new LinkedHashMap<>();

    ScaleReader(DefinitionReader definition, List<Item> items) {
        this.definition = definition;
        items.forEach(item -> this.items.put(item.id().value(), item));
    }

    /** The scale in {@code node}; {@code before} are the scales declared before it. */
    Optional<Scale> scale(Node node, List<Scale> before) {
        Optional<ScaleId> id = definition.faults().attempt(node.path("id"), () -> new ScaleId(node.text("id")));
        String title = node.text("title");
        Optional<Composition> composition = node.has("parts") ? fromParts(node, before) : fromItems(node);
        Optional<Range> range = definition.range(node, "range", true);
        Metric metric = node.word("metric", METRICS, Metric.SUM);
        Optional<Scale.NoVerdictBefore> early =
                node.optionalNode("noVerdictBeforeDay").map(this::early);
        Optional<Scale.Defaults> defaults = node.optionalNode("defaults").map(d -> {
            Scale.Defaults general = defaults(d);
            d.refuseOtherKeys();
            return general;
        });
        List<Scale.ConditionDefaults> conditionDefaults = node.elements("defaultsFor").stream()
                .map(e -> conditionDefaults(e.node()))
                .toList();
        boolean main = node.flag("main", false);
        boolean optional = node.flag("optional", false);
        boolean reported = node.flag("reported", true);
        var better = DefinitionReader.better(node);
        node.refuseOtherKeys();
        if (id.isEmpty() || composition.isEmpty() || range.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(Scale.builder(id.get(), title, composition.get(), range.get(), metric)
                .better(better)
                .optional(optional)
                .reported(reported)
                .noVerdictBefore(early)
                .main(main)
                .defaults(defaults)
                .conditionDefaults(conditionDefaults)
                .build());
    }

    private Optional<Composition> fromItems(Node node) {
        List<Composition.ScaleItem> scaleItems = new ArrayList<>();
        boolean allKnown = true;
        for (Node.Element element : node.requiredElements("items")) {
            Optional<Composition.ScaleItem> item = scaleItem(element);
            allKnown &= item.isPresent();
            item.ifPresent(scaleItems::add);
        }
        Node ruleNode = node.node("rule");
        Optional<ItemRule> rule = itemRule(ruleNode);
        ruleNode.refuseOtherKeys();
        Optional<MissingRule> missing = missing(node.node("missing"), scaleItems.size());
        Optional<Composition.Skip> skip = node.optionalNode("skip").flatMap(s -> skip(s, scaleItems));
        if (rule.isEmpty() || missing.isEmpty() || !allKnown) {
            return Optional.empty();
        }
        if (missing.get() instanceof MissingRule.MeanOfAnswered) {
            checkSameCodes(node, scaleItems);
        }
        if (rule.get() instanceof ItemRule.Table table) {
            checkTable(node, table, scaleItems, missing.get());
        }
        return definition
                .faults()
                .attempt(
                        node.path("items"),
                        () -> new Composition.FromItems(scaleItems, rule.get(), missing.get(), skip));
    }

    /** A mean stands in for a gap only among items that run from the same lowest to the same highest code. */
    private void checkSameCodes(Node node, List<Composition.ScaleItem> scaleItems) {
        long spans = scaleItems.stream()
                .map(i -> new Range(
                        i.item().responses().low(), i.item().responses().high()))
                .distinct()
                .count();
        if (spans > 1) {
            node.fault("missing", "mean-of-answered, but the items' codes run from and to different ends.");
        }
    }

    private void checkTable(
            Node node, ItemRule.Table table, List<Composition.ScaleItem> scaleItems, MissingRule missing) {
        if (!(missing instanceof MissingRule.NoneAllowed)) {
            node.fault("missing", "a table holds for complete answers only; kind must be none-allowed.");
        }
        double low =
                scaleItems.stream().mapToDouble(i -> i.item().responses().low()).sum();
        double high = scaleItems.stream()
                .mapToDouble(i -> i.item().responses().high())
                .sum();
        int first = table.rows().get(0).raw();
        int last = table.rows().get(table.rows().size() - 1).raw();
        if (first != low || last != high) {
            node.fault(
                    "rule.rows",
                    "raw sums run from " + first + " to " + last + ", but the items' from " + low + " to " + high
                            + ".");
        }
    }

    private Optional<Composition.ScaleItem> scaleItem(Node.Element element) {
        if (element.isText()) {
            return knownItem(element.text(), element.path()).map(i -> new Composition.ScaleItem(i, false));
        }
        Node node = element.node();
        Optional<Item> item = knownItem(node.text("item"), node.path("item"));
        boolean reversed = node.flag("reversed", false);
        node.refuseOtherKeys();
        return item.map(i -> new Composition.ScaleItem(i, reversed));
    }

    private Optional<Item> knownItem(String id, String path) {
        Optional<Item> item = Optional.ofNullable(items.get(id));
        if (item.isEmpty()) {
            String meant = Nearest.to(id, items.keySet())
                    .map(k -> " Did you mean '" + k + "'?")
                    .orElse("");
            definition.faults().add(path, "'" + id + "' is no item of this instrument." + meant);
        }
        return item;
    }

    private Optional<ItemRule> itemRule(Node node) {
        String kind = node.oneOf("kind", ITEM_RULES, "");
        Provenance provenance = definition.provenance(node);
        node.optionalText("note");
        return switch (kind) {
            case "sum" ->
                definition
                        .faults()
                        .attempt(
                                node.path("dividedBy"),
                                () -> new ItemRule.Sum(
                                        node.optionalNumber("dividedBy").orElse(1), provenance));
            case "mean" -> Optional.of(new ItemRule.Mean(provenance));
            case "rescaled-mean" ->
                definition
                        .faults()
                        .attempt(
                                node.path(),
                                () -> new ItemRule.RescaledMean(
                                        node.number("minus", 0), node.number("times", 1), provenance));
            case "rescaled-sum" ->
                definition
                        .faults()
                        .attempt(
                                node.path(),
                                () -> new ItemRule.RescaledSum(
                                        node.number("zeroAt", 0), node.number("hundredAt", 1), provenance));
            case "table" ->
                definition
                        .faults()
                        .attempt(
                                node.path("rows"),
                                () -> new ItemRule.Table(
                                        node.requiredElements("rows").stream()
                                                .map(e -> row(e.node()))
                                                .toList(),
                                        provenance));
            default -> Optional.empty();
        };
    }

    private static ItemRule.Table.Row row(Node node) {
        ItemRule.Table.Row row = new ItemRule.Table.Row(
                node.whole("raw", 0), node.number("score", 0), node.optionalNumber("standardError"));
        node.refuseOtherKeys();
        return row;
    }

    private Optional<MissingRule> missing(Node node, int items) {
        String kind = node.oneOf("kind", MISSING_RULES, "");
        MissingRule.StatedBy statedBy = node.word("statedBy", STATED_BY, MissingRule.StatedBy.CONVENTION);
        Provenance provenance = definition.provenance(node);
        Optional<String> note = node.optionalText("note");
        Optional<MissingRule.Minimum> minimum =
                kind.equals("none-allowed") ? Optional.empty() : minimum(node.node("minimum"), items);
        node.refuseOtherKeys();
        return switch (kind) {
            case "none-allowed" -> Optional.of(new MissingRule.NoneAllowed(statedBy, provenance, note));
            case "mean-of-answered" -> minimum.map(m -> new MissingRule.MeanOfAnswered(m, statedBy, provenance, note));
            case "rated-only" -> minimum.map(m -> new MissingRule.RatedOnly(m, statedBy, provenance, note));
            default -> Optional.empty();
        };
    }

    private Optional<MissingRule.Minimum> minimum(Node node, int items) {
        Optional<MissingRule.Minimum> minimum = definition.faults().attempt(node.path(), () -> {
            if (node.has("answered")) {
                return new MissingRule.Minimum.Answered(node.whole("answered", 1));
            } else if (node.has("atLeastPercent")) {
                return new MissingRule.Minimum.AtLeastPercent(node.whole("atLeastPercent", 1));
            } else if (node.has("moreThanPercent")) {
                return new MissingRule.Minimum.MoreThanPercent(node.whole("moreThanPercent", 1));
            }
            throw new IllegalArgumentException("needs answered, atLeastPercent or moreThanPercent");
        });
        node.refuseOtherKeys();
        if (minimum.isPresent() && minimum.get().required(items) > items) {
            definition
                    .faults()
                    .add(
                            node.path(),
                            minimum.get().required(items) + ", but the scale has " + items + " items. Use 1 to " + items
                                    + ".");
        }
        return minimum;
    }

    private Optional<Composition.Skip> skip(Node node, List<Composition.ScaleItem> scaleItems) {
        Optional<Item> item = knownItem(node.text("item"), node.path("item"));
        double code = node.number("code", 0);
        double score = node.number("score", 0);
        List<String> skips = node.texts("skips");
        Provenance provenance = definition.provenance(node);
        Optional<String> note = node.optionalText("note");
        node.refuseOtherKeys();
        if (item.isEmpty()) {
            return Optional.empty();
        }
        if (!item.get().responses().allows(code)) {
            node.fault("code", code + " is no code of item " + item.get().id() + ".");
        }
        List<String> others = scaleItems.stream()
                .map(i -> i.item().id().value())
                .filter(i -> !i.equals(item.get().id().value()))
                .sorted()
                .toList();
        if (!others.equals(skips.stream().sorted().toList())) {
            node.fault("skips", "must name every other item of the scale: " + others + ".");
        }
        return Optional.of(new Composition.Skip(item.get(), code, score, provenance, note));
    }

    private Optional<Composition> fromParts(Node node, List<Scale> before) {
        List<Composition.Part> parts = new ArrayList<>();
        for (Node.Element element : node.requiredElements("parts")) {
            part(element, before).ifPresent(parts::add);
        }
        Node ruleNode = node.node("rule");
        String kind = ruleNode.oneOf("kind", PART_RULES, "");
        Provenance provenance = definition.provenance(ruleNode);
        ruleNode.optionalText("note");
        ruleNode.refuseOtherKeys();
        PartRule rule = kind.equals("mean-of-parts")
                ? new PartRule.MeanOfParts(provenance)
                : new PartRule.SumOfParts(provenance);
        return definition.faults().attempt(node.path("parts"), () -> new Composition.FromParts(parts, rule));
    }

    private Optional<Composition.Part> part(Node.Element element, List<Scale> before) {
        boolean reversed = false;
        String name;
        String path = element.path();
        if (element.isText()) {
            name = element.text();
        } else {
            Node node = element.node();
            name = node.text("scale");
            reversed = node.flag("reversed", false);
            node.refuseOtherKeys();
        }
        if (before.stream().noneMatch(s -> s.id().value().equals(name))) {
            definition.faults().add(path, "'" + name + "' is no scale declared before this one.");
            return Optional.empty();
        }
        return Optional.of(new Composition.Part(new ScaleId(name), reversed));
    }

    private Scale.NoVerdictBefore early(Node node) {
        Scale.NoVerdictBefore early =
                new Scale.NoVerdictBefore(node.whole("day", 0), node.text("reason"), definition.provenance(node));
        node.refuseOtherKeys();
        return early;
    }

    private static Scale.Defaults defaults(Node node) {
        return new Scale.Defaults(
                node.optionalText("mcid"), node.optionalText("mdc"), node.optionalText("pass"), node.text("reason"));
    }

    private Scale.ConditionDefaults conditionDefaults(Node node) {
        Scale.ConditionDefaults defaults =
                new Scale.ConditionDefaults(definition.knownCondition(node, "condition"), defaults(node));
        node.refuseOtherKeys();
        return defaults;
    }
}
