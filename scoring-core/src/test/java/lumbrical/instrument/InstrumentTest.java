package lumbrical.instrument;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** A definition as values: what it gives back, and what it refuses. */
class InstrumentTest {
    private static final ItemRule SUM = new ItemRule.Sum(1, PUBLISHED);

    private static String refusal(Executable what) {
        return assertThrows(IllegalArgumentException.class, what).getMessage();
    }

    private static ExampleInstrument plain() {
        return ExampleInstrument.called("example10")
                .item("1", ExampleInstrument.codes(0, 4))
                .itemPerHand("p_1", ExampleInstrument.codes(0, 4))
                .scale("a", SUM, ExampleInstrument.noneMissing(), new Range(0, 4), "1")
                .scale("b", SUM, ExampleInstrument.noneMissing(), new Range(0, 4), "p_1");
    }

    @Test
    void anItemAskedPerHandHasTwoColumns() {
        Instrument instrument = plain().build();
        assertEquals(
                List.of("0 example10_1 ", "1 example10_p_1_right right", "2 example10_p_1_left left"),
                instrument.columns().stream()
                        .map(c -> c.index() + " " + c.name() + " "
                                + c.hand().map(Side::code).orElse(""))
                        .toList());
        assertEquals(2, instrument.column("example10_p_1_left").orElseThrow().index());
        assertEquals(Optional.empty(), instrument.column("example10_p_1"));
    }

    @Test
    void findsItsPartsByName() {
        Instrument instrument = plain().build();
        assertEquals("example10", instrument.id().value());
        assertEquals("example10@3", instrument.definition());
        assertEquals("example10@3", instrument.toString());
        assertEquals(
                List.of("a", "b"),
                instrument.scales().stream().map(s -> s.id().toString()).toList());
        assertEquals("b", instrument.scale(new ScaleId("b")).orElseThrow().id().value());
        assertEquals(Optional.empty(), instrument.scale(new ScaleId("c")));
        assertEquals(Optional.empty(), instrument.threshold("none"));
        assertEquals("paper", instrument.source("paper").orElseThrow().key());
        assertEquals(Optional.empty(), instrument.source("other"));
        assertEquals(
                List.of(false, true),
                instrument.scales().stream().map(instrument::perHand).toList());
    }

    @Test
    void twoThingsOfOneNameAreRefused() {
        assertEquals(
                "Two columns are called example10_1",
                refusal(() -> plain().item("1", ExampleInstrument.codes(0, 1)).build()));
        assertEquals("Two scales are called a", refusal(() -> plain().scale(
                        "a", SUM, ExampleInstrument.noneMissing(), new Range(0, 4), "1")
                .build()));
    }

    @Test
    void aPartIsDeclaredBeforeTheScaleThatNeedsIt() {
        assertEquals("Scale total needs part late declared before it", refusal(() -> plain().parts(
                        "total", new PartRule.SumOfParts(PUBLISHED), new Range(0, 8), "a", "late")
                .scale("late", SUM, ExampleInstrument.noneMissing(), new Range(0, 4), "1")
                .build()));
    }

    @ParameterizedTest
    @ValueSource(strings = {"EX1", "EX100", "ex10", "1X10", "EX-0", ""})
    void aShortCodeHasFourCapitalsOrDigits(String code) {
        Instrument.Facts f = plain().build().facts();
        assertEquals(
                "shortCode is '" + code + "', but must be four capital letters or digits",
                refusal(() -> new Instrument.Facts(
                        f.id(),
                        f.version(),
                        code,
                        f.variantOf(),
                        f.title(),
                        f.measures(),
                        f.answeredFor(),
                        f.recall(),
                        f.licence(),
                        f.sources(),
                        f.responseSets(),
                        f.items(),
                        f.scales(),
                        f.hands(),
                        f.change(),
                        f.thresholds(),
                        f.notes())));
    }

    @Test
    void scalesAreMadeOfSomething() {
        assertEquals(
                "A scale needs at least one item",
                refusal(() ->
                        new Composition.FromItems(List.of(), SUM, ExampleInstrument.noneMissing(), Optional.empty())));
        assertEquals(
                "A scale of parts needs at least two",
                refusal(() -> new Composition.FromParts(
                        List.of(new Composition.Part(new ScaleId("a"), false)), new PartRule.SumOfParts(PUBLISHED))));
    }

