package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import lumbrical.problem.Remedy;
import org.apache.poi.poifs.crypt.EncryptionInfo;
import org.apache.poi.poifs.crypt.EncryptionMode;
import org.apache.poi.poifs.crypt.Encryptor;
import org.apache.poi.poifs.filesystem.POIFSFileSystem;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Workbooks as a spreadsheet library writes them, and as ECMA-376 lets others write them. */
class SheetReaderTest {
    private static final String DAMAGED =
            "t.xlsx: the workbook is damaged, unpacks to too much, or is none. Open it in a spreadsheet and save it again as"
                    + " XLSX.";

    @TempDir
    private Path folder;

    private Path book(Consumer<XSSFWorkbook> content) throws IOException {
        Path file = folder.resolve("t.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            content.accept(book);
            book.write(out);
        }
        return file;
    }

    private static CellStyle style(XSSFWorkbook book, String format) {
        CellStyle style = book.createCellStyle();
        style.setDataFormat(book.createDataFormat().getFormat(format));
        return style;
    }

    private Path raw(String rows) throws IOException {
        return new RawWorkbook().sheet("a", rows).write(folder.resolve("t.xlsx"));
    }

    private static String refusal(Path file) {
        return assertThrows(UnreadableInputException.class, () -> ReadRows.of(file))
                .getMessage();
    }

    @Test
    void readsTextsNumbersAndTruthValuesAsASpreadsheetShowsThem() throws IOException {
        Path file = book(book -> {
            Row row = book.createSheet().createRow(0);
            row.createCell(0).setCellValue("007");
            row.createCell(1).setCellValue(3);
            row.createCell(2).setCellValue(0.1);
            row.createCell(3).setCellValue(-5);
            row.createCell(4).setCellValue(true);
            row.createCell(5).setCellValue(false);
            row.createCell(6).setCellErrorValue(FormulaError.NA.getCode());
            row.createCell(7).setCellValue(1e-7);
            row.createCell(8).setCellValue(1e15);
            row.createCell(9).setCellValue(12.5);
        });
        assertEquals(
                Map.of(
                        1,
                        List.of(
                                "007",
                                "3",
                                "0.1",
                                "-5",
                                "TRUE",
                                "FALSE",
                                "#N/A",
                                "0.00000010",
                                "1000000000000000",
                                "12.5")),
                ReadRows.of(file).rows);
    }

    /** A clinic's column formatted with decimals still holds the response 3. */
    @Test
    void aFormatOfNumbersChangesNoNumber() throws IOException {
        Path file = book(book -> {
            XSSFCell cell = book.createSheet().createRow(0).createCell(0);
            cell.setCellValue(3);
            cell.setCellStyle(style(book, "0.00"));
        });
        assertEquals(Map.of(1, List.of("3")), ReadRows.of(file).rows);
    }

    @ParameterizedTest
    @ValueSource(strings = {"yyyy-mm-dd", "dd.mm.yyyy", "m/d/yy", "[$-407]d. mmm yyyy", "d-mmm-yy"})
    void aDateCellIsItsDayHoweverItIsShown(String format) throws IOException {
        Path file = book(book -> {
            Row row = book.createSheet().createRow(0);
            row.createCell(0).setCellValue(LocalDate.of(2026, 3, 9));
            row.createCell(1).setCellValue(LocalDateTime.of(2024, 2, 29, 8, 5));
            row.createCell(2).setCellValue(LocalDateTime.of(2026, 3, 9, 23, 59, 59));
            row.forEach(cell -> cell.setCellStyle(style(book, format)));
        });
        assertEquals(
                Map.of(1, List.of("2026-03-09", "2024-02-29T08:05", "2026-03-09T23:59:59")), ReadRows.of(file).rows);
    }

    /** ECMA-376 part 1, 18.17.4.1: in the 1904 system day 0 is 1904-01-01, so 2026-03-09 is 46090 - 1462 = 44628. */
    @ParameterizedTest
    @CsvSource({
        "'', 46090",
        "<workbookPr/>, 46090",
        "<workbookPr date1904='0'/>, 46090",
        "<workbookPr date1904='1'/>, 44628",
        "<workbookPr date1904='true'/>, 44628"
    })
    void aWorkbookMayCountDaysFrom1904(String properties, double number) throws IOException {
        Path file = book(book -> {
            book.getCTWorkbook().unsetWorkbookPr();
            if (!properties.isEmpty()) {
                var written = book.getCTWorkbook().addNewWorkbookPr();
                if (properties.contains("date1904")) {
                    written.setDate1904(number < 45_000);
                }
            }
            XSSFCell cell = book.createSheet().createRow(0).createCell(0);
            cell.setCellValue(number);
            cell.setCellStyle(style(book, "yyyy-mm-dd"));
        });
        assertEquals(Map.of(1, List.of("2026-03-09")), ReadRows.of(file).rows);
    }

