package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A small table read whole. */
class SimpleTableTest {
    @TempDir
    private Path folder;

    private SimpleTable read(String text, String... required) throws IOException {
        Path file = Files.writeString(folder.resolve("t.csv"), text);
        return SimpleTable.read(new Input(file, Optional.empty()), Optional.empty(), List.of(required));
    }

    private String refusal(String text, String... required) {
        return assertThrows(UnreadableInputException.class, () -> read(text, required))
                .getMessage();
    }

    @Test
    void headingsAreMatchedInAnyCaseAndOrderAndCellsAreCleaned() throws IOException {
        SimpleTable table = read("Code, Text ,extra\n 1 ,'=no,\n", "text", "code");
        assertEquals(List.of("code", "text", "extra"), table.headings());
        SimpleTable.Row row = table.rows().get(0);
        assertEquals(Map.of("code", "1", "text", "=no", "extra", ""), row.cells());
        assertEquals("=no", row.get("text"));
        assertEquals("", row.get("nowhere"));
        assertEquals(Optional.of("1"), row.filled("code"));
        assertEquals(Optional.empty(), row.filled("extra"));
        assertEquals("t.csv row 2", row.place().toString());
    }

    @Test
    void blankRowsAreLeftOutAndKeepTheNumbersOfTheOthers() throws IOException {
        SimpleTable table = read("\n,\na,b\n,\n1,2\n\n \n3\n", "a");
        assertEquals(
                List.of("t.csv row 5", "t.csv row 8"),
                table.rows().stream().map(r -> r.place().toString()).toList());
        assertEquals("", table.rows().get(1).get("b"), "a short row is filled with blanks");
    }

    @Test
    void aRowWithMoreFilledCellsThanHeadingsIsMarked() throws IOException {
        SimpleTable table = read("a,b,,\n1,2\n1,2,,\n1,2,3\n1,2, ,4\n1,2,3,\n");
        assertEquals(List.of("a", "b"), table.headings(), "blank headings at the end are none");
        assertEquals(
                List.of(false, false, true, true, true),
                table.rows().stream().map(SimpleTable.Row::tooMany).toList());
    }

    @Test
    void aTableWithoutAColumnThatItMustHaveIsRefused() {
        assertEquals(
                "t.csv: the header lacks text, code. It must have column, text, code.",
                refusal("column,txt\nside,x\n", "column", "text", "code"));
        assertEquals("t.csv: the header lacks a. It must have a.", refusal("\n\n", "a"));
    }

    @Test
    void twoColumnsOfOneHeadingAreRefused() throws IOException {
        assertEquals(
                "t.csv, column a: two columns have this heading. Remove or rename one.", refusal("a,b,A \n1,2,3\n"));
        assertEquals(List.of("a", "", "", "b"), read("a,,,b\n").headings(), "blank headings are no heading");
    }

    @Test
    void headingsOfTheirOwnMayBeRenamed() throws IOException {
        Path file = Files.writeString(folder.resolve("t.csv"), "Pat.-Nr.,b\nP1,2\n");
        SimpleTable table = SimpleTable.read(
                new Input(file, Optional.empty()), Optional.empty(), List.of("patient"), Map.of("pat.-nr.", "patient"));
        assertEquals(List.of("patient", "b"), table.headings());
        assertEquals("P1", table.rows().get(0).get("patient"));
    }

    @Test
    void ofAWorkbookTheFirstSheetWithTheHeaderIsRead() throws IOException {
        Path file = folder.resolve("t.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            book.createSheet("Notes").createRow(0).createCell(0).setCellValue("Patients of May");
            var sheet = book.createSheet("Table");
            sheet.createRow(0).createCell(0).setCellValue("Pat.-Nr.");
            sheet.createRow(1).createCell(0).setCellFormula("A1");
            sheet.getRow(0).createCell(1).setCellValue("b");
            sheet.getRow(1).createCell(1).setCellValue(7);
            book.write(out);
        }
        SimpleTable table = SimpleTable.read(
                new Input(file, Optional.empty()), Optional.empty(), List.of("patient"), Map.of("pat.-nr.", "patient"));
        SimpleTable.Row row = table.rows().get(0);
        assertEquals("7", row.get("b"));
        assertEquals("", row.get("patient"), "a formula that nobody calculated counts as blank");
        assertEquals(Optional.empty(), row.filled("patient"));
        assertEquals(List.of("patient"), row.notCalculated());
    }

    /** The encoding that is named is that of the tables of data; settings in UTF-8 stay what they are. */
    @Test
    void settingsAreUtf8OrInTheEncodingOfTheData() throws IOException {
        Charset windows = Charset.forName("windows-1252");
        for (Charset charset : List.of(StandardCharsets.UTF_8, windows, StandardCharsets.UTF_16)) {
            Path file = Files.write(folder.resolve("t.csv"), "text\nM\u00FCller\n".getBytes(charset));
            SimpleTable table =
                    SimpleTable.readSettings(new Input(file, Optional.empty()), Optional.of(windows), List.of("text"));
            assertEquals("M\u00FCller", table.rows().get(0).get("text"), charset.name());
        }
        assertEquals(
                "none.csv: there is no such file. Check the name and the folder.",
                assertThrows(
                                UnreadableInputException.class,
                                () -> SimpleTable.readSettings(
                                        new Input(folder.resolve("none.csv"), Optional.empty()),
                                        Optional.of(windows),
                                        List.of("text")))
                        .getMessage());
    }

    @Test
    void aWorkbookWithoutTheHeaderTellsItsSheets() throws IOException {
        Path file = folder.resolve("t.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            for (String name : List.of("Visits", "Notes")) {
                book.createSheet(name).createRow(0).createCell(0).setCellValue("other");
            }
            book.write(out);
        }
        assertEquals(
                "t.xlsx: the header lacks text. It must have text. Read was the sheet 'Visits'; the others are 'Notes'.",
                assertThrows(
                                UnreadableInputException.class,
                                () -> SimpleTable.read(
                                        new Input(file, Optional.empty()), Optional.empty(), List.of("text")))
                        .getMessage());
    }

    @Test
    void nothingOfItCanBeChangedAfterwards() throws IOException {
        SimpleTable table = read("a\n1\n", "a");
        assertThrows(UnsupportedOperationException.class, () -> table.headings().clear());
        assertThrows(UnsupportedOperationException.class, () -> table.rows().clear());
        assertFalse(table.rows().isEmpty());
        assertTrue(table.rows().get(0).notCalculated().isEmpty());
    }
}
