package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import lumbrical.followup.CallList;
import lumbrical.followup.CallRow;
import lumbrical.followup.ExpectedForm;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;

/** The due list and the list of problems as workbooks. */
class ListWorkbooksTest {
    private static List<String> texts(Row row) {
        List<String> texts = new ArrayList<>();
        row.forEach(cell -> texts.add(cell.toString()));
        return texts;
    }

    @Test
    void problemsNameFileSheetRowAndColumn() {
        Written demo = Written.demo();
        List<Problem> problems = List.of(
                new Problem(
                        Place.of("march.xlsx#Ward 3", 12).in("quickdash_3"),
                        "7",
                        ProblemCode.RESPONSE_NOT_ALLOWED,
                        "Correct it."),
                new Problem(Place.of("april.xlsx", 3), "", ProblemCode.DATE_MISSING, "Fill it in."),
                new Problem(Place.of("no#1.csv", 2), "=x", ProblemCode.NOTE_UNSCHEDULED, "Nothing to do."));
        XSSFWorkbook book = Written.open(Written.bytes(
                (scratch, out) -> ProblemsWorkbook.write(problems, Written.AS_OF, demo.provenance(), scratch, out)));
        Sheet sheet = book.getSheet("Problems");
        assertEquals(List.of("file", "sheet", "row", "column", "value", "problem", "advice"), texts(sheet.getRow(0)));
        assertEquals(
                List.of("march.xlsx", "Ward 3", "12.0", "quickdash_3", "7", "response-not-allowed", "Correct it."),
                texts(sheet.getRow(1)));
        assertEquals(
                List.of("april.xlsx", "first sheet", "3.0", "date-missing", "Fill it in."), texts(sheet.getRow(2)));
        assertEquals(List.of("no#1.csv", "2.0", "=x", "note-unscheduled", "Nothing to do."), texts(sheet.getRow(3)));
        Sheet summary = book.getSheet("Summary");
        assertEquals(2, summary.getRow(2).getCell(0).getNumericCellValue());
        assertEquals(1, summary.getRow(2).getCell(2).getNumericCellValue());
    }

    @Test
    void theCallListShowsWhomToCallSoonestFirstAndCountsEveryForm() {
        Written demo = Written.demo();
        List<CallRow> rows = CallList.of(demo.clinic(), CallList.Selection.NOW);
        byte[] bytes = Written.bytes(
                (scratch, out) -> DueWorkbook.write(demo.clinic(), rows, demo.provenance(), scratch, out));
        assertArrayEquals(
                bytes,
                Written.bytes(
                        (scratch, out) -> DueWorkbook.write(demo.clinic(), rows, demo.provenance(), scratch, out)));
        XSSFWorkbook book = Written.open(bytes);
        Sheet call = book.getSheet("To call");
        assertEquals(rows.size(), call.getLastRowNum());
        assertEquals(
                List.of(
                        "patient",
                        "episode",
                        "side",
                        "visit",
                        "opens",
                        "target",
                        "closes",
                        "state",
                        "forms",
                        "days_left"),
                texts(call.getRow(0)));
        double before = 0;
        for (int r = 1; r <= call.getLastRowNum(); r++) {
            assertTrue(List.of("open", "late", "incomplete")
                    .contains(call.getRow(r).getCell(7).getStringCellValue()));
            double closing = call.getRow(r).getCell(6).getNumericCellValue();
            assertTrue(closing >= before, "row " + r);
            before = closing;
        }
        long incomplete = rows.stream()
                .filter(row -> row.state() == ExpectedForm.State.INCOMPLETE)
                .mapToLong(row -> row.forms().size())
                .sum();
        assertEquals(incomplete, book.getSheet("Items to ask for").getLastRowNum() - (incomplete == 0 ? 1 : 0));
        double total = 0;
        for (Row row : book.getSheet("Summary")) {
            boolean visit = demo.clinic().schedule().visits().stream()
                    .anyMatch(v -> row.getCell(0) != null
                            && v.name().equals(row.getCell(0).toString()));
            for (int c = 1; visit && c <= ExpectedForm.State.values().length; c++) {
                total += row.getCell(c).getNumericCellValue();
            }
        }
        assertEquals(demo.clinic().expected().count(), total);
    }
}