    /** Format 00000 shows 7 as 00007: the cell holds 7. */
    @Test
    void aNumberShownWithLeadingZerosIsReadAsItIsHeldAndRemarked() throws IOException {
        Path file = book(book -> {
            Row row = book.createSheet().createRow(0);
            double[] numbers = {7, 12345, 7};
            String[] formats = {"00000", "00000", "0"};
            for (int i = 0; i < numbers.length; i++) {
                row.createCell(i).setCellValue(numbers[i]);
                row.getCell(i).setCellStyle(style(book, formats[i]));
            }
        });
        ReadRows read = ReadRows.of(file);
        assertEquals(Map.of(1, List.of("7", "12345", "7")), read.rows);
        assertEquals(List.of("LEADING_ZEROS 1 0"), read.remarks);
    }

    @Test
    void aNegativeNumberIsNoDay() throws IOException {
        Path file = book(book -> {
            XSSFCell cell = book.createSheet().createRow(0).createCell(0);
            cell.setCellValue(-2.5);
            cell.setCellStyle(style(book, "yyyy-mm-dd"));
        });
        assertEquals(Map.of(1, List.of("-2.5")), ReadRows.of(file).rows);
    }

    @Test
    void aFormulaIsItsStoredValueAndIsRemarked() throws IOException {
        Path file = book(book -> {
            Row row = book.createSheet().createRow(1);
            row.createCell(0).setCellFormula("1+2");
            row.createCell(2).setCellFormula("\"a\"&\"b\"");
            book.getCreationHelper().createFormulaEvaluator().evaluateAll();
        });
        ReadRows read = ReadRows.of(file);
        assertEquals(Map.of(2, List.of("3", "", "ab")), read.rows);
        assertEquals(List.of("FORMULA_CELL 2 0", "FORMULA_CELL 2 2"), read.remarks);
    }

    /** Section 2 of the formats: a formula without a stored value never counts as unanswered; an empty text is a value. */
    @Test
    void aFormulaThatNobodyCalculatedIsTold() throws IOException {
        Path file = raw("<row r='1'><c r='A1'><f>1+2</f></c><c r='B1'><f>1+2</f><v></v></c>"
                + "<c r='C1' t='str'><f>\"\"</f><v></v></c><c r='D1' t='str'><f>\"\"</f></c></row>");
        assertEquals(Map.of(1, List.of(Cells.NOT_CALCULATED, Cells.NOT_CALCULATED, "", "")), ReadRows.of(file).rows);
    }

    @Test
    void rowsAndCellsThatAreNotThereKeepTheirPlace() throws IOException {
        Path file = book(book -> {
            var sheet = book.createSheet();
            sheet.createRow(2).createCell(1).setCellValue("B3");
            sheet.createRow(4).createCell(27).setCellValue("AB5");
        });
        Map<Integer, List<String>> rows = ReadRows.of(file).rows;
        assertEquals(List.of("", "B3"), rows.get(3));
        assertEquals("AB5", rows.get(5).get(27), "A to Z are 26 columns, AA is the 27th and AB the 28th");
        assertEquals(2, rows.size());
    }

    @Test
    void hiddenRowsAreReadAndRemarked() throws IOException {
        Path file = book(book -> {
            var sheet = book.createSheet();
            sheet.createRow(0).createCell(0).setCellValue("seen");
            sheet.createRow(1).createCell(0).setCellValue("hidden");
            sheet.getRow(1).setZeroHeight(true);
        });
        ReadRows read = ReadRows.of(file);
        assertEquals(Map.of(1, List.of("seen"), 2, List.of("hidden")), read.rows);
        assertEquals(List.of("HIDDEN_ROW 2 -1"), read.remarks);
        assertEquals(
                List.of("HIDDEN_ROW 1 -1"),
                ReadRows.of(raw("<row r='1' hidden='true'/>")).remarks,
                "a truth value of XML Schema may be a word");
    }

