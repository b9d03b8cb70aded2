package lumbrical.catalogue;

import java.io.IOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.stream.Stream;
import lumbrical.document.Faults;
import lumbrical.document.Json;
import lumbrical.document.Node;
import lumbrical.instrument.AnsweredFor;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemId;
import lumbrical.instrument.Licence;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Recall;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;

/** Reads one definition file into an {@link Instrument}, or refuses it with every fault it has. */
final class DefinitionReader {
    /** Largest definition file, in bytes. */
    static final int MAX_BYTES = 2_000_000;
    /** Most items, scales or thresholds of a definition. */
    static final int MAX_ENTRIES = 2_000;

    private static final Map<String, Standing> STANDINGS = Node.words(Standing.values(), Standing::code);
    private static final Map<String, Direction> DIRECTIONS = Node.words(Direction.values(), Direction::code);
    private static final Map<String, AnsweredFor> ANSWERED_FOR = Node.words(AnsweredFor.values(), AnsweredFor::code);
    private static final Map<String, Grip> GRIPS = Node.words(Grip.values(), Grip::code);
    private static final Map<String, ChangeRule.Kind> CHANGES =
            Node.words(ChangeRule.Kind.values(), ChangeRule.Kind::code);
    private static final List<String> TOPIC_STANDINGS =
            Stream.concat(STANDINGS.keySet().stream(), Stream.of("not-seen")).toList();
    private static final List<String> TERMS = List.of(
            "free-for-clinical-use", "permission-required", "licence-required", "not-stated", "generic", "open");

    private final Faults faults = new Faults();
    private final List<String> sourceKeys = new ArrayList<>(List.of("ours", "from-memory"));
    private final Map<String, ResponseSet> responseSets = new LinkedHashMap<>();

    private DefinitionReader() {}

    /**
     * The instrument in {@code bytes}.
     *
     * @param file name used in messages
     * @throws DefinitionFaultsException if anything in it is wrong
     */
    static Instrument read(String file, byte[] bytes) {
        if (bytes.length > MAX_BYTES) {
            throw new DefinitionFaultsException(
                    file, List.of("$: " + bytes.length + " bytes, but at most " + MAX_BYTES + "."));
        }
        Json json;
        try {
            json = Json.parse(bytes);
        } catch (IOException e) {
            throw new DefinitionFaultsException(file, List.of("$: not readable as JSON: " + firstLine(e)));
        }
        DefinitionReader reader = new DefinitionReader();
        Optional<Instrument> instrument = reader.instrument(Node.of(json, "$", reader.faults));
        if (!reader.faults.none()) {
            throw new DefinitionFaultsException(file, reader.faults.lines());
        }
        return instrument.orElseThrow(() -> new DefinitionFaultsException(file, List.of("$: no instrument.")));
    }

    private static String firstLine(IOException e) {
        return String.valueOf(e.getMessage()).lines().findFirst().orElse("no detail") + location(e);
    }

    private static String location(IOException e) {
        return e instanceof com.fasterxml.jackson.core.JsonProcessingException json && json.getLocation() != null
                ? " (line " + json.getLocation().getLineNr() + ", column "
                        + json.getLocation().getColumnNr() + ")"
                : "";
    }

