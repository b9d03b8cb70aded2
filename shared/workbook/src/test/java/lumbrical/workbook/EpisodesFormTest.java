package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
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
import java.util.OptionalInt;
import java.util.TreeSet;
import lumbrical.catalogue.Catalogue;
import lumbrical.condition.Condition;
import lumbrical.followup.Episode;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Side;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.tabular.Input;
import org.apache.poi.ss.usermodel.BorderStyle;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationConstraint.ValidationType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.util.AreaReference;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class EpisodesFormTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();

    private final XSSFWorkbook book =
            Written.open(Written.bytes((scratch, out) -> EpisodesForm.write(CATALOGUE, Written.AS_OF, scratch, out)));

    private Map<String, DataValidation> checks() {
        Map<String, DataValidation> checks = new HashMap<>();
        for (DataValidation check : book.getSheetAt(0).getDataValidations()) {
            var range = check.getRegions().getCellRangeAddresses()[0];
            assertEquals(1, range.getFirstRow());
            assertEquals(EpisodesForm.ROWS, range.getLastRow());
            assertTrue(check.getPromptBoxText().length() <= 255, check.getPromptBoxText());
            checks.put(EpisodesForm.headings().get(range.getFirstColumn()), check);
        }
        return checks;
    }

    private List<String> listed(DataValidation check) {
        AreaReference area =
                new AreaReference(check.getValidationConstraint().getFormula1(), book.getSpreadsheetVersion());
        List<String> values = new ArrayList<>();
        for (int r = area.getFirstCell().getRow(); r <= area.getLastCell().getRow(); r++) {
            values.add(book.getSheet("Lists")
                    .getRow(r)
                    .getCell(area.getFirstCell().getCol())
                    .getStringCellValue());
        }
        return values;
    }

    private EpisodeReader.Episodes read(Path folder) throws IOException {
        Path file = folder.resolve("episodes.xlsx");
        try (OutputStream out = Files.newOutputStream(file)) {
            book.write(out);
        }
        return EpisodeReader.read(new Input(file, Optional.empty()), CATALOGUE, ReadOptions.asOf(Written.AS_OF));
    }

    @Test
    void hasAndExplainsEveryColumn() {
        assertEquals(new TreeSet<>(EpisodeReader.columns()), new TreeSet<>(EpisodesForm.headings()));
        Row header = book.getSheetAt(0).getRow(0);
        List<String> help = new ArrayList<>();
        book.getSheet("Help").forEach(r -> help.add(r.getCell(0).getStringCellValue()));
        for (int i = 0; i < EpisodesForm.headings().size(); i++) {
            assertEquals(EpisodesForm.headings().get(i), header.getCell(i).getStringCellValue());
            assertTrue(
                    header.getCell(i).getCellComment().getString().getString().length() > 20);
            assertTrue(help.contains(EpisodesForm.headings().get(i)));
        }
        assertTrue(header.getCell(2).getCellComment().getString().getString().startsWith("Required. "));
    }

    @Test
    void offersListsThatStop() {
        Map<String, DataValidation> checks = checks();
        Map<String, List<String>> lists = Map.of(
                "treated_side", List.of("right", "left"),
                "dominant_side", List.of("right", "left", "both"),
                "sex", List.of("female", "male", "other", "unknown"),
                "closed_reason", List.of("died", "withdrawn", "moved", "revision", "other"),
                "share", List.of("yes", "no"));
        lists.forEach((column, values) -> {
            assertEquals(values, listed(checks.get(column)), column);
            assertTrue(checks.get(column).getShowErrorBox(), column);
        });
    }

    @Test
    void hintsAtConditionsAndFormsWithoutStopping() {
        Map<String, DataValidation> checks = checks();
        assertEquals(
                CATALOGUE.conditions().conditions().stream()
                        .map(Condition::label)
                        .toList(),
                listed(checks.get("condition")));
        assertEquals(CATALOGUE.ids().stream().map(InstrumentId::value).toList(), listed(checks.get("forms")));
        assertFalse(checks.get("condition").getShowErrorBox());
        assertFalse(checks.get("forms").getShowErrorBox());
        for (String label : listed(checks.get("condition"))) {
            assertTrue(CATALOGUE.conditions().match(label).found().isPresent(), label);
        }
    }

    @Test
    void checksDatesAndTheYear() {
        Map<String, DataValidation> checks = checks();
        for (String date : List.of("index_date", "closed_on")) {
            assertEquals(
                    ValidationType.DATE,
                    checks.get(date).getValidationConstraint().getValidationType());
            assertTrue(checks.get(date).getShowErrorBox());
        }
        assertEquals(
                "MAX($D2,DATE(1990,1,1))",
                checks.get("closed_on").getValidationConstraint().getFormula1());
        assertEquals(
                ValidationType.INTEGER,
                checks.get("birth_year").getValidationConstraint().getValidationType());
    }

    @Test
    void anEmptyFormIsATableWithoutEpisodes(@TempDir Path folder) throws IOException {
        EpisodeReader.Episodes read = read(folder);
        assertEquals(List.of(), read.episodes());
        assertEquals(
                List.of(ProblemCode.NOTE_NO_ROWS),
                read.problems().stream().map(Problem::code).toList());
        assertEquals(List.of(), read.unusedColumns());
    }

    @Test
    void aFilledFormIsReadBack(@TempDir Path folder) throws IOException {
        Sheet sheet = book.getSheetAt(0);
        Row row = sheet.createRow(1);
        Map<String, String> texts = Map.of(
                "patient", "007",
                "episode", "E1",
                "treated_side", "left",
                "dominant_side", "right",
                "sex", "female",
                "condition", CATALOGUE.conditions().conditions().get(0).label(),
                "forms", "quickdash prwe",
                "closed_reason", "moved",
                "share", "no");
        texts.forEach((column, text) ->
                row.createCell(EpisodesForm.headings().indexOf(column)).setCellValue(text));
        Map.of("index_date", LocalDate.of(2026, 3, 9), "closed_on", LocalDate.of(2026, 9, 1))
                .forEach((column, day) -> {
                    int at = EpisodesForm.headings().indexOf(column);
                    Cell cell = row.createCell(at);
                    cell.setCellValue(day);
                    cell.setCellStyle(sheet.getColumnStyle(at));
                });
        row.createCell(EpisodesForm.headings().indexOf("birth_year")).setCellValue(1970);
        EpisodeReader.Episodes read = read(folder);
        assertEquals(List.of(), read.problems());
        Episode episode = read.episodes().get(0);
        assertEquals("007", episode.patient());
        assertEquals(Side.LEFT, episode.treatedSide());
        assertEquals(Optional.of(LocalDate.of(2026, 3, 9)), episode.indexDate());
        assertEquals(OptionalInt.of(1970), episode.birthYear());
        assertEquals(
                List.of("quickdash", "prwe"),
                episode.forms().stream().map(InstrumentId::value).toList());
        assertEquals(Optional.of(new Episode.Closure(LocalDate.of(2026, 9, 1), "moved")), episode.closure());
        assertFalse(episode.share());
    }

    @Test
    void printsOnePageOfLinesToWriteOn() {
        XSSFSheet sheet = book.getSheetAt(0);
        assertEquals("Episodes!$A$1:$M$27", book.getPrintArea(0));
        assertTrue(sheet.getFitToPage());
        assertEquals(1, sheet.getPrintSetup().getFitWidth());
        for (int r = 1; r <= 26; r++) {
            for (int c = 0; c < EpisodesForm.headings().size(); c++) {
                Cell cell = sheet.getRow(r).getCell(c);
                assertEquals(CellType.BLANK, cell.getCellType());
                assertEquals(BorderStyle.THIN, cell.getCellStyle().getBorderBottom());
                assertFalse(cell.getCellStyle().getLocked());
            }
        }
        assertEquals("@", sheet.getRow(1).getCell(0).getCellStyle().getDataFormatString());
        assertEquals("yyyy-mm-dd", sheet.getRow(1).getCell(3).getCellStyle().getDataFormatString());
        for (int i = 1; i < book.getNumberOfSheets(); i++) {
            assertTrue(book.getPrintArea(i).endsWith("!$XFD$1:$XFD$1"), book.getSheetName(i));
        }
    }
}
