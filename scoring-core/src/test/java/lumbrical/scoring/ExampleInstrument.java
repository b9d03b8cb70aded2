package lumbrical.scoring;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.DoubleStream;
import java.util.stream.Stream;
import lumbrical.instrument.AnsweredFor;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Licence;
import lumbrical.instrument.Metric;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Recall;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Source;
import lumbrical.instrument.Standing;
import lumbrical.instrument.Threshold;

/** Puts an invented instrument together in few words. In lists of items and parts a leading {@code -} reverses. */
public final class ExampleInstrument {
    public static final Provenance PUBLISHED = new Provenance(Standing.PUBLISHED, "paper");
    public static final Provenance SECOND_HAND = new Provenance(Standing.SECOND_HAND, "paper");
    public static final Provenance FROM_MEMORY = new Provenance(Standing.FROM_MEMORY, "from-memory");
    public static final Provenance OURS = new Provenance(Standing.OURS, "ours");

    private final String id;
    private final List<ResponseSet> sets = new ArrayList<>();
    private final List<Item> items = new ArrayList<>();
    private final List<Scale> scales = new ArrayList<>();
    private final List<Threshold> thresholds = new ArrayList<>();
    private Optional<Provenance> hands = Optional.empty();
    private ChangeRule.Kind change = ChangeRule.Kind.DIFFERENCE;

    private ExampleInstrument(String id) {
        this.id = id;
    }

    public static ExampleInstrument called(String id) {
        return new ExampleInstrument(id);
    }

    /** Whole codes from {@code low} to {@code high}. */
    public static ResponseSet codes(int low, int high) {
        return codes(
                PUBLISHED, DoubleStream.iterate(low, c -> c <= high, c -> c + 1).toArray());
    }

    public static ResponseSet codes(Provenance provenance, double... codes) {
        return new ResponseSet.Codes("codes", DoubleStream.of(codes).boxed().toList(), new TreeMap<>(), provenance);
    }

    public static ResponseSet mark(double low, double high) {
        return new ResponseSet.Continuous("mark", new Range(low, high), new TreeMap<>(), PUBLISHED);
    }

    public static MissingRule noneMissing() {
        return new MissingRule.NoneAllowed(MissingRule.StatedBy.MANUAL, PUBLISHED, Optional.empty());
    }

    public static MissingRule atLeast(int answered) {
        return atLeast(answered, PUBLISHED);
    }

    public static MissingRule atLeast(int answered, Provenance provenance) {
        return new MissingRule.MeanOfAnswered(
                new MissingRule.Minimum.Answered(answered), MissingRule.StatedBy.PAPER, provenance, Optional.empty());
    }

    public static MissingRule rated(int answered) {
        return new MissingRule.RatedOnly(
                new MissingRule.Minimum.Answered(answered), MissingRule.StatedBy.CONVENTION, OURS, Optional.empty());
    }

    /** Items {@code 1} to {@code count}. */
    public ExampleInstrument items(int count, ResponseSet responses) {
        for (int i = 1; i <= count; i++) {
            item(String.valueOf(i), responses);
        }
        return this;
    }

    public ExampleInstrument item(String itemId, ResponseSet responses) {
        return item(itemId, responses, Direction.LOWER, false, Optional.empty());
    }

    public ExampleInstrument itemPerHand(String itemId, ResponseSet responses) {
        return item(itemId, responses, Direction.LOWER, true, Optional.empty());
    }

    public ExampleInstrument item(
            String itemId, ResponseSet responses, Direction better, boolean perHand, Optional<Grip> grip) {
        sets.add(responses);
        items.add(new Item(
                new ItemId(itemId),
                "topic " + itemId,
                "ours",
                responses,
                better,
                grip,
                perHand,
                Optional.empty(),
                Optional.empty(),
                Optional.empty()));
        return this;
    }

    /** A scale of these items; without any named, of all there are so far. */
    public ExampleInstrument scale(String scaleId, ItemRule rule, MissingRule missing, Range range, String... of) {
        Stream<String> named =
                of.length > 0 ? Arrays.stream(of) : items.stream().map(i -> i.id().value());
        List<Composition.ScaleItem> used = named.map(
                        name -> new Composition.ScaleItem(itemCalled(plain(name)), name.startsWith("-")))
                .toList();
        return scale(scaleId, new Composition.FromItems(used, rule, missing, Optional.empty()), range);
    }

    public ExampleInstrument parts(String scaleId, PartRule rule, Range range, String... of) {
        List<Composition.Part> parts = Arrays.stream(of)
                .map(name -> new Composition.Part(new ScaleId(plain(name)), name.startsWith("-")))
                .toList();
        return scale(scaleId, new Composition.FromParts(parts, rule), range);
    }

    private ExampleInstrument scale(String scaleId, Composition made, Range range) {
        scales.add(new Scale(
                new ScaleId(scaleId),
                "Title of " + scaleId,
                made,
                range,
                Direction.LOWER,
                Metric.ZERO_TO_HUNDRED,
                false,
                true,
                Optional.empty(),
                Optional.empty()));
        return this;
    }