    private Optional<Instrument> instrument(Node top) {
        Optional<InstrumentId> id = faults.attempt(top.path("id"), () -> new InstrumentId(top.text("id")));
        String version = top.text("version");
        String shortCode = shortCode(top);
        Optional<InstrumentId> variantOf = top.optionalText("variantOf")
                .flatMap(v -> faults.attempt(top.path("variantOf"), () -> new InstrumentId(v)));
        List<Source> sources =
                limited(top, "sources").stream().map(this::source).toList();
        readResponseSets(top);
        List<Item> items = limited(top, "items").stream()
                .map(e -> item(e.node()))
                .flatMap(Optional::stream)
                .toList();
        ScaleReader scaleReader = new ScaleReader(this, items);
        List<Scale> scales = new ArrayList<>();
        limited(top, "scales").forEach(e -> scaleReader.scale(e.node(), scales).ifPresent(scales::add));
        ThresholdReader thresholdReader = new ThresholdReader(this, scales);
        List<Threshold> thresholds = limited(top, "thresholds").stream()
                .map(e -> thresholdReader.threshold(e.node()))
                .flatMap(Optional::stream)
                .toList();
        thresholdReader.checkDefaults(scales, thresholds);
        AnsweredFor answeredFor = top.word("answeredFor", ANSWERED_FOR, AnsweredFor.PERSON);
        Optional<Provenance> hands = top.optionalNode("hands").map(this::hands);
        if (hands.isPresent() && items.stream().noneMatch(Item::perHand)) {
            top.fault("hands", "present, but no item is asked per hand.");
        }
        String title = top.text("title");
        String measures = top.text("measures");
        Recall recall = recall(top.node("recall"));
        Licence licence = licence(top.node("licence"));
        ChangeRule change = change(top.node("change"));
        List<String> notes = top.texts("notes");
        top.refuseOtherKeys();
        if (id.isEmpty()) {
            return Optional.empty();
        }
        Instrument.Facts facts = new Instrument.Facts(
                id.get(),
                version,
                shortCode,
                variantOf,
                title,
                measures,
                answeredFor,
                recall,
                licence,
                sources,
                List.copyOf(responseSets.values()),
                items,
                scales,
                hands,
                change,
                thresholds,
                notes);
        return faults.attempt("$", () -> Instrument.of(facts));
    }

    private static String shortCode(Node top) {
        String code = top.text("shortCode");
        boolean good = Instrument.Facts.isShortCode(code);
        if (!good && top.has("shortCode")) {
            top.fault("shortCode", "'" + code + "', but must be four capital letters or digits.");
        }
        return good ? code : "NONE";
    }

    private List<Node.Element> limited(Node top, String key) {
        List<Node.Element> elements = top.requiredElements(key);
        if (elements.size() > MAX_ENTRIES) {
            top.fault(key, elements.size() + " entries, but at most " + MAX_ENTRIES + ".");
            return List.of();
        }
        return elements;
    }

    private Source source(Node.Element element) {
        Node node = element.node();
        Source source = new Source(
                node.text("key"), node.text("citation"), node.optionalText("doi"), node.optionalText("where"));
        node.refuseOtherKeys();
        sourceKeys.add(source.key());
        return source;
    }

    private void readResponseSets(Node top) {
        Node sets = top.node("responseSets");
        for (String name : sets.keys()) {
            sets.optionalNode(name).flatMap(node -> responseSet(name, node)).ifPresent(s -> responseSets.put(name, s));
        }
    }

    private Optional<ResponseSet> responseSet(String name, Node node) {
        Provenance provenance = provenance(node);
        TreeMap<Double, String> labels = new TreeMap<>();
        node.optionalNode("labels").ifPresent(l -> l.keys().forEach(code -> label(l, code, labels)));
        List<Double> codes = node.numbers("codes");
        Optional<Range> range = range(node, "range", false);
        node.refuseOtherKeys();
        if (codes.isEmpty() == range.isEmpty()) {
            faults.add(node.path(), "needs either codes or a range.");
            return Optional.empty();
        }
        if (range.isPresent()) {
            if (range.get().width() == 0) {
                node.fault("range", "has no width.");
            }
            return Optional.of(new ResponseSet.Continuous(name, range.get(), labels, provenance));
        }
        if (codes.size() < 2) {
            node.fault("codes", "one code only. An item needs at least two.");
        }
        return faults.attempt(node.path("codes"), () -> new ResponseSet.Codes(name, codes, labels, provenance));
    }

