package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.CodeMap;
import lumbrical.intake.ColumnMap;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A form that was filled in, computed and saved, as {@code score} reads it. */
class EntryFormReadBackTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();
    /** The worked example of the federal guide: these eleven responses give 50. */
    private static final int[] EXAMPLE = {3, 4, 3, 2, 2, 4, 3, 4, 3, 2, 3};

    private static final String AGAIN =
            " What the form shows is not used. Have the spreadsheet calculate the form again and"
                    + " save it; if it still differs, a formula was typed over: take a new form.";

    private final XSSFWorkbook book = Written.open(Written.bytes((scratch, out) ->
            EntryForm.write(List.of(CATALOGUE.find("quickdash").orElseThrow()), 3, Written.AS_OF, scratch, out)));
    private final Sheet sheet = book.getSheetAt(0);
    private final List<String> headings = new ArrayList<>();

    @TempDir
    private Path folder;

    @BeforeEach
    void fill() {
        sheet.getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
        cell(1, "patient").setCellValue("P1");
        cell(1, "completed_on").setCellValue(LocalDate.of(2026, 3, 9));
        cell(1, "completed_on").setCellStyle(sheet.getColumnStyle(1));
        for (int i = 0; i < EXAMPLE.length; i++) {
            cell(1, "quickdash_" + (i + 1)).setCellValue(EXAMPLE[i]);
        }
    }

    private Cell cell(int row, String heading) {
        int column = headings.indexOf(heading);
        return Optional.ofNullable(sheet.getRow(row).getCell(column))
                .orElseGet(() -> sheet.getRow(row).createCell(column));
    }

    private void compute() {
        FormulaEvaluator evaluator = book.getCreationHelper().createFormulaEvaluator();
        for (Row row : sheet) {
            row.forEach(evaluator::evaluateFormulaCell);
        }
    }

    private record Read(ScoringCounts counts, List<ScoredForm> forms, List<Problem> problems) {
        List<String> told() {
            return problems.stream()
                    .map(p -> p.place() + " [" + p.value() + "] " + p.code().code() + ": " + p.advice())
                    .toList();
        }
    }

    private Read read(ReadOptions reading, ScoringOptions scoring) throws IOException {
        Path file = folder.resolve("form.xlsx");
        try (OutputStream out = Files.newOutputStream(file)) {
            book.write(out);
        }
        List<ScoredForm> forms = new ArrayList<>();
        List<Problem> problems = new ArrayList<>();
        ScoringCounts counts = new BatchScorer(CATALOGUE, reading, scoring)
                .score(
                        List.of(new Input(file, Optional.empty())),
                        (row, scored) -> forms.addAll(scored),
                        problems::add);
        return new Read(counts, forms, problems);
    }

    private Read read() throws IOException {
        return read(ReadOptions.asOf(Written.AS_OF), ScoringOptions.AS_DEFINED);
    }

    @Test
    void itsScoresAreKnownAndAgree() throws IOException {
        compute();
        assertEquals(50, cell(1, "quickdash total score").getNumericCellValue(), 1e-9);
        Read read = read();
        assertEquals(List.of(), read.told());
        assertEquals(List.of(), read.counts().read().unusedColumns());
        // The rows without a patient hold formulas, and no content.
        assertEquals(
                "rows read 1 = scored 1 + nothing to score 0 + rejected 0",
                read.counts().reconciliation());
    }

    @Test
    void aScoreWithoutAStoredValueIsLeftAlone() throws IOException {
        assertEquals(List.of(), read().told());
    }

    @Test
    void aScoreTypedOverIsTold() throws IOException {
        compute();
        cell(1, "quickdash total score").setBlank();
        cell(1, "quickdash total score").setCellValue(50.0000011);
        assertEquals(
                List.of(
                        "form.xlsx row 2, column quickdash total score [50.0000011] form-score-differs: By the definition's"
                                + " rules the responses of this row give 50." + AGAIN),
                read().told());
        cell(1, "quickdash total score").setCellValue(50.0000009);
        assertEquals(List.of(), read().told());
        cell(1, "quickdash total score").setCellValue("good");
        assertEquals(
                List.of(
                        "form.xlsx row 2, column quickdash total score [good] form-score-differs: By the definition's rules"
                                + " the responses of this row give 50." + AGAIN),
                read().told());
    }

    @Test
    void aScoreWhereThereIsNoneIsTold() throws IOException {
        cell(1, "quickdash_1").setBlank();
        cell(1, "quickdash_2").setBlank();
        compute();
        cell(1, "quickdash total score").setBlank();
        cell(1, "quickdash total score").setCellValue(50);
        cell(1, "quickdash work score").setBlank();
        cell(1, "quickdash work score").setCellValue(0);
        assertEquals(
                List.of(
                        "form.xlsx row 2, column quickdash total score [50] form-score-differs: By the definition's rules the"
                                + " responses of this row give none (too-few-answered)." + AGAIN,
                        "form.xlsx row 2, column quickdash work score [0] form-score-differs: By the definition's rules the"
                                + " responses of this row give none." + AGAIN),
                read().told());
    }

    /** The form knows nothing of the options of a run. */
    @Test
    void itIsHeldAgainstTheDefinitionWhateverTheOptions() throws IOException {
        cell(1, "quickdash_1").setBlank();
        cell(1, "quickdash_work_1").setCellValue(9);
        compute();
        assertEquals(50, cell(1, "quickdash total score").getNumericCellValue(), 1e-9);
        ReadOptions nines = new ReadOptions(
                Written.AS_OF,
                Set.of("9"),
                true,
                ColumnMap.NONE,
                CodeMap.NONE,
                Optional.empty(),
                Optional.empty(),
                false,
                List.of());
        Read read = read(nines, new ScoringOptions(true, true));
        assertEquals(List.of(), read.told());
        assertEquals(Optional.empty(), read.forms().get(0).results().get(0).scored());
    }
}