    /** ECMA-376 part 1, 18.3.1.73 and 18.3.1.4: the references of rows and cells are optional. */
    @Test
    void cellsWithoutReferencesFollowEachOther() throws IOException {
        Path file =
                raw("<row><c><v>1</v></c><c><v>2</v></c></row><row r=''><c r='C2'><v>3</v></c><c><v>4</v></c></row>");
        assertEquals(Map.of(1, List.of("1", "2"), 2, List.of("", "", "3", "4")), ReadRows.of(file).rows);
    }

    /** 18.4: a text may stand in runs; a phonetic run says how it is read aloud and is no part of it. */
    @Test
    void aTextMayStandInRunsInTheCellOrBesideTheSheet() throws IOException {
        Path file = new RawWorkbook()
                .texts("<si><t>plain</t></si><si><r><t>two </t></r><r><t>runs</t></r></si>"
                        + "<si><t>\u6771</t><rPh sb='0' eb='1'><t>higashi</t></rPh></si>")
                .sheet(
                        "a",
                        "<row r='1'><c r='A1' t='s'><v>0</v></c><c r='B1' t='s'><v>1</v></c><c r='C1' t='s'><v>2</v></c>"
                                + "<c r='D1' t='inlineStr'><is><r><t>in </t></r><r><t>line</t></r></is></c>"
                                + "<c r='E1' t='inlineStr'><is><t>\u6771</t><rPh sb='0' eb='1'><t>higashi</t></rPh></is></c>"
                                + "<c r='F1' t='inlineStr'><is><t></t></is></c></row>")
                .write(folder.resolve("t.xlsx"));
        assertEquals(
                Map.of(1, List.of("plain", "two runs", "\u6771", "in line", "\u6771", "")), ReadRows.of(file).rows);
    }

    /** 18.18.11: a cell of type d holds a date of ISO 8601; e holds an error's name. */
    @Test
    void readsTheOtherTypesOfCells() throws IOException {
        assertEquals(
                Map.of(1, List.of("2026-03-09", "#REF!", "TRUE", "3.5", "not a number", "07", "1.5")),
                ReadRows.of(raw(
                                "<row r='1'><c t='d'><v>2026-03-09</v></c><c t='e'><v>#REF!</v></c><c t='b'><v>1</v></c>"
                                        + "<c t='n'><v>3.50</v></c><c><v>not a number</v></c><c t='str'><v>07</v></c>"
                                        + "<c s='x'><v>1.5</v></c></row>"))
                        .rows);
    }

    @Test
    void elementsMayHaveAPrefix() throws IOException {
        Path file = new RawWorkbook()
                .part(
                        "a",
                        "<x:worksheet xmlns:x='http://schemas.openxmlformats.org/spreadsheetml/2006/main'><x:sheetData>"
                                + "<x:row r='1'><x:c r='A1'><x:v>4</x:v></x:c></x:row></x:sheetData></x:worksheet>")
                .write(folder.resolve("t.xlsx"));
        assertEquals(Map.of(1, List.of("4")), ReadRows.of(file).rows);
    }

    @Test
    void theSheetWithTheHeaderIsReadAndNamedIfItIsNotTheFirst() throws IOException {
        Path file = book(book -> {
            for (int i = 0; i < 20; i++) {
                book.createSheet(i == 0 ? "Notes" : "Notes " + i)
                        .createRow(i)
                        .createCell(0)
                        .setCellValue("text");
            }
            var sheet = book.createSheet("Responses");
            sheet.createRow(0).createCell(0).setCellValue(" ");
            sheet.createRow(3).createCell(0).setCellValue("patient");
        });
        ReadRows read = new ReadRows(cells -> cells.contains("patient"));
        TableFile.read(new Input(file, Optional.empty()), Optional.empty(), read);
        assertEquals(Map.of(1, List.of(" "), 4, List.of("patient")), read.rows);
        assertEquals(List.of("Responses"), read.otherSheets);
    }

    @Test
    void theFirstSheetIsReadIfItHasTheHeaderOrNoneHas() throws IOException {
        Path file = book(book -> {
            book.createSheet("One").createRow(0).createCell(0).setCellValue("a");
            book.createSheet("Two").createRow(0).createCell(0).setCellValue("b");
        });
        for (String wanted : List.of("a", "nowhere")) {
            ReadRows read = new ReadRows(cells -> cells.contains(wanted));
            TableFile.read(new Input(file, Optional.empty()), Optional.empty(), read);
            assertEquals(Map.of(1, List.of("a")), read.rows);
            assertEquals(List.of(), read.otherSheets);
            assertEquals(wanted.equals("a") ? List.of() : List.of("One", "Two"), read.sheetsWithoutHeader);
        }
    }

