package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import lumbrical.columns.DueColumns;
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
    void theDueListShowsWhomToCallFirstAndCountsEveryForm() {
        Written demo = Written.demo();
        byte[] bytes =
                Written.bytes((scratch, out) -> DueWorkbook.write(demo.clinic(), demo.provenance(), scratch, out));
        assertArrayEquals(
                bytes,
                Written.bytes((scratch, out) -> DueWorkbook.write(demo.clinic(), demo.provenance(), scratch, out)));
        XSSFWorkbook book = Written.open(bytes);
        assertEquals(demo.clinic().due().size(), book.getSheet("Due").getLastRowNum());
        Sheet call = book.getSheet("To call");
        int state = DueColumns.TABLE.headings().indexOf("state");
        int closes = DueColumns.TABLE.headings().indexOf("closes");
        int blanks = DueColumns.TABLE.headings().indexOf("blank_items");
        long expected = demo.clinic().due().stream()
                .filter(d -> List.of("due", "overdue", "received-not-scorable")
                        .contains(d.state().code()))
                .count();
        assertEquals(expected, call.getLastRowNum());
        double before = 0;
        boolean rescue = false;
        int rescues = 0;
        for (int r = 1; r <= call.getLastRowNum(); r++) {
            String code = call.getRow(r).getCell(state).getStringCellValue();
            boolean now = code.equals("received-not-scorable");
            assertTrue(now || !rescue, "row " + r);
            double closing = call.getRow(r).getCell(closes).getNumericCellValue();
            assertTrue(closing >= before || now != rescue, "row " + r);
            before = closing;
            rescue = now;
            if (now) {
                rescues++;
                assertTrue(call.getRow(r).getCell(blanks) != null, "row " + r);
            }
        }
        assertTrue(rescues > 3, "only " + rescues);
        double total = 0;
        Sheet summary = book.getSheet("Summary");
        for (Row row : summary) {
            boolean visit = demo.clinic().schedule().visits().stream()
                    .anyMatch(v -> row.getCell(0) != null
                            && v.name().equals(row.getCell(0).toString()));
            for (int c = 1; visit && c <= ExpectedForm.State.values().length; c++) {
                total += row.getCell(c).getNumericCellValue();
            }
        }
        assertEquals(demo.clinic().due().size(), total);
    }
}
