package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint.ValidationType;
import org.apache.poi.ss.usermodel.FillPatternType;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.AreaReference;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EntryFormTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();
    /** Fewer than a clinic's form has. */
    private static final int ROWS = 8;

    private static List<Instrument> instruments(String... ids) {
        List<Instrument> found = new ArrayList<>();
        for (String id : ids) {
            found.add(CATALOGUE.find(id).orElseThrow());
        }
        return found;
    }

    private static XSSFWorkbook form(List<Instrument> instruments) {
        return Written.open(
                Written.bytes((scratch, out) -> EntryForm.write(instruments, ROWS, Written.AS_OF, scratch, out)));
    }

    /** Every heading of the sheet of responses, those of scores too. */
    private static List<String> all(XSSFWorkbook book) {
        List<String> headings = new ArrayList<>();
        book.getSheetAt(0).getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
        return headings;
    }

    private record Read(ScoringCounts tally, List<ScoredForm> forms, List<Problem> problems) {}

    /** Reads a form as {@code score} does without any option. */
    private static Read read(XSSFWorkbook book, Path folder) throws IOException {
        Path file = folder.resolve("form.xlsx");
        try (OutputStream out = Files.newOutputStream(file)) {
            book.write(out);
        }
        List<ScoredForm> forms = new ArrayList<>();
        List<Problem> problems = new ArrayList<>();
        ScoringCounts tally = new BatchScorer(
                        CATALOGUE, ReadOptions.asOf(Written.AS_OF), new ScoringOptions(false, false))
                .score(
                        List.of(new Input(file, Optional.empty())),
                        (row, scored) -> forms.addAll(scored),
                        problems::add);
        return new Read(tally, forms, problems);
    }

    @Test
    void anEmptyFormIsReadAsNoRowsAndNoProblem(@TempDir Path folder) throws IOException {
        Read read = read(form(CATALOGUE.all()), folder);
        assertEquals(
                List.of(ProblemCode.NOTE_NO_ROWS),
                read.problems().stream().map(Problem::code).toList());
        assertEquals(
                "rows read 0 = scored 0 + nothing to score 0 + rejected 0",
                read.tally().reconciliation());
        assertEquals(List.of(), read.tally().read().unusedColumns());
    }

    /** The worked example of the federal guide: these eleven responses give 50. */
    @Test
    void aFilledFormIsScoredWithoutAnyOption(@TempDir Path folder) throws IOException {
        XSSFWorkbook book = form(instruments("griptasks", "quickdash"));
        Sheet sheet = book.getSheetAt(0);
        List<String> headings = all(book);
        Row row = sheet.getRow(1);
        row.createCell(0).setCellValue("007");
        Cell day = row.createCell(1);
        day.setCellValue(LocalDate.of(2026, 3, 9));
        day.setCellStyle(sheet.getColumnStyle(1));
        row.createCell(2).setCellValue("left");
        double[] responses = {3, 4, 3, 2, 2, 4, 3, 4, 3, 2, 3};
        for (int i = 0; i < responses.length; i++) {
            row.createCell(headings.indexOf("quickdash_" + (i + 1))).setCellValue(responses[i]);
        }
        Read read = read(book, folder);
        assertEquals(List.of(), read.problems());
        ScoredForm scored = read.forms().stream()
                .filter(f -> f.instrument().id().value().equals("quickdash"))
                .findFirst()
                .orElseThrow();
        assertEquals("007", scored.sitting().patient());
        assertEquals(LocalDate.of(2026, 3, 9), scored.sitting().completedOn());
        assertEquals(50, scored.results().get(0).scored().orElseThrow().value(), 1e-9);
    }

    @Test
    void everyResponseCellOffersItsCodesAndNoOther() {
        List<Instrument> all = CATALOGUE.all();
        XSSFWorkbook book = form(all);
        Map<Integer, DataValidation> checks = new HashMap<>();
        for (DataValidation check : book.getSheetAt(0).getDataValidations()) {
            assertEquals(1, check.getRegions().getCellRangeAddresses()[0].getFirstRow());
            assertEquals(ROWS, check.getRegions().getCellRangeAddresses()[0].getLastRow());
            assertTrue(check.getPromptBoxText().length() <= 255, check.getPromptBoxText());
            assertTrue(check.getErrorBoxText().length() <= 255, check.getErrorBoxText());
            checks.put(check.getRegions().getCellRangeAddresses()[0].getFirstColumn(), check);
        }
        List<String> headings = all(book);
        int columns = 0;
        int lists = 0;
        for (Instrument instrument : all) {
            for (Column column : instrument.columns()) {
                DataValidation check = checks.get(headings.indexOf(column.name()));
                columns++;
                assertTrue(
                        check.getPromptBoxText()
                                .startsWith(column.item().topic().substring(0, 3)),
                        column.name());
                if (column.item().responses() instanceof ResponseSet.Codes codes) {
                    assertEquals(codes.codes(), listed(book, check), column.name());
                    lists++;
                } else {
                    assertEquals(
                            ValidationType.DECIMAL,
                            check.getValidationConstraint().getValidationType());
                }
            }
        }
        assertEquals(EntryForm.headings(all).size(), columns + 4);
        assertTrue(lists > 300, "only " + lists);
        assertEquals(
                ValidationType.DATE, checks.get(1).getValidationConstraint().getValidationType());
        assertEquals("TODAY()", checks.get(1).getValidationConstraint().getFormula2());
        assertEquals("Codes!$C$2:$C$4", checks.get(2).getValidationConstraint().getFormula1());
    }

    private static List<Double> listed(XSSFWorkbook book, DataValidation check) {
        AreaReference area =
                new AreaReference(check.getValidationConstraint().getFormula1(), book.getSpreadsheetVersion());
        List<Double> codes = new ArrayList<>();
        for (int r = area.getFirstCell().getRow(); r <= area.getLastCell().getRow(); r++) {
            codes.add(book.getSheet("Codes")
                    .getRow(r)
                    .getCell(area.getFirstCell().getCol())
                    .getNumericCellValue());
        }
        return codes;
    }

    @Test
    void blanksAreCountedByWhatMayRightlyBeLeftOut() {
        List<Instrument> chosen = instruments("quickdash", "griptasks");
        XSSFWorkbook book = form(chosen);
        List<String> headings = all(book);
        Row row = book.getSheetAt(0).getRow(4);
        row.createCell(0).setCellValue("P1");
        for (String answered : List.of("quickdash_1", "quickdash_3", "quickdash_work_1", "griptasks_key_left")) {
            row.createCell(headings.indexOf(answered)).setCellValue(1);
        }
        book.getCreationHelper().createFormulaEvaluator().evaluateAll();
        Sheet blanks = book.getSheet("Blanks");
        List<String> groups = new ArrayList<>();
        blanks.getRow(0).forEach(c -> groups.add(c.getStringCellValue()));
        assertEquals(
                List.of(
                        "row",
                        "patient",
                        "completed_on",
                        "quickdash",
                        "quickdash work",
                        "quickdash sport",
                        "griptasks right",
                        "griptasks left"),
                groups);
        Row counted = blanks.getRow(5);
        assertEquals(5, counted.getCell(0).getNumericCellValue());
        assertEquals("P1", counted.getCell(1).getStringCellValue());
        int[] expected = {9, 3, 4, 6, 5};
        for (int i = 0; i < expected.length; i++) {
            assertEquals(expected[i], counted.getCell(3 + i).getNumericCellValue(), groups.get(3 + i));
            assertEquals(expected[i], blanks.getRow(1).getCell(3 + i).getNumericCellValue(), groups.get(3 + i));
        }
        assertEquals("", blanks.getRow(6).getCell(3).getStringCellValue());
    }

    @Test
    void theHeadingCarriesOurTopicAndTheHelpTheLicence() {
        List<Instrument> chosen = instruments("prwe");
        XSSFWorkbook book = form(chosen);
        Cell heading = book.getSheetAt(0).getRow(0).getCell(4);
        assertEquals("prwe_1", heading.getStringCellValue());
        assertTrue(heading.getCellComment()
                .getString()
                .getString()
                .startsWith(chosen.get(0).columns().get(0).item().topic()));
        StringBuilder help = new StringBuilder();
        for (Row row : book.getSheet("Help")) {
            for (Cell cell : row) {
                help.append(cell.getCellType() == CellType.STRING ? cell.getStringCellValue() : "")
                        .append('\n');
            }
        }
        assertTrue(help.toString().contains(chosen.get(0).facts().licence().holder()));
        assertTrue(help.toString().contains("The wording must come from the licensed form."));
    }

    @Test
    void scoresStandBesideTheResponsesOfTheirInstrument() {
        List<String> headings = all(form(instruments("prwe", "mhq")));
        int first = headings.indexOf("prwe_15") + 1;
        assertEquals(
                List.of(
                        "prwe pain score",
                        "prwe pain lowest",
                        "prwe pain highest",
                        "prwe pain unanswered",
                        "prwe pain why",
                        "prwe function score"),
                headings.subList(first, first + 6));
        assertEquals("mhq_function_1_right", headings.get(headings.indexOf("prwe total why") + 1));
        assertTrue(headings.containsAll(List.of(
                "mhq function right score", "mhq function left why", "mhq total both lowest", "mhq work score")));
        // A step of another scale, and a side of what is asked of the person.
        assertTrue(headings.stream().noneMatch(h -> h.startsWith("mhq adl-onehand") || h.startsWith("mhq work right")));
    }

    @Test
    void onlyCellsForEntryCanBeTypedInto() {
        XSSFWorkbook book = form(instruments("quickdash"));
        XSSFSheet sheet = book.getSheetAt(0);
        assertTrue(sheet.getProtect());
        assertEquals(null, sheet.getCTWorksheet().getSheetProtection().getPassword());
        assertEquals(null, sheet.getCTWorksheet().getSheetProtection().getHashValue());
        List<String> headings = all(book);
        int locked = 0;
        for (int i = 0; i < headings.size(); i++) {
            Cell cell = sheet.getRow(1).getCell(i);
            boolean score = headings.get(i).contains(" ");
            assertEquals(score, cell != null, headings.get(i));
            assertEquals(score, (score ? cell.getCellStyle() : sheet.getColumnStyle(i)).getLocked(), headings.get(i));
            locked += score ? 1 : 0;
        }
        assertEquals(15, locked);
        assertTrue(sheet.getRow(0).getCell(0).getCellStyle().getLocked());
        assertTrue(book.isSheetHidden(book.getSheetIndex(EntryWorking.NAME)));
        assertTrue(book.getSheet(EntryWorking.NAME).getProtect());
    }

    @Test
    void aClinicsFormHasRowsEnough() {
        XSSFWorkbook book = Written.open(
                Written.bytes((scratch, out) -> EntryForm.write(instruments("nprs"), Written.AS_OF, scratch, out)));
        assertTrue(EntryForm.ROWS >= 200);
        assertEquals(EntryForm.ROWS, book.getSheetAt(0).getLastRowNum());
        int score = all(book).indexOf("nprs worst score");
        Cell last = book.getSheetAt(0).getRow(EntryForm.ROWS).getCell(score);
        assertEquals(CellType.FORMULA, last.getCellType());
        Row row = last.getRow();
        row.createCell(0).setCellValue("P1");
        row.createCell(all(book).indexOf("nprs_worst")).setCellValue(7);
        FormulaEvaluator evaluator = book.getCreationHelper().createFormulaEvaluator();
        assertEquals(7, evaluator.evaluate(last).getNumberValue(), 1e-9);
        // A row without a patient shows nothing, whatever else it holds.
        row.getCell(0).setCellValue(" ");
        evaluator.clearAllCachedResultValues();
        assertEquals("", evaluator.evaluate(last).getStringValue());
    }

    @Test
    void theSheetForPaperIsLegibleAndWithoutTheWording() {
        for (Instrument instrument : CATALOGUE.all()) {
            XSSFWorkbook book = form(List.of(instrument));
            XSSFSheet sheet = book.getSheet("Print " + instrument.id());
            List<String> texts = new ArrayList<>();
            for (Row row : sheet) {
                for (Cell cell : row) {
                    int points =
                            book.getFontAt(cell.getCellStyle().getFontIndex()).getFontHeightInPoints();
                    assertTrue(points >= 10, instrument + " " + cell.getAddress() + ": " + points + " points");
                    if (cell.getCellType() == CellType.STRING) {
                        texts.add(cell.getStringCellValue());
                    }
                }
            }
            instrument.facts().items().forEach(item -> {
                int at = texts.indexOf(item.id().value());
                assertTrue(texts.get(at + 1).startsWith(item.topic()), item.id().value());
            });
            assertTrue(texts.stream()
                    .anyMatch(t -> t.startsWith(
                            "Licence: " + instrument.facts().licence().terms())));
            assertEquals(
                    !instrument.facts().licence().wordingIncluded(),
                    texts.stream().anyMatch(t -> t.contains("No wording is shipped.")));
            // Upright A4 without its margins is about 100 characters wide: nothing has to shrink.
            int width = 0;
            for (int i = 0; i < 5; i++) {
                width += sheet.getColumnWidth(i) / 256;
            }
            assertTrue(width <= 100, width + " characters");
            assertEquals(false, sheet.getPrintSetup().getLandscape());
        }
    }

    @Test
    void onlyTheSheetsForPaperArePrinted() {
        XSSFWorkbook book = form(instruments("quickdash", "mhq"));
        int printed = 0;
        for (int i = 0; i < book.getNumberOfSheets(); i++) {
            if (book.getSheetName(i).startsWith("Print ")) {
                assertEquals(null, book.getPrintArea(i), book.getSheetName(i));
                printed++;
            } else {
                assertTrue(book.getPrintArea(i).endsWith("!$XFD$1:$XFD$1"), book.getSheetName(i));
            }
        }
        assertEquals(2, printed);
    }

    /** A box takes a number by hand: 6 mm are 17 points. */
    @Test
    void boxesOnPaperAreHighEnoughAndRowsAreToldApart() {
        XSSFWorkbook book = form(instruments("bctq"));
        Sheet print = book.getSheet("Print bctq");
        int boxes = 0;
        boolean shaded = false;
        for (Row row : print) {
            Cell box = row.getCell(3);
            if (box != null
                    && box.getCellType() == CellType.FORMULA
                    && box.getCellStyle().getBorderTop() == BorderStyle.THIN) {
                assertTrue(row.getHeightInPoints() >= 6 / 25.4 * 72, row.getRowNum() + ": " + row.getHeightInPoints());
                boxes++;
            }
            if (row.getCell(0) != null && row.getCell(0).toString().startsWith("symptom_")) {
                boolean now = row.getCell(0).getCellStyle().getFillPattern() == FillPatternType.SOLID_FOREGROUND;
                assertTrue(now != shaded, "row " + row.getRowNum());
                shaded = now;
            }
            for (Cell cell : row) {
                assertTrue(
                        cell.getCellType() != CellType.STRING
                                || !cell.getStringCellValue().contains("grip tag"),
                        cell.toString());
            }
        }
        assertTrue(boxes >= 19, "only " + boxes);
    }

    @Test
    void theSheetForPaperShowsTheChosenRow() {
        XSSFWorkbook book = form(instruments("quickdash"));
        Row row = book.getSheetAt(0).getRow(1);
        row.createCell(0).setCellValue("P7");
        for (int i = 0; i < 11; i++) {
            row.createCell(all(book).indexOf("quickdash_" + (i + 1))).setCellValue(i == 10 ? 5 : 2);
        }
        Sheet print = book.getSheet("Print quickdash");
        FormulaEvaluator evaluator = book.getCreationHelper().createFormulaEvaluator();
        Cell answer = null;
        Cell score = null;
        for (Row line : print) {
            answer = line.getCell(0) != null
                            && line.getCell(0).getCellType() == CellType.STRING
                            && line.getCell(0).getStringCellValue().equals("11")
                    ? line.getCell(3)
                    : answer;
            boolean total = line.getCell(1) != null
                    && line.getCell(1).getCellType() == CellType.FORMULA
                    && line.getCell(1).getCellFormula().contains("\"total\"");
            score = total ? line.getCell(0) : score;
        }
        assertEquals("", evaluator.evaluate(answer).getStringValue());
        assertEquals("", evaluator.evaluate(score).getStringValue());
        print.getRow(2).getCell(3).setCellValue(2);
        evaluator.clearAllCachedResultValues();
        assertEquals(5, evaluator.evaluate(answer).getNumberValue());
        // (25 / 11 - 1) x 25
        assertEquals(31.818181818, evaluator.evaluate(score).getNumberValue(), 1e-6);
    }

    @Test
    void theFormSaysWhatABlankMayMean() {
        XSSFWorkbook book = form(instruments("ulfi"));
        String note = CATALOGUE
                .find("ulfi")
                .orElseThrow()
                .facts()
                .items()
                .get(0)
                .note()
                .orElseThrow();
        assertTrue(note.contains("blank may mean no"), note);
        List<String> texts = new ArrayList<>();
        for (String name : List.of("Print ulfi", "Help")) {
            for (Row row : book.getSheet(name)) {
                for (Cell cell : row) {
                    texts.add(cell.getCellType() == CellType.STRING ? cell.getStringCellValue() : "");
                }
            }
        }
        assertEquals(2, texts.stream().filter(t -> t.equals("Item 1: " + note)).count());
        assertTrue(book.getSheetAt(0)
                .getRow(0)
                .getCell(4)
                .getCellComment()
                .getString()
                .getString()
                .contains(note));
    }
}