    /** A header is looked for among the first eleven filled rows, so that a long sheet of notes is not read to its end. */
    @Test
    void aHeaderFarDownIsNotLookedFor() throws IOException {
        for (int before : List.of(10, 11)) {
            Path file = book(book -> {
                book.createSheet("One").createRow(0).createCell(0).setCellValue("text");
                var sheet = book.createSheet("Two");
                for (int i = 0; i < before; i++) {
                    sheet.createRow(i).createCell(0).setCellValue("text");
                }
                sheet.createRow(before).createCell(0).setCellValue("patient");
            });
            ReadRows read = new ReadRows(cells -> cells.contains("patient"));
            TableFile.read(new Input(file, Optional.empty()), Optional.empty(), read);
            assertEquals(before == 10 ? List.of("Two") : List.of(), read.otherSheets, before + " rows before it");
        }
    }

    @Test
    void aSheetMayBeNamedInAnyCaseTheExactNameFirst() throws IOException {
        Path file = book(book -> {
            book.createSheet("Visits").createRow(0).createCell(0).setCellValue("1");
            book.createSheet("Other").createRow(0).createCell(0).setCellValue("2");
        });
        for (String name : List.of("Other", "OTHER", "other")) {
            assertEquals(
                    Map.of(1, List.of("2")), ReadRows.of(new Input(file, Optional.of(name)), Optional.empty()).rows);
        }
        UnreadableInputException refused = assertThrows(
                UnreadableInputException.class,
                () -> ReadRows.of(new Input(file, Optional.of("May")), Optional.empty()));
        assertEquals("t.xlsx#May: there is no such sheet. Sheets are Visits, Other.", refused.getMessage());
        assertEquals(List.of(Remedy.of(Remedy.Kind.SHEET)), refused.remedies());
    }

    @Test
    void aWorkbookWithoutASheetIsRefused() throws IOException {
        assertEquals("t.xlsx: the workbook has no sheet.", refusal(new RawWorkbook().write(folder.resolve("t.xlsx"))));
    }

    @ParameterizedTest
    @CsvSource({"1048577", "9999999999", "0", "-1", "1"})
    void rowsStandInOrderAndWithinWhatASpreadsheetHolds(String second) throws IOException {
        String number = second.length() > 9 ? "2147483647" : second;
        assertEquals(
                "t.xlsx row 1: a row with the number " + number + ". A sheet has at most 1048576 rows, in order.",
                refusal(raw("<row r='1'/><row r='" + second + "'/>")));
    }

    @Test
    void theLastRowAndTheLastColumnOfASpreadsheetAreRead() throws IOException {
        Map<Integer, List<String>> rows =
                ReadRows.of(raw("<row r='1048576'><c r='XFD1048576'><v>1</v></c></row>")).rows;
        assertEquals(16_384, rows.get(1_048_576).size());
        assertEquals(
                "t.xlsx row 1: more than 16384 columns. This is no table of responses.",
                refusal(raw("<row r='1'><c r='XFE1'><v>1</v></c></row>")));
        assertEquals(
                "t.xlsx row 1: more than 16384 columns. This is no table of responses.",
                refusal(raw("<row r='1'><c r='" + "Z".repeat(5_000) + "1'><v>1</v></c></row>")));
    }

    /** The first column when the reference names none: such a file is not by any spreadsheet, but its cell is not lost. */
    @Test
    void aReferenceWithoutLettersIsTheFirstColumn() throws IOException {
        assertEquals(Map.of(1, List.of("5")), ReadRows.of(raw("<row r='1'><c r='1'><v>5</v></c></row>")).rows);
        assertEquals(Map.of(1, List.of("", "5")), ReadRows.of(raw("<row r='1'><c r='b1'><v>5</v></c></row>")).rows);
    }