    @ParameterizedTest
    @CsvSource({
        // codes 1 to 5: 0 is the best, 100 the worst
        "LOWER, 1, 0",
        "LOWER, 2, 25",
        "LOWER, 5, 100",
        "HIGHER, 1, 100",
        "HIGHER, 2, 75",
        "HIGHER, 5, 0"
    })
    void difficultyRunsFromTheBestToTheWorstCode(Direction better, double code, double difficulty) {
        Item item = ExampleInstrument.called("example10")
                .item("1", ExampleInstrument.codes(1, 5), better, false, Optional.empty())
                .scale("a", SUM, ExampleInstrument.noneMissing(), new Range(1, 5))
                .build()
                .facts()
                .items()
                .get(0);
        assertEquals(difficulty, item.difficulty(code));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "A", "1a", "a-b", "a_b", "a b", "ä"})
    void anInstrumentIdIsLettersAndDigits(String id) {
        assertEquals(
                "'" + id + "' is no instrument id: it must match [a-z][a-z0-9]*", refusal(() -> new InstrumentId(id)));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "A", "1a", "a--b", "-a", "a-", "a_b"})
    void aScaleIdIsWordsJoinedByHyphens(String id) {
        assertEquals(
                "'" + id + "' is no scale id: it must match [a-z][a-z0-9]*(-[a-z0-9]+)*",
                refusal(() -> new ScaleId(id)));
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "A", "a__b", "_a", "a_", "a-b"})
    void anItemIdIsWordsJoinedByUnderscores(String id) {
        assertEquals("'" + id + "' is no item id: it must match [a-z0-9]+(_[a-z0-9]+)*", refusal(() -> new ItemId(id)));
    }

    @Test
    void idsHaveAtMostFortyCharacters() {
        String forty = "a".repeat(40);
        assertEquals(forty, new InstrumentId(forty).toString());
        assertEquals(forty, new ScaleId(forty).toString());
        assertEquals(forty, new ItemId(forty).toString());
        assertThrows(IllegalArgumentException.class, () -> new InstrumentId(forty + "a"));
        assertThrows(IllegalArgumentException.class, () -> new ScaleId(forty + "a"));
        assertThrows(IllegalArgumentException.class, () -> new ItemId(forty + "a"));
    }

    @Test
    void idsSortAsText() {
        assertEquals(
                List.of("a", "b"),
                Stream.of("b", "a")
                        .map(ScaleId::new)
                        .sorted()
                        .map(ScaleId::value)
                        .toList());
        assertEquals(
                List.of("a", "b"),
                Stream.of("b", "a")
                        .map(InstrumentId::new)
                        .sorted()
                        .map(InstrumentId::value)
                        .toList());
        assertEquals(
                List.of("1", "2"),
                Stream.of("2", "1").map(ItemId::new).sorted().map(ItemId::value).toList());
    }

    @ParameterizedTest
    @CsvSource({"2, 1", "NaN, 1", "1, NaN", "-Infinity, 1", "1, Infinity"})
    void aRangeRunsFromLowToHigh(double low, double high) {
        assertEquals("No range: from " + low + " to " + high, refusal(() -> new Range(low, high)));
    }

    @ParameterizedTest
    @CsvSource({"1, true", "3, true", "2, true", "0.99, false", "3.01, false", "NaN, false"})
    void aRangeHoldsItsEnds(double value, boolean held) {
        assertEquals(held, new Range(1, 3).contains(value));
        assertEquals(2, new Range(1, 3).width());
        assertEquals(0, new Range(1, 1).width());
    }

    @ParameterizedTest
    @CsvSource({"LOWER, 10, 4, 6", "LOWER, 4, 10, -6", "HIGHER, 10, 4, -6", "HIGHER, 4, 10, 6"})
    void improvementIsPositiveWhenThePersonGotBetter(Direction better, double from, double to, double improvement) {
        assertEquals(improvement, better.improvement(from, to));
    }

    @Test
    void aSourceIsCitedInOneLine() {
        assertEquals("A, J, 1999", new Source("k", "A, J, 1999", Optional.empty(), Optional.empty()).inOneLine());
        assertEquals(
                "A, J, 1999 (p. 7). DOI 10.0/x",
                new Source("k", "A, J, 1999", Optional.of("10.0/x"), Optional.of("p. 7")).inOneLine());
    }

    @Test
    void aFactHasASource() {
        assertEquals("A fact needs the key of its source", refusal(() -> new Provenance(Standing.OURS, " ")));
        assertEquals(
                List.of(true, false, false, false),
                Stream.of(Standing.values())
                        .map(s -> new Provenance(s, "k").published())
                        .toList());
    }
}
