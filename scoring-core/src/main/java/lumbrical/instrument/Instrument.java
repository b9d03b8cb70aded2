package lumbrical.instrument;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/** An instrument's definition, validated. Immutable and safe to share. */
public final class Instrument {
    private static final Pattern SHORT_CODE = Pattern.compile("[A-Z][A-Z0-9]{3}");

    private static final Provenance OURS = new Provenance(Standing.OURS, "ours");

    private final Facts facts;
    private final String definition;
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
     * @param bothHands who says that right and left are averaged when both are affected; empty: no such score
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
            Optional<Provenance> bothHands,
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

    /** The parts of a definition, for one put together in code; what is not said is absent. */
    public static final class Builder {
        private final InstrumentId id;
        private final String version;
        private String shortCode = "OWN1";
        private Optional<InstrumentId> variantOf = Optional.empty();
        private String title;
        private String measures = "not stated";
        private AnsweredFor answeredFor = AnsweredFor.PERSON;
        private Recall recall = new Recall(OptionalInt.empty(), "not stated", OURS);
        private Licence licence = Licence.NOT_STATED;
        private List<Source> sources = List.of();
        private List<Item> items = List.of();
        private List<Scale> scales = List.of();
        private Optional<Provenance> bothHands = Optional.empty();
        private ChangeRule change = new ChangeRule(ChangeRule.Kind.DIFFERENCE, OURS, Optional.empty());
        private List<Threshold> thresholds = List.of();
        private List<String> notes = List.of();

        private Builder(InstrumentId id, String version) {
            this.id = id;
            this.version = version;
            this.title = id.value();
        }

        /** Four capital letters or digits for registry files; {@code OWN1} unless said. */
        public Builder shortCode(String code) {
            this.shortCode = code;
            return this;
        }

        /** The instrument of which this is another coding. */
        public Builder variantOf(InstrumentId other) {
            this.variantOf = Optional.of(other);
            return this;
        }

        /** Its name in words; the id unless said. */
        public Builder title(String words) {
            this.title = words;
            return this;
        }

        /** One sentence on what it measures. */
        public Builder measures(String words) {
            this.measures = words;
            return this;
        }

        /** What it asks about; the person unless said. */
        public Builder answeredFor(AnsweredFor whom) {
            this.answeredFor = whom;
            return this;
        }

        /** The time it asks about; not stated unless said. */
        public Builder recall(Recall period) {
            this.recall = period;
            return this;
        }

        /** Its licence; not stated unless said. */
        public Builder licence(Licence terms) {
            this.licence = terms;
            return this;
        }

        /** Where its facts were found. */
        public Builder sources(List<Source> places) {
            this.sources = places;
            return this;
        }

        /** Its items, in the order of the form. */
        public Builder items(List<Item> asked) {
            this.items = asked;
            return this;
        }

        /** Its scales, parts before what they are parts of. */
        public Builder scales(List<Scale> given) {
            this.scales = given;
            return this;
        }

        /** Who says that right and left are averaged when both are affected; no such score unless said. */
        public Builder bothHands(Provenance who) {
            this.bothHands = Optional.of(who);
            return this;
        }

        /** How change is computed; the difference of two scores unless said. */
        public Builder change(ChangeRule rule) {
            this.change = rule;
            return this;
        }

        /** Numbers against which its scores and changes are set. */
        public Builder thresholds(List<Threshold> numbers) {
            this.thresholds = numbers;
            return this;
        }

        /** Sentences a user should read. */
        public Builder notes(List<String> sentences) {
            this.notes = sentences;
            return this;
        }

        /**
         * The instrument.
         *
         * @throws IllegalArgumentException as {@link Instrument#of}
         */
        public Instrument build() {
            return of(new Facts(
                    id,
                    version,
                    shortCode,
                    variantOf,
                    title,
                    measures,
                    answeredFor,
                    recall,
                    licence,
                    sources,
                    items.stream().map(Item::responses).distinct().toList(),
                    items,
                    scales,
                    bothHands,
                    change,
                    thresholds,
                    notes));
        }
    }

    /** The parts of a definition of one's own. */
    public static Builder builder(InstrumentId id, String version) {
        return new Builder(id, version);
    }

    private Instrument(Facts facts) {
        this.facts = facts;
        this.definition = facts.id() + "@" + facts.version();
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
            scale.composition().fold(items -> List.<Composition.Part>of(), Composition.FromParts::parts).stream()
                    .filter(part -> !seen.contains(part.scale()))
                    .findFirst()
                    .ifPresent(part -> {
                        throw new IllegalArgumentException(
                                "Scale " + scale.id() + " needs part " + part.scale() + " declared before it");
                    });
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
        return definition;
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

    /**
     * The position of the scale with that id among {@link #scales()}, from 0.
     *
     * @throws IllegalArgumentException if it has none of that id
     */
    public int position(ScaleId id) {
        return IntStream.range(0, scales().size())
                .filter(i -> scales().get(i).id().equals(id))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException(definition() + " has no scale " + id));
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

    /**
     * The scale that is a part of another of this instrument.
     *
     * @throws IllegalArgumentException if it has none of that id
     */
    public Scale part(Composition.Part part) {
        return requireScale(part.scale());
    }

    /**
     * The scale with that id, which a result of this instrument names.
     *
     * @throws IllegalArgumentException if it has none of that id
     */
    public Scale requireScale(ScaleId id) {
        return scale(id).orElseThrow(() -> new IllegalArgumentException(definition() + " has no scale " + id));
    }

    /** Whether a scale is asked of each hand: one of its items is, or one of its parts. */
    public boolean perHand(Scale scale) {
        return scale.composition()
                .fold(made -> made.items().stream().anyMatch(i -> i.item().perHand()), made -> made.parts().stream()
                        .anyMatch(p -> perHand(part(p))));
    }

    /** Whether a scale is computed from an item, by itself or through its parts. */
    public boolean uses(Scale scale, Item item) {
        return scale.composition()
                .fold(made -> made.uses(item), made -> made.parts().stream().anyMatch(p -> uses(part(p), item)));
    }

    /** The columns of an item that count for a hand: its only one, or that hand's. */
    public Column column(Item item, Optional<Side> hand) {
        return columns.stream()
                .filter(c -> c.item().id().equals(item.id()))
                .filter(c -> c.hand().isEmpty() || c.hand().equals(hand))
                .findFirst()
                .orElseThrow(
                        () -> new IllegalArgumentException("Item " + item.id() + " is not an item of " + definition()));
    }

    /** By whole value: two definitions are equal if they state the same. */
    @Override
    public boolean equals(Object other) {
        return this == other || other instanceof Instrument i && facts.equals(i.facts);
    }

    @Override
    public int hashCode() {
        return 31 * facts.id().hashCode() + facts.version().hashCode();
    }

    @Override
    public String toString() {
        return definition();
    }
}
