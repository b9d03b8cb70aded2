package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.function.Consumer;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Workbooks as clinics save them, made here with Apache POI; what each must give is worked out by hand. Invented. */
class AwkwardWorkbooksTest {
    private static final String FATE_OF_ONE = "rows read 1 = scored 1 + nothing to score 0 + rejected 0";

    @TempDir
    private Path folder;

    private static Run run(String... args) {
        List<String> words = new ArrayList<>(List.of(args));
        words.addAll(List.of("--as-of", "2026-11-25"));
        return Run.of(words);
    }

    private String book(Consumer<XSSFWorkbook> content) throws IOException {
        Path file = folder.resolve("book.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            content.accept(book);
            book.write(out);
        }
        return file.toString();
    }

    private static void header(Sheet sheet, int at) {
        texts(sheet, at, "patient", "completed_on", "side", "swv_1");
    }

    private static Row texts(Sheet sheet, int at, String... texts) {
        Row row = sheet.createRow(at);
        for (int i = 0; i < texts.length; i++) {
            row.createCell(i).setCellValue(texts[i]);
        }
        return row;
    }

    private static CellStyle dates(XSSFWorkbook book, String format) {
        CellStyle style = book.createCellStyle();
        style.setDataFormat(book.createDataFormat().getFormat(format));
        return style;
    }

    /** The same serial number, 44927, is 2023-01-01 counted from 1900 and 2027-01-02 counted from 1904. */
    private String withDate(boolean from1904) throws IOException {
        return book(book -> {
            if (from1904) {
                book.getCTWorkbook().getWorkbookPr().setDate1904(true);
            }
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            Row row = texts(sheet, 1, "P1", "", "right");
            row.getCell(1).setCellValue(44927);
            row.getCell(1).setCellStyle(dates(book, "dd/mm/yyyy"));
            row.createCell(3).setCellValue(40);
        });
    }

    @Test
    void datesAreNumbersInEitherDateSystem() throws IOException {
        assertTrue(run("score", withDate(false)).out().contains("P1,,right,2023-01-01,,swv,total,40,"));
        Run later = run("score", withDate(true));
        assertTrue(later.out().contains("P1,,right,2027-01-02,,swv,total,40,"), later.out());
        assertTrue(later.err().contains("date-in-future"), later.err());
    }

