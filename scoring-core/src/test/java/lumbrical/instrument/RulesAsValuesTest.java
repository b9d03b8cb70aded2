package lumbrical.instrument;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.TreeMap;
import lumbrical.scoring.ExampleInstrument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Response sets, formulas and limits of missing items as values. */
class RulesAsValuesTest {
    private static String refusal(Executable what) {
        return assertThrows(IllegalArgumentException.class, what).getMessage();
    }

    /** Worked by hand: percentages of the number of items, rounded up, and for 'more than' to the next whole item. */
    @ParameterizedTest
    @CsvSource({
        // kind, number, items, required
        "answered, 27, 30, 27",
        "answered, 1, 30, 1",
        "at-least, 50, 8, 4",
        "at-least, 50, 9, 5",
        "at-least, 51, 100, 51",
        "at-least, 90, 30, 27",
        "at-least, 1, 4, 1",
        "at-least, 1, 100, 1",
        "at-least, 1, 101, 2",
        "at-least, 100, 7, 7",
        "at-least, 50, 1, 1",
        "more-than, 50, 8, 5",
        "more-than, 50, 9, 5",
        "more-than, 0, 9, 1",
        "more-than, 99, 100, 100",
        "more-than, 75, 4, 4"
    })
    void theFewestAnsweredItems(String kind, int number, int items, int required) {
        MissingRule.Minimum minimum =
                switch (kind) {
                    case "answered" -> new MissingRule.Minimum.Answered(number);
                    case "at-least" -> new MissingRule.Minimum.AtLeastPercent(number);
                    default -> new MissingRule.Minimum.MoreThanPercent(number);
                };
        assertEquals(required, minimum.required(items));
    }

    @Test
    void aLimitSaysItselfInWords() {
        assertEquals("at least 10", new MissingRule.Minimum.Answered(10).inWords());
        assertEquals("at least 50 %", new MissingRule.Minimum.AtLeastPercent(50).inWords());
        assertEquals("more than 50 %", new MissingRule.Minimum.MoreThanPercent(50).inWords());
    }

    @Test
    void limitsThatCannotBeAreRefused() {
        assertEquals("At least one item must be answered", refusal(() -> new MissingRule.Minimum.Answered(0)));
        assertEquals("0 percent: must be from 1 to 100", refusal(() -> new MissingRule.Minimum.AtLeastPercent(0)));
        assertEquals("101 percent: must be from 1 to 100", refusal(() -> new MissingRule.Minimum.AtLeastPercent(101)));
        assertEquals("-1 percent: must be from 0 to 99", refusal(() -> new MissingRule.Minimum.MoreThanPercent(-1)));
        assertEquals("100 percent: must be from 0 to 99", refusal(() -> new MissingRule.Minimum.MoreThanPercent(100)));
    }

    @Test
    void formulasThatCannotBeAreRefused() {
        assertEquals(
                "A sum is divided by a number greater than 0, not 0.0", refusal(() -> new ItemRule.Sum(0, PUBLISHED)));
        assertEquals(
                "A sum is divided by a number greater than 0, not NaN",
                refusal(() -> new ItemRule.Sum(Double.NaN, PUBLISHED)));
        assertEquals("A mean times 0 is no score", refusal(() -> new ItemRule.RescaledMean(1, 0, PUBLISHED)));
        assertEquals(
                "The sums that give 0 and 100 must differ", refusal(() -> new ItemRule.RescaledSum(4, 4, PUBLISHED)));
    }

    /** Rows written {@code raw:score}. */
    private static ItemRule.Table table(String rows) {
        List<ItemRule.Table.Row> list = new ArrayList<>();
        for (String row : rows.isEmpty() ? new String[0] : rows.split(" ")) {
            String[] pair = row.split(":");
            list.add(new ItemRule.Table.Row(
                    Integer.parseInt(pair[0]), Double.parseDouble(pair[1]), OptionalDouble.empty()));
        }
        return new ItemRule.Table(list, PUBLISHED);
    }

    @ParameterizedTest
    @CsvSource({"4:20 5:21 6:30, 3", "4:30 5:21 6:20, 3", "4:20 5:21, 2"})
    void aTableRisesOrFallsThroughout(String rows, int size) {
        assertEquals(size, table(rows).rows().size());
    }

