package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import lumbrical.reconcile.Decision;
import lumbrical.reconcile.Difference;
import lumbrical.reconcile.DifferenceTable;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/** The differences of double data entry as a workbook, in which a person chooses each decision from a list. */
public final class DifferencesWorkbook {
    private static final Layout LAYOUT = Layout.of(1)
            .width(Map.of("kind", 20, "scores_first", 26, "scores_second", 26, "hint", 44, "decision", 14, "value", 14))
            .wrap("hint");

    private DifferencesWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param asOf the day that dates inside the file come from
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(List<Difference> differences, LocalDate asOf, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(asOf, scratch, out, book -> {
            TableSheet.write(book, DifferenceTable.TABLE, LAYOUT, differences);
            XSSFSheet sheet = book.inMemory().getSheet(DifferenceTable.TABLE.name());
            int column = DifferenceTable.TABLE.headings().indexOf("decision");
            DataValidationHelper helper = sheet.getDataValidationHelper();
            DataValidation list = helper.createValidation(
                    helper.createExplicitListConstraint(Decision.WORDS.toArray(String[]::new)),
                    new CellRangeAddressList(1, Math.max(1, differences.size()), column, column));
            list.setShowErrorBox(true);
            list.createErrorBox("Decision", "Choose first, second, blank or value.");
            sheet.addValidationData(list);
        });
    }
}
