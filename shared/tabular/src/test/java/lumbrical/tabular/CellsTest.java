package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What a text of a cell means. */
class CellsTest {
    /** Spaces by the Unicode character database (category Zs), control characters, and two marks that files carry unseen. */
    @ParameterizedTest
    @ValueSource(strings = {" ", "\t", "\r\n", "\u00A0", "\u2009", "\u3000", "\u2028", "\uFEFF", "\u200B"})
    void whiteSpaceOfAnyKindAroundATextIsNoPartOfIt(String space) {
        assertEquals("P 1", Cells.clean(space + "P 1" + space + space));
        assertEquals("", Cells.clean(space + space));
    }

    @Test
    void whiteSpaceInsideATextStays() {
        assertEquals("a\u00A0b\tc", Cells.clean("a\u00A0b\tc"));
    }

    /** Section 1 of the formats: on reading, one apostrophe before a formula start is removed. */
    @ParameterizedTest
    @CsvSource(
            quoteCharacter = '"',
            value = {"'=1+1,=1+1", "'+1,+1", "'-5,-5", "'@x,@x", "''=x,''=x", "'x,'x", "',\"'\"", "  '-5 ,-5"})
    void oneApostropheBeforeAFormulaStartIsRemovedAndNoOther(String raw, String clean) {
        assertEquals(clean, Cells.clean(raw));
    }

    @Test
    void aHeadingIsMatchedWithoutRegardToCase() {
        assertEquals("quickdash_1", Cells.heading(" QuickDASH_1 "));
        assertEquals("i", Cells.heading("I"), "no letter of one language");
    }

    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "7, 7",
        "10, 10",
        "3.0, 3",
        "+2, 2",
        "-7, -7",
        "0.5, 0.5",
        "007, 7",
        "\uFF11\uFF12, 12",
        "123456789012345, 123456789012345",
        "1.123456789012345, 1.123456789012345"
    })
    void readsNumbersWithADecimalPoint(String text, double expected) {
        assertEquals(OptionalDouble.of(expected), Cells.number(text));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "x",
                "2,3",
                "1e3",
                ".5",
                "5.",
                "1 2",
                "--1",
                "NaN",
                "Infinity",
                "0x1",
                "1234567890123456",
                "1d",
                "\u0663"
            })
    void readsNothingElseAsANumber(String text) {
        assertEquals(OptionalDouble.empty(), Cells.number(text));
    }

    @Test
    void aTextOfOneOddCharacterIsNoNumber() {
        assertEquals(OptionalDouble.empty(), Cells.number("/"), "the character before 0");
        assertEquals(OptionalDouble.empty(), Cells.number(":"), "the character after 9");
    }

    /** A right-to-left override (U+202E) or an escape sequence in a file name could make a message read as another. */
    @Test
    void whatCouldChangeAMessageIsShownAsAQuestionMark() {
        assertEquals("a?b?c?d?e", Cells.printable("a\u202Eb\u001B" + "c\u2028d\u2029e"));
        assertEquals("a?", Cells.printable("a\uD800"), "half of a surrogate pair");
        assertEquals("\u00C4rzte \uD83D\uDE00", Cells.printable("\u00C4rzte \uD83D\uDE00"));
    }

    @Test
    void aLongTextIsCutAfterSixtyCharacters() {
        assertEquals("x".repeat(60), Cells.printable("x".repeat(60)));
        assertEquals("x".repeat(60) + "...", Cells.printable("x".repeat(61)));
        assertEquals("\uD83D\uDE00".repeat(60) + "...", Cells.printable("\uD83D\uDE00".repeat(61)));
    }
}
