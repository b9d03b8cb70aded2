package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.problem.Remedy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Text tables: RFC 4180, the encodings of section 2 of the formats, and what is refused. */
class CsvReaderTest {
    @TempDir
    private Path folder;

    private Path file(String text, Charset charset) throws IOException {
        return Files.write(folder.resolve("t.csv"), text.getBytes(charset));
    }

    private Map<Integer, List<String>> rows(String text) throws IOException {
        return ReadRows.of(file(text, StandardCharsets.UTF_8)).rows;
    }

    private String refusal(Path file, Optional<Charset> encoding) {
        return assertThrows(
                        UnreadableInputException.class, () -> ReadRows.of(new Input(file, Optional.empty()), encoding))
                .getMessage();
    }

    /** The examples of RFC 4180, section 2, rules 1 to 7. */
    @ParameterizedTest
    @ValueSource(strings = {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa,bbb,ccc\r\nzzz,yyy,xxx"})
    void theLastLineMayOrMayNotEnd(String text) throws IOException {
        assertEquals(Map.of(1, List.of("aaa", "bbb", "ccc"), 2, List.of("zzz", "yyy", "xxx")), rows(text));
    }

    @Test
    void readsTheQuotedExamplesOfTheStandard() throws IOException {
        assertEquals(
                Map.of(1, List.of("aaa", "bbb", "ccc"), 2, List.of("zzz", "yyy", "xxx")),
                rows("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"));
        assertEquals(
                Map.of(1, List.of("aaa", "b\r\nbb", "ccc"), 2, List.of("zzz", "yyy", "xxx")),
                rows("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"));
        assertEquals(Map.of(1, List.of("aaa", "b\"bb", "ccc")), rows("\"aaa\",\"b\"\"bb\",\"ccc\""));
        assertEquals(Map.of(1, List.of("a", " b ", "")), rows("a, b ,"), "rule 4: spaces are part of a field");
    }

    @ParameterizedTest
    @ValueSource(strings = {"\r\n", "\n", "\r"})
    void linesMayEndAsOnAnySystem(String end) throws IOException {
        assertEquals(
                Map.of(1, List.of("a", "b"), 2, List.of("1", "2"), 3, List.of(""), 4, List.of("3")),
                rows("a,b" + end + "1,2" + end + end + "3" + end));
    }

    @Test
    void aLineBreakInsideQuotesMakesNoRow() throws IOException {
        assertEquals(List.of("next"), rows("a\n\"two\nlines\"\nnext\n").get(3), "as a spreadsheet numbers rows");
    }

    @ParameterizedTest
    @CsvSource(
            quoteCharacter = '`',
            value = {
                "a;b;c | ;",
                "a,b,c | `,`",
                "a;b,c;d | ;",
                "a,b;c | `,`",
                "`\"a;b;c\",d` | `,`",
                "alone | `,`",
                "`a,b;c\"` | `,`",
                "a,b;c;d | ;"
            },
            delimiter = '|')
    void theHeaderShowsWhatSeparatesCells(String header, char expected) {
        assertEquals(expected, CsvReader.delimiter(header));
    }

    @Test
    void onlyTheFirstFilledLineShowsWhatSeparatesCells() {
        assertEquals('\t', CsvReader.delimiter("\r\n\r\na\tb\n1,2,3,4"));
        assertEquals('\t', CsvReader.delimiter("a\tb\tc,d"));
        assertEquals(';', CsvReader.delimiter("Scores of May\r\na;b\r\n1;2,5"), "a title has no separator");
        assertEquals(',', CsvReader.delimiter("\"a\nb;c\",d\n1;2;3"), "a quoted heading of two lines");
    }

    @Test
    void semicolonsAndTabsSeparateAsCommasDo() throws IOException {
        assertEquals(Map.of(1, List.of("a", "b"), 2, List.of("1,5", "x;y")), rows("a;b\n1,5;\"x;y\"\n"));
        assertEquals(Map.of(1, List.of("a", "b"), 2, List.of("1,5", "x")), rows("a\tb\n1,5\tx\n"));
    }

    @Test
    void aByteOrderMarkIsNoPartOfTheFirstHeading() throws IOException {
        assertEquals(Map.of(1, List.of("\u00E4", "b")), rows("\uFEFF\u00E4,b"));
        assertEquals(
                Map.of(1, List.of("a", "b")),
                ReadRows.of(file("\uFEFFa,b", StandardCharsets.UTF_8), StandardCharsets.ISO_8859_1).rows,
                "the mark says more than a declaration");
        assertEquals(Map.of(1, List.of("a"), 2, List.of("\uFEFFb")), rows("a\n\uFEFFb"), "elsewhere it is a character");
    }

    /** Many programs quote every heading and write a mark before the first. */
    @Test
    void aByteOrderMarkBeforeAQuotedHeadingIsNoPartOfItEither() throws IOException {
        assertEquals(
                Map.of(1, List.of("patient", "a,b"), 2, List.of("P1", "2")),
                rows("\uFEFF\"patient\",\"a,b\"\r\n\"P1\",\"2\"\r\n"));
    }

    @ParameterizedTest
    @ValueSource(strings = {"UTF-16", "UTF-16LE", "UTF-16BE"})
    void readsUtf16WithAMark(String name) throws IOException {
        Charset charset = Charset.forName(name);
        String mark = name.equals("UTF-16") ? "" : "\uFEFF"; // Java writes one for the first name alone
        assertEquals(
                Map.of(1, List.of("patient", "\u00C4"), 2, List.of("P\uD83D\uDE00", "2")),
                ReadRows.of(file(mark + "patient;\u00C4\r\nP\uD83D\uDE00;2\r\n", charset)).rows);
    }

    @Test
    void anotherEncodingIsReadWhenItIsDeclared() throws IOException {
        Charset windows = Charset.forName("windows-1252");
        Path file = file("patient,M\u00FCller\u20AC\r\n", windows);
        assertEquals(Map.of(1, List.of("patient", "M\u00FCller\u20AC")), ReadRows.of(file, windows).rows);
        UnreadableInputException refused = assertThrows(UnreadableInputException.class, () -> ReadRows.of(file));
        assertEquals("t.csv: the text is not UTF-8 throughout. Save it as CSV UTF-8 or as XLSX.", refused.getMessage());
        assertEquals(List.of(new Remedy(Remedy.Kind.ENCODING, "windows-1252")), refused.remedies());
    }

    /** RFC 3629, section 3: overlong forms and halves of surrogate pairs are no UTF-8. */
    @Test
    void whatIsNoUtf8IsRefusedHoweverFarItStands() throws IOException {
        for (byte[] odd : List.of(
                new byte[] {(byte) 0xC0, (byte) 0xAF},
                new byte[] {(byte) 0xED, (byte) 0xA0, (byte) 0x80},
                new byte[] {(byte) 0xE4})) {
            byte[] text = ("a,b\n" + "1,2\n".repeat(50_000)).getBytes(StandardCharsets.UTF_8);
            byte[] all = new byte[text.length + odd.length];
            System.arraycopy(text, 0, all, 0, text.length);
            System.arraycopy(odd, 0, all, text.length, odd.length);
            assertEquals(
                    "t.csv: the text is not UTF-8 throughout. Save it as CSV UTF-8 or as XLSX.",
                    refusal(Files.write(folder.resolve("t.csv"), all), Optional.empty()));
            assertEquals(
                    "t.csv: the text is not UTF-8 throughout. Save it as CSV UTF-8 or as XLSX.",
                    refusal(Files.write(folder.resolve("t.csv"), odd), Optional.empty()));
        }
    }

    @Test
    void aQuoteThatIsNotDoubledIsToldWithItsRow() throws IOException {
        assertEquals(
                "t.csv row 2: the quotes in this row do not match (RFC 4180). Look for a quote inside a cell that is not"
                        + " doubled.",
                refusal(file("a,b\n\"x\"y,2\n", StandardCharsets.UTF_8), Optional.empty()));
        assertEquals(
                "t.csv row 3: the quotes in this row do not match (RFC 4180). Look for a quote inside a cell that is not"
                        + " doubled.",
                refusal(file("a,b\n1,2\n\"x,2\n", StandardCharsets.UTF_8), Optional.empty()));
    }

    @Test
    void aQuoteThatIsNeverClosedEndsBeforeItFillsTheMemory() throws IOException {
        assertEquals(
                "t.csv row 2: a row of more than 4000000 characters. A quote was probably opened and never closed.",
                refusal(file("a\n\"" + "x".repeat(5_000_000), StandardCharsets.UTF_8), Optional.empty()));
    }

    @Test
    void rowsMayBeLongInAllWhereEachIsNot() throws IOException {
        String row = "x".repeat(99_999) + "\n";
        assertEquals(61, rows("a\n" + row.repeat(60)).size(), "six million characters");
    }

    @Test
    void asManyColumnsAsASpreadsheetHoldsAndNoMore() throws IOException {
        assertEquals(16_384, rows(",".repeat(16_383)).get(1).size());
        assertEquals(
                "t.csv row 2: more than 16384 columns. This is no table of responses.",
                refusal(file("a\n" + ",".repeat(16_384), StandardCharsets.UTF_8), Optional.empty()));
    }

    @Test
    void tellsHowFarItIs() throws IOException {
        ReadRows read = ReadRows.of(file("1,2\n".repeat(100_000), StandardCharsets.UTF_8));
        assertEquals(24, read.shares.size(), "100,000 rows hold 24 times 4,096");
        assertTrue(read.shares.get(0) > 0 && read.shares.get(23) <= 1, read.shares::toString);
        assertEquals(read.shares.stream().sorted().toList(), read.shares);
    }

    /** Whoever takes the rows may fail, such as by a full disk: that is no fault of the file. */
    @Test
    void whatTheTakerOfRowsThrowsIsNotToldAsAFaultOfTheFile() throws IOException {
        Input input = new Input(file("a\nb\n", StandardCharsets.UTF_8), Optional.empty());
        for (RuntimeException failure :
                List.of(new UncheckedIOException(new IOException("full")), new IllegalStateException("ours"))) {
            TableSink failing = (number, cells) -> {
                throw failure;
            };
            assertSame(
                    failure,
                    assertThrows(RuntimeException.class, () -> TableFile.read(input, Optional.empty(), failing)));
            assertSame(
                    failure, assertThrows(RuntimeException.class, () -> CsvReader.readFrom(input, 2, 2, ',', failing)));
        }
    }

    /** The fast way reads the first rows by itself and hands the rest on: from a byte, with the number of its row. */
    @Test
    void readsFromAByteOfTheFileOn() throws IOException {
        Path file = file("a;\u00E4\n1;2\n\"x;y\";4\n", StandardCharsets.UTF_8); // the row 1;2 starts at byte 5
        ReadRows read = new ReadRows();
        CsvReader.readFrom(new Input(file, Optional.empty()), 5, 2, ';', read);
        assertEquals(Map.of(2, List.of("1", "2"), 3, List.of("x;y", "4")), read.rows);
    }

    @Test
    void readsNothingFromBehindTheEndOrFromAFileThatIsGone() throws IOException {
        Input input = new Input(file("a", StandardCharsets.UTF_8), Optional.empty());
        assertEquals(
                "t.csv: the file cannot be read.",
                assertThrows(UnreadableInputException.class, () -> CsvReader.readFrom(input, 9, 2, ',', new ReadRows()))
                        .getMessage());
        Files.delete(input.path());
        assertEquals(
                "t.csv: the file cannot be read.",
                assertThrows(UnreadableInputException.class, () -> CsvReader.readFrom(input, 0, 1, ',', new ReadRows()))
                        .getMessage());
    }

    @Test
    void whatIsNoUtf8IsRefusedThereToo() throws IOException {
        Input input = new Input(file("a\n\u00E4\n", StandardCharsets.ISO_8859_1), Optional.empty());
        assertEquals(
                "t.csv: the text is not UTF-8 throughout. Save it as CSV UTF-8 or as XLSX.",
                assertThrows(UnreadableInputException.class, () -> CsvReader.readFrom(input, 2, 2, ',', new ReadRows()))
                        .getMessage());
    }
}