    @ParameterizedTest
    @CsvSource({
        "'', A table needs at least two rows",
        "4:20, A table needs at least two rows",
        "4:20 6:21, Table breaks at raw sum 6",
        "4:20 4:21, Table breaks at raw sum 4",
        "4:20 5:21 6:20, Table breaks at raw sum 6",
        "4:20 5:21 6:21, Table breaks at raw sum 6",
        "4:20 5:20, Table breaks at raw sum 5",
        "4:20 5:19 6:25, Table breaks at raw sum 6"
    })
    void aBrokenTableIsRefused(String rows, String message) {
        assertEquals(message, refusal(() -> table(rows)));
    }

    @Test
    void aTableGivesStandardErrorsThroughoutOrNotAtAll() {
        ItemRule.Table.Row with = new ItemRule.Table.Row(4, 20, OptionalDouble.of(2));
        ItemRule.Table.Row without = new ItemRule.Table.Row(5, 21, OptionalDouble.empty());
        assertEquals(
                "A table gives a standard error in every row or in none",
                refusal(() -> new ItemRule.Table(List.of(with, without), PUBLISHED)));
        ItemRule.Table both =
                new ItemRule.Table(List.of(with, new ItemRule.Table.Row(5, 21, OptionalDouble.of(3))), PUBLISHED);
        assertEquals(true, both.hasStandardError());
        assertEquals(3, both.standardError(5));
        assertEquals(false, table("4:20 5:21").hasStandardError());
        assertEquals(
                "The table gives no standard error",
                assertThrows(IllegalStateException.class, () -> table("4:20 5:21")
                                .standardError(4))
                        .getMessage());
        ItemRule sum = new ItemRule.Sum(1, PUBLISHED);
        assertEquals(false, sum.hasStandardError());
        assertEquals(
                "The rule gives no standard error",
                assertThrows(IllegalStateException.class, () -> sum.standardError(4))
                        .getMessage());
    }

    @Test
    void codesAscendAndAreNotEmpty() {
        assertEquals("Response set codes has no codes", refusal(() -> ExampleInstrument.codes(PUBLISHED)));
        assertEquals(
                "Codes of response set codes must ascend", refusal(() -> ExampleInstrument.codes(PUBLISHED, 1, 1)));
        assertEquals(
                "Codes of response set codes must ascend", refusal(() -> ExampleInstrument.codes(PUBLISHED, 0, 2, 1)));
    }

    @ParameterizedTest
    @CsvSource({"0, true", "-0.0, true", "0.5, true", "1, true", "0.7, false", "-1, false", "2, false", "NaN, false"})
    void codesAllowThemselves(double value, boolean allowed) {
        ResponseSet codes = ExampleInstrument.codes(PUBLISHED, 0, 0.5, 1);
        assertEquals(allowed, codes.allows(value));
        assertEquals(List.of(0.0, 1.0), List.of(codes.low(), codes.high()));
    }

    @ParameterizedTest
    @CsvSource({"10, true", "55.5, true", "100, true", "9.9, false", "100.1, false", "NaN, false"})
    void aMarkLiesInItsRange(double value, boolean allowed) {
        ResponseSet mark = ExampleInstrument.mark(10, 100);
        assertEquals(allowed, mark.allows(value));
        assertEquals(List.of(10.0, 100.0), List.of(mark.low(), mark.high()));
    }

    @Test
    void labelsAreCopiedAndCannotBeChanged() {
        TreeMap<Double, String> labels = new TreeMap<>();
        labels.put(0.0, "none");
        ResponseSet codes = new ResponseSet.Codes("c", List.of(0.0, 1.0), labels, PUBLISHED);
        ResponseSet mark = new ResponseSet.Continuous("m", new Range(0, 1), labels, PUBLISHED);
        labels.put(1.0, "later");
        assertEquals("none", codes.labels().get(0.0));
        assertEquals(1, codes.labels().size());
        assertEquals(1, mark.labels().size());
        assertThrows(UnsupportedOperationException.class, () -> codes.labels().put(1.0, "x"));
        assertThrows(UnsupportedOperationException.class, () -> mark.labels().put(1.0, "x"));
    }
}
