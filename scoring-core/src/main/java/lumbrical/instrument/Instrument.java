package lumbrical.instrument;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/** An instrument's definition, validated. Immutable and safe to share. */
public final class Instrument {
    private static final Pattern SHORT_CODE = Pattern.compile("[A-Z][A-Z0-9]{3}");

    private final Facts facts;
    private final Map<String, Column> columnsByName;
    private final List<Column> columns;
    private final Map<ScaleId, Scale> scales;
    private final Map<String, Threshold> thresholds;

    /**
     * All that a definition states, in its order.
     *
     * @param shortCode four capital letters or digits, from which registry files make names of at most eight
     * @param variantOf the instrument of which this is another coding
     * @param measures one sentence on what it measures
     * @param hands who says that right and left are averaged when both are affected; empty: no such score
     * @param notes sentences a user should read
     */
    public record Facts(
            InstrumentId id,
            String version,
            String shortCode,
            Optional<InstrumentId> variantOf,
            String title,
            String measures,
            AnsweredFor answeredFor,
            Recall recall,
            Licence licence,
            List<Source> sources,
            List<ResponseSet> responseSets,
            List<Item> items,
            List<Scale> scales,
            Optional<Provenance> hands,
            ChangeRule change,
            List<Threshold> thresholds,
            List<String> notes) {
        /** @throws IllegalArgumentException if {@code shortCode} is not four capital letters or digits, the first a letter */
        public Facts {
            sources = List.copyOf(sources);
            responseSets = List.copyOf(responseSets);
            items = List.copyOf(items);
            scales = List.copyOf(scales);
            thresholds = List.copyOf(thresholds);
            notes = List.copyOf(notes);
            if (!isShortCode(shortCode)) {
                throw new IllegalArgumentException(
                        "shortCode is '" + shortCode + "', but must be four capital letters or digits");
            }
        }

        /** Whether a text is four capital letters or digits, the first a letter. */
        public static boolean isShortCode(String text) {
            return SHORT_CODE.matcher(text).matches();
        }
    }

    private Instrument(Facts facts) {
        this.facts = facts;
        this.columns = columnsOf(facts);
        this.columnsByName = byKey(columns, Column::name, "column");
        this.scales = byKey(facts.scales(), Scale::id, "scale");
        this.thresholds = byKey(facts.thresholds(), Threshold::id, "threshold");
    }

    /**
     * The instrument that these facts describe.
     *
     * @throws IllegalArgumentException if two items, scales or thresholds share an id, or a scale's part is not declared before
     *     it
     */
    public static Instrument of(Facts facts) {
        Instrument instrument = new Instrument(facts);
        List<ScaleId> seen = new ArrayList<>();
        for (Scale scale : facts.scales()) {
            if (scale.composition() instanceof Composition.FromParts made) {
                made.parts().stream()
                        .filter(part -> !seen.contains(part.scale()))
                        .findFirst()
                        .ifPresent(part -> {
                            throw new IllegalArgumentException(
                                    "Scale " + scale.id() + " needs part " + part.scale() + " declared before it");
                        });
            }
            seen.add(scale.id());
        }
        return instrument;
    }

    private static List<Column> columnsOf(Facts facts) {
        List<Column> columns = new ArrayList<>();
        for (Item item : facts.items()) {
            String name = facts.id() + "_" + item.id();
            if (item.perHand()) {
                columns.add(new Column(columns.size(), name + "_right", item, Optional.of(Side.RIGHT)));
                columns.add(new Column(columns.size(), name + "_left", item, Optional.of(Side.LEFT)));
            } else {
                columns.add(new Column(columns.size(), name, item, Optional.empty()));
            }
        }
        return List.copyOf(columns);
    }

    private static <K, V> Map<K, V> byKey(List<V> values, Function<V, K> key, String what) {
        return values.stream()
                .collect(Collectors.toMap(
                        key,
                        Function.identity(),
                        (a, b) -> {
                            throw new IllegalArgumentException("Two " + what + "s are called " + key.apply(a));
                        },
                        LinkedHashMap::new));
    }

    /** Its id, the prefix of its columns. */
    public InstrumentId id() {
        return facts.id();
    }

    /** {@code id@version}, as written beside every score. */
    public String definition() {
        return facts.id() + "@" + facts.version();
    }

    /** All that the definition states. */
    public Facts facts() {
        return facts;
    }

    /** Response columns in the order of the items; an item asked per hand has a right and a left column. */
    public List<Column> columns() {
        return columns;
    }

    /** The column with that full heading, in lower case, such as {@code <instrument>_<item>}. */
    public Optional<Column> column(String name) {
        return Optional.ofNullable(columnsByName.get(name));
    }

    /** Scales in the order of the definition. */
    public List<Scale> scales() {
        return facts.scales();
    }

    /** The scale with that id. */
    public Optional<Scale> scale(ScaleId id) {
        return Optional.ofNullable(scales.get(id));
    }

    /** Thresholds in the order of the definition. */
    public List<Threshold> thresholds() {
        return facts.thresholds();
    }

    /** The threshold with that id. */
    public Optional<Threshold> threshold(String id) {
        return Optional.ofNullable(thresholds.get(id));
    }

    /** The source with that key. */
    public Optional<Source> source(String key) {
        return facts.sources().stream().filter(s -> s.key().equals(key)).findFirst();
    }

    /** Whether a scale is asked of each hand: one of its items is, or one of its parts. */
    public boolean perHand(Scale scale) {
        if (scale.composition() instanceof Composition.FromItems made) {
            return made.items().stream().anyMatch(i -> i.item().perHand());
        }
        return ((Composition.FromParts) scale.composition())
                .parts().stream().anyMatch(p -> perHand(scales.get(p.scale())));
    }

    @Override
    public String toString() {
        return definition();
    }
}
