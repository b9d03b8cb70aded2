package lumbrical.scoring;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.TreeMap;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import lumbrical.instrument.AnsweredFor;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemId;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Licence;
import lumbrical.instrument.Metric;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Recall;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Standing;

/** Invented instruments for tests. */
public final class TestInstruments {
    static final Provenance PUBLISHED = new Provenance(Standing.PUBLISHED, "paper");
    static final Provenance OURS = new Provenance(Standing.OURS, "ours");

    private TestInstruments() {}

    /** One scale {@code total} over {@code items} items coded {@code low} to {@code high}. */
    public static Instrument of(int items, int low, int high, ItemRule rule, MissingRule missing, Range range) {
        ResponseSet codes = new ResponseSet.Codes(
                "codes",
                DoubleStream.iterate(low, c -> c <= high, c -> c + 1).boxed().toList(),
                new TreeMap<>(),
                PUBLISHED);
        List<Item> list = IntStream.rangeClosed(1, items)
                .mapToObj(i -> new Item(
                        new ItemId(String.valueOf(i)),
                        "item " + i,
                        "ours",
                        codes,
                        Direction.LOWER,
                        Optional.empty(),
                        false,
                        Optional.empty(),
                        Optional.empty(),
                        Optional.empty()))
                .toList();
        Composition made = new Composition.FromItems(
                list.stream().map(i -> new Composition.ScaleItem(i, false)).toList(), rule, missing, Optional.empty());
        Scale total = new Scale(
                new ScaleId("total"),
                "Total",
                made,
                range,
                Direction.LOWER,
                Metric.ZERO_TO_HUNDRED,
                false,
                true,
                Optional.empty(),
                Optional.empty());
        return instrument(list, List.of(codes), List.of(total));
    }

    static Instrument instrument(List<Item> items, List<ResponseSet> codes, List<Scale> scales) {
        return Instrument.of(new Instrument.Facts(
                new InstrumentId("example10"),
                "1",
                "EX10",
                Optional.empty(),
                "Invented instrument",
                "Nothing.",
                AnsweredFor.PERSON,
                new Recall(OptionalInt.of(7), "the past week", OURS),
                new Licence("us", "open", "us", Optional.empty(), false, Optional.empty(), OURS),
                List.of(),
                codes,
                items,
                scales,
                Optional.empty(),
                new ChangeRule(ChangeRule.Kind.DIFFERENCE, OURS, Optional.empty()),
                List.of(),
                List.of()));
    }

    /** The mean of the answered stands in when {@code minimum} is met. */
    public static MissingRule meanOfAnswered(MissingRule.Minimum minimum) {
        return new MissingRule.MeanOfAnswered(minimum, MissingRule.StatedBy.MANUAL, PUBLISHED, Optional.empty());
    }
}