    private void label(Node labels, String code, Map<Double, String> into) {
        try {
            into.put(Double.valueOf(code), labels.text(code));
        } catch (NumberFormatException e) {
            labels.fault(code, "no code.");
        }
    }

    private Optional<Item> item(Node node) {
        Optional<ItemId> id = faults.attempt(node.path("id"), () -> new ItemId(node.text("id")));
        String topic = node.text("topic");
        String topicStanding = node.oneOf("topicStanding", TOPIC_STANDINGS, "not-seen");
        String setName = node.text("responses");
        ResponseSet set = responseSets.get(setName);
        if (set == null) {
            node.fault("responses", "'" + setName + "' is no response set. Sets are " + responseSets.keySet() + ".");
        }
        Direction better = better(node);
        Optional<Grip> grip = node.has("grip") ? Optional.of(node.word("grip", GRIPS, Grip.POWER)) : Optional.empty();
        boolean perHand = node.flag("perHand", false);
        Optional<String> module = node.optionalText("module");
        Optional<String> note = node.optionalText("note");
        Optional<String> text = node.optionalText("text");
        node.refuseOtherKeys();
        if (id.isEmpty() || set == null) {
            return Optional.empty();
        }
        return Optional.of(new Item(id.get(), topic, topicStanding, set, better, grip, perHand, module, note, text));
    }

    private Provenance hands(Node node) {
        node.oneOf("both", List.of("mean-of-hands"), "");
        Provenance provenance = provenance(node);
        node.refuseOtherKeys();
        return provenance;
    }

    private Recall recall(Node node) {
        Recall recall = new Recall(node.optionalWhole("days"), node.text("note"), provenance(node));
        node.refuseOtherKeys();
        return recall;
    }

    private Licence licence(Node node) {
        boolean wording = node.flag("wordingIncluded", false);
        String terms = node.oneOf("terms", TERMS, "not-stated");
        Optional<String> spdx = node.optionalText("spdx");
        if (wording && spdx.isEmpty()) {
            node.fault("spdx", "absent. Wording may be included only under a named open licence.");
        }
        Licence licence = new Licence(
                node.text("holder"),
                terms,
                node.text("grantedBy"),
                node.optionalText("note"),
                wording,
                spdx,
                provenance(node));
        node.refuseOtherKeys();
        return licence;
    }

    private ChangeRule change(Node node) {
        ChangeRule.Kind kind = node.word("kind", CHANGES, ChangeRule.Kind.DIFFERENCE);
        ChangeRule rule = new ChangeRule(kind, provenance(node), node.optionalText("note"));
        node.refuseOtherKeys();
        return rule;
    }

    Faults faults() {
        return faults;
    }

    /** {@code standing} and {@code source} of a fact. */
    Provenance provenance(Node node) {
        Standing standing = node.word("standing", STANDINGS, Standing.OURS);
        String source = node.text("source");
        if (!source.equals("?") && (source.isBlank() || !sourceKeys.contains(source))) {
            node.fault("source", "'" + source + "' is no key of sources. Keys are " + sourceKeys + ".");
        }
        if (standing == Standing.PUBLISHED && (source.equals("ours") || source.equals("from-memory"))) {
            node.fault("source", "'" + source + "', but a published fact needs the source it was seen in.");
        }
        return new Provenance(standing, source.isBlank() ? "?" : source);
    }

    static Direction better(Node node) {
        return node.word("better", DIRECTIONS, Direction.LOWER);
    }

    /** Two ascending numbers at {@code key}. */
    Optional<Range> range(Node node, String key, boolean required) {
        List<Double> ends = node.numbers(key);
        if (ends.isEmpty() && !node.has(key)) {
            if (required) {
                node.fault(key, "absent.");
            }
            return Optional.empty();
        }
        if (ends.size() != 2) {
            node.fault(key, "must be two numbers, the lowest and the highest.");
            return Optional.empty();
        }
        return faults.attempt(node.path(key), () -> new Range(ends.get(0), ends.get(1)));
    }
}