    @Test
    void aCellHoldsAtMostAsMuchAsASpreadsheetLets() throws IOException {
        String longest = "x".repeat(32_767);
        assertEquals(
                Map.of(1, List.of(longest)),
                ReadRows.of(raw("<row r='1'><c t='str'><v>" + longest + "</v></c></row>")).rows);
        assertEquals(
                "t.xlsx row 1: a cell of more than 32767 characters.",
                refusal(raw("<row r='1'><c t='str'><v>x" + longest + "</v></c></row>")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"1", "-1", "x", "9999999999"})
    void aTextThatIsNotThereIsTold(String index) throws IOException {
        Path file = new RawWorkbook()
                .texts("<si><t>only</t></si>")
                .sheet("a", "<row r='1'><c t='s'><v>" + index + "</v></c></row>")
                .write(folder.resolve("t.xlsx"));
        assertEquals("t.xlsx row 1: a cell points to a text that the workbook does not hold.", refusal(file));
    }

    /** Entities of a document type could read other files or grow without end: none is taken. */
    @ParameterizedTest
    @ValueSource(
            strings = {
                "<!DOCTYPE x [<!ENTITY e SYSTEM 'file:///etc/hostname'>]>",
                "<!DOCTYPE x [<!ENTITY a 'aaaaaaaaaa'><!ENTITY e '&a;&a;&a;&a;&a;&a;&a;&a;'>]>"
            })
    void aDocumentTypeIsRefused(String type) throws IOException {
        Path file = new RawWorkbook()
                .documentType(type)
                .sheet("a", "<row r='1'><c t='str'><v>&e;</v></c></row>")
                .write(folder.resolve("t.xlsx"));
        assertEquals(DAMAGED, refusal(file));
        Path second = new RawWorkbook()
                .sheet("first", "<row r='1'><c t='str'><v>text</v></c></row>")
                .documentType(type)
                .sheet("second", "<row r='1'><c t='str'><v>&e;</v></c></row>")
                .write(folder.resolve("t.xlsx"));
        ReadRows read = new ReadRows(cells -> false);
        assertEquals(
                DAMAGED,
                assertThrows(
                                UnreadableInputException.class,
                                () -> TableFile.read(new Input(second, Optional.empty()), Optional.empty(), read))
                        .getMessage());
        assertEquals(Map.of(), read.rows);
    }

    /** Twenty million blanks pack to a thousandth: more than any honest sheet. */
    @Test
    void aPartThatUnpacksToTooMuchIsRefused() throws IOException {
        assertEquals(DAMAGED, refusal(raw(" ".repeat(20_000_000) + "<row r='1'><c><v>1</v></c></row>")));
    }

    @Test
    void whatIsNoWorkbookIsRefused() throws IOException {
        Path file = Files.write(folder.resolve("t.xlsx"), new byte[] {'P', 'K', 3, 4, 0, 0, 0, 0});
        assertEquals(DAMAGED, refusal(file));
        assertEquals(DAMAGED, refusal(raw("<row r='1'><c><v>1</v></row>")), "elements that do not close");
    }

    @Test
    void aWorkbookWithAPasswordIsRefused() throws Exception {
        Path file = folder.resolve("t.xlsx");
        try (POIFSFileSystem files = new POIFSFileSystem();
                XSSFWorkbook book = new XSSFWorkbook()) {
            book.createSheet("a");
            EncryptionInfo info = new EncryptionInfo(EncryptionMode.agile);
            Encryptor encryptor = info.getEncryptor();
            encryptor.confirmPassword("secret");
            try (OutputStream out = encryptor.getDataStream(files)) {
                book.write(out);
            }
            try (OutputStream out = Files.newOutputStream(file)) {
                files.writeFilesystem(out);
            }
        }
        assertEquals(
                "t.xlsx: this is an old XLS workbook or one with a password. Save it as XLSX without a password.",
                refusal(file));
    }

    /** Whoever takes the rows may fail: that is no fault of the workbook. */
    @Test
    void whatTheTakerOfRowsThrowsIsNotToldAsAFaultOfTheFile() throws IOException {
        Input input = new Input(raw("<row r='1'><c><v>1</v></c></row>"), Optional.empty());
        for (RuntimeException failure : List.of(
                new UncheckedIOException(new IOException("full")),
                new IllegalStateException("ours"),
                new IllegalArgumentException("ours"),
                new IndexOutOfBoundsException("ours"))) {
            TableSink failing = (number, cells) -> {
                throw failure;
            };
            assertSame(
                    failure,
                    assertThrows(RuntimeException.class, () -> TableFile.read(input, Optional.empty(), failing)));
        }
    }

    @Test
    void tellsHowFarItIs() throws IOException {
        StringBuilder rows = new StringBuilder();
        for (int i = 1; i <= 10_000; i++) {
            rows.append("<row><c><v>").append(i).append("</v></c></row>");
        }
        ReadRows read = ReadRows.of(raw(rows.toString()));
        assertEquals(10_000, read.rows.size());
        assertEquals(2, read.shares.size(), "10,000 rows hold twice 4,096");
        assertTrue(read.shares.get(0) > 0 && read.shares.get(0) < read.shares.get(1), read.shares::toString);
        assertTrue(read.shares.get(1) <= 1, read.shares::toString);
    }
}