    @Test
    void aTimeOrdersSittingsOfOneDay() throws IOException {
        Run run = run("check", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            for (int i = 0; i < 2; i++) {
                Row row = texts(sheet, i + 1, "P1", "", "right");
                row.getCell(1).setCellValue(LocalDateTime.of(2026, 1, 2, 8 + i, 30));
                row.getCell(1).setCellStyle(dates(book, "yyyy-mm-dd hh:mm"));
                row.createCell(3).setCellValue(40 + i);
            }
        }));
        assertEquals(0, run.status(), run.err());
    }

    @Test
    void aDateWithoutADateFormatIsNeverGuessed() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            Row row = texts(sheet, 1, "P1", "", "right", "40");
            row.getCell(1).setCellValue(44927);
        }));
        assertEquals(1, run.status());
        assertTrue(run.err().contains("row 2, column completed_on: date-not-iso (44927)"), run.err());
    }

    @Test
    void formulasGiveTheValueLastCalculatedAndThatIsSaid() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            Row row = texts(sheet, 1, "P1", "2026-01-02", "right");
            row.createCell(3).setCellFormula("20+20");
            book.getCreationHelper().createFormulaEvaluator().evaluateAll();
        }));
        assertEquals(0, run.status(), run.err());
        assertTrue(run.out().contains(",swv,total,40,complete,"), run.out());
        assertTrue(
                run.err()
                        .contains(
                                "book.xlsx row 2: note-formula-cells. The sheet holds formulas, here for the first time. The"
                                        + " values last calculated are used."),
                run.err());
    }

    @Test
    void hiddenRowsAreReadAndThatIsSaid() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            texts(sheet, 1, "P1", "2026-01-02", "right", "40").setZeroHeight(true);
            texts(sheet, 2, "P2", "2026-01-02", "right", "50");
        }));
        assertEquals(0, run.status());
        assertTrue(run.err().contains("book.xlsx row 2: note-hidden-rows."), run.err());
        assertTrue(run.err().contains("rows read 2 = scored 2"), run.err());
    }

    @Test
    void errorCellsAreNeitherResponsesNorIds() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            Row first = texts(sheet, 1, "P1", "2026-01-02", "right");
            first.createCell(3, CellType.ERROR).setCellErrorValue(FormulaError.NA.getCode());
            Row second = texts(sheet, 2, "", "2026-01-02", "right", "40");
            second.createCell(0, CellType.ERROR).setCellErrorValue(FormulaError.REF.getCode());
        }));
        assertEquals(1, run.status());
        assertTrue(run.err().contains("row 2, column swv_1: response-not-allowed (#N/A)"), run.err());
        assertTrue(run.err().contains("row 3, column patient: patient-missing (#REF!)"), run.err());
        assertTrue(run.err().contains("rows read 2 = scored 1 + nothing to score 0 + rejected 1"), run.err());
    }

    @Test
    void numbersStoredAsTextAndIdsStoredAsNumbersAreRead() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            Row row = texts(sheet, 1, "", "2026-01-02", "right", " 40.0\u00a0");
            row.getCell(0).setCellValue(1007);
        }));
        assertEquals(0, run.status(), run.err());
        assertTrue(run.out().contains("1007,,right,2026-01-02,,swv,total,40,"), run.out());
    }

    @Test
    void aMergedTitleAboveTheHeaderIsNoHeader() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            texts(sheet, 0, "Hand clinic, export", "", "", "");
            sheet.addMergedRegion(new CellRangeAddress(0, 0, 0, 3));
            texts(sheet, 1, "who and when", "", "", "forms");
            sheet.addMergedRegion(new CellRangeAddress(1, 1, 0, 2));
            header(sheet, 2);
            texts(sheet, 3, "P1", "2026-01-02", "right", "40");
        }));
        assertEquals(0, run.status(), run.err());
        assertTrue(run.err().contains("book.xlsx row 3: note-title-row."), run.err());
        assertTrue(run.err().contains(FATE_OF_ONE), run.err());
    }

    @Test
    void aHeadingMergedOverTwoColumnsNamesTheFirst() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            texts(sheet, 0, "patient", "completed_on", "swv_1", "", "side");
            sheet.addMergedRegion(new CellRangeAddress(0, 0, 2, 3));
            texts(sheet, 1, "P1", "2026-01-02", "40", "50", "right");
        }));
        assertTrue(run.out().contains(",swv,total,40,"), run.out());
        assertTrue(run.err().contains("columns not used: column 4 without a heading"), run.err());
    }

    @Test
    void trailingBlankRowsAndColumnsAreNotCounted() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            texts(sheet, 1, "P1", "2026-01-02", "right", "40", "", " ");
            texts(sheet, 2, "", " ", "", "");
            sheet.createRow(500).createCell(9);
        }));
        assertEquals(0, run.status(), run.err());
        assertTrue(run.err().contains(FATE_OF_ONE), run.err());
    }

    private String twoSheets() throws IOException {
        return book(book -> {
            texts(book.createSheet("Notes"), 0, "nothing here");
            Sheet sheet = book.createSheet("Forms 2026");
            header(sheet, 0);
            texts(sheet, 1, "P1", "2026-01-02", "right", "40");
        });
    }

    @Test
    void aSheetIsNamedByOptionOrAfterTheFile() throws IOException {
        String file = twoSheets();
        for (Run run : List.of(
                run("score", file, "--sheet", "Forms 2026"),
                run("score", file, "--sheet", "forms 2026"),
                run("score", file + "#Forms 2026"))) {
            assertEquals(0, run.status(), run.err());
            assertTrue(run.out().contains(",swv,total,40,"), run.out());
        }
        Run missing = run("score", file, "--sheet", "Forms");
        assertEquals(2, missing.status());
        assertTrue(missing.err().contains("there is no such sheet. Sheets are Notes, Forms 2026."), missing.err());
        Run found = run("score", file);
        assertEquals(0, found.status(), found.err());
        assertTrue(found.out().contains(",swv,total,40,"), found.out());
        assertTrue(
                found.err()
                        .contains(
                                "note-sheet-chosen. The sheet 'Forms 2026' is read: the first of the workbook that has the"
                                        + " columns patient and completed_on. --sheet NAME chooses another sheet."),
                found.err());
    }

    @Test
    void problemsOfAWorkbookNameTheRowAsTheSheetShowsIt() throws IOException {
        Run run = run("score", book(book -> {
            Sheet sheet = book.createSheet();
            header(sheet, 0);
            texts(sheet, 1, "P1", "2026-01-02", "right", "40");
            texts(sheet, 7, "P2", "2026-01-02", "right", "400");
        }));
        assertEquals(1, run.status());
        assertTrue(run.err().contains("book.xlsx row 8, column swv_1: response-not-allowed (400)"), run.err());
        assertTrue(run.err().contains("rows read 2 = scored 2"), run.err());
    }

    @Test
    void episodesMayBeASheetOfTheSameWorkbook() throws IOException {
        String file = book(book -> {
            Sheet sheet = book.createSheet("responses");
            header(sheet, 0);
            texts(sheet, 1, "P1", "2026-01-02", "right", "40");
            Sheet episodes = book.createSheet("episodes");
            texts(episodes, 0, "patient", "episode", "treated_side", "index_date", "forms");
            Row row = texts(episodes, 1, "P1", "E1", "right", "", "swv");
            row.getCell(3).setCellValue(LocalDate.of(2026, 1, 5));
            row.getCell(3).setCellStyle(dates(book, "d mmm yyyy"));
        });
        Run run = run("check", file + "#responses", "--episodes", file + "#episodes");
        assertEquals(0, run.status(), run.err());
        assertTrue(run.err().contains(FATE_OF_ONE), run.err());
    }

    @Test
    void textThatIsNoWorkbookOrAnOldOneIsRefused() throws IOException {
        Path old = Files.write(
                folder.resolve("old.xls"), new byte[] {(byte) 0xD0, (byte) 0xCF, 0x11, (byte) 0xE0, 1, 2, 3, 4});
        Run run = run("score", old.toString());
        assertEquals(2, run.status());
        assertTrue(run.err().contains("this is an old XLS workbook or one with a password."), run.err());
        Path cut = folder.resolve("cut.xlsx");
        byte[] whole = Files.readAllBytes(Path.of(twoSheets()));
        Files.write(cut, Arrays.copyOf(whole, whole.length / 2));
        Run broken = run("score", cut.toString());
        assertEquals(2, broken.status());
        assertTrue(broken.err().contains("the workbook is damaged, unpacks to too much, or is none."), broken.err());
    }
}
