package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import lumbrical.columns.ProblemColumns;
import lumbrical.output.OutputTable;

/** Any table as a workbook of one sheet. */
public final class TableWorkbook {
    private TableWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param asOf the day that dates inside the file come from
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static <R> void write(OutputTable<R> table, Iterable<R> rows, LocalDate asOf, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(asOf, scratch, out, book -> TableSheet.write(book, table, layoutOf(table), rows));
    }

    private static Layout layoutOf(OutputTable<?> table) {
        return table.name().equals(ProblemColumns.TABLE.name()) ? ClinicWorkbook.PROBLEMS : Layout.of(1);
    }
}
