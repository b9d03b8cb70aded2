package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/**
 * The hidden sheet on which an entry form computes its scores, step by step: a row for each row of the form, a column for each step.
 * In a formula {@code #} stands for the number of the row.
 */
final class EntryWorking {
    static final String NAME = "Working";

    private final List<Step> steps = new ArrayList<>();

    private record Step(String heading, String formula) {}

    /** Adds a step; what refers to it from another step. */
    String add(String heading, String formula) {
        steps.add(new Step(heading, formula));
        return "$" + TableSheet.letters(steps.size() - 1) + "#";
    }

    /** A reference to a step, as the other sheets write it. */
    static String fromOtherSheet(String step) {
        return NAME + "!" + step;
    }

    /**
     * Writes the sheet. The formulas have no stored value: whoever opens the book computes them.
     *
     * @param rows rows of the form below its headings
     */
    void write(StreamingWorkbook book, int rows) {
        SXSSFSheet sheet = book.sheet(NAME);
        Row header = sheet.createRow(0);
        for (int i = 0; i < steps.size(); i++) {
            Cell cell = header.createCell(i);
            cell.setCellValue(steps.get(i).heading());
            cell.setCellStyle(book.styles().header);
        }
        for (int row = 1; row <= rows; row++) {
            Row cells = sheet.createRow(row);
            String number = String.valueOf(row + 1);
            for (int i = 0; i < steps.size(); i++) {
                FilledDownFormulas.fillDown(
                        cells.createCell(i),
                        i,
                        row == 1,
                        rows + 1,
                        steps.get(i).formula().replace("#", number));
            }
        }
        book.hide(sheet);
    }
}