    private static String plain(String name) {
        return name.startsWith("-") ? name.substring(1) : name;
    }

    private Item itemCalled(String itemId) {
        return items.stream()
                .filter(i -> i.id().value().equals(itemId))
                .findFirst()
                .orElseThrow();
    }

    /** In the last scale, {@code code} of that item skips the others. */
    public ExampleInstrument skip(String itemId, double code, double score, Provenance provenance) {
        Scale s = last();
        Composition.FromItems made = (Composition.FromItems) s.composition();
        Composition.Skip skip = new Composition.Skip(itemCalled(itemId), code, score, provenance, Optional.empty());
        Composition with = new Composition.FromItems(made.items(), made.rule(), made.missing(), Optional.of(skip));
        return replaceLast(with, s.better(), s.optional(), s.reported(), s.noVerdictBefore(), s.defaults());
    }

    /** The last scale is an optional module. */
    public ExampleInstrument optional() {
        Scale s = last();
        return replaceLast(s.composition(), s.better(), true, s.reported(), s.noVerdictBefore(), s.defaults());
    }

    /** The last scale is only a step of another. */
    public ExampleInstrument onlyStep() {
        Scale s = last();
        return replaceLast(s.composition(), s.better(), s.optional(), false, s.noVerdictBefore(), s.defaults());
    }

    /** In the last scale higher is better. */
    public ExampleInstrument higherIsBetter() {
        Scale s = last();
        return replaceLast(
                s.composition(), Direction.HIGHER, s.optional(), s.reported(), s.noVerdictBefore(), s.defaults());
    }

    /** Changes of the last scale are not judged before that day. */
    public ExampleInstrument noVerdictBefore(int day) {
        Scale s = last();
        Optional<Scale.NoVerdictBefore> early = Optional.of(new Scale.NoVerdictBefore(day, "invented", PUBLISHED));
        return replaceLast(s.composition(), s.better(), s.optional(), s.reported(), early, s.defaults());
    }

    /** Default thresholds of the last scale; blank = none. */
    public ExampleInstrument defaults(String mcid, String mdc, String pass) {
        Scale s = last();
        Scale.Defaults defaults = new Scale.Defaults(filled(mcid), filled(mdc), filled(pass), "invented");
        return replaceLast(
                s.composition(), s.better(), s.optional(), s.reported(), s.noVerdictBefore(), Optional.of(defaults));
    }

    private static Optional<String> filled(String text) {
        return Optional.of(text).filter(t -> !t.isEmpty());
    }

    private Scale last() {
        return scales.get(scales.size() - 1);
    }

    private ExampleInstrument replaceLast(
            Composition made,
            Direction better,
            boolean optional,
            boolean reported,
            Optional<Scale.NoVerdictBefore> early,
            Optional<Scale.Defaults> defaults) {
        Scale s = last();
        scales.set(
                scales.size() - 1,
                new Scale(s.id(), s.title(), made, s.range(), better, s.metric(), optional, reported, early, defaults));
        return this;
    }

    /** With both hands affected their scores are averaged. */
    public ExampleInstrument handsAveraged(Provenance provenance) {
        hands = Optional.of(provenance);
        return this;
    }

    public ExampleInstrument change(ChangeRule.Kind kind) {
        change = kind;
        return this;
    }

    public ExampleInstrument threshold(Threshold threshold) {
        thresholds.add(threshold);
        return this;
    }

    /** Responses such as {@code 1=2 3=x}: {@code x} is not allowed, items left out are not answered. */
    public static Responses answers(Instrument instrument, String text) {
        Map<String, Double> byItem = new HashMap<>();
        for (String entry : text.isBlank() ? new String[0] : text.strip().split(" +")) {
            String[] pair = entry.split("=");
            byItem.put(pair[0], pair[1].equals("x") ? Responses.NOT_ALLOWED : Double.parseDouble(pair[1]));
        }
        return Responses.of(instrument, byItem);
    }

    public Instrument build() {
        boolean perHand = items.stream().anyMatch(Item::perHand);
        return Instrument.of(new Instrument.Facts(
                new InstrumentId(id),
                "3",
                "EX10",
                Optional.empty(),
                "Invented instrument",
                "Nothing.",
                perHand ? AnsweredFor.HAND : AnsweredFor.PERSON,
                new Recall(OptionalInt.of(7), "the past week", OURS),
                new Licence("us", "open", "us", Optional.empty(), false, Optional.empty(), OURS),
                List.of(new Source(
                        "paper", "Nobody, Journal of Examples, 1999", Optional.of("10.0/ex"), Optional.of("p. 7"))),
                sets,
                items,
                scales,
                hands,
                new ChangeRule(change, OURS, Optional.empty()),
                thresholds,
                List.of()));
    }
}
