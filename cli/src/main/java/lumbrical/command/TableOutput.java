package lumbrical.command;

import java.time.LocalDate;
import java.util.Optional;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputTable;
import lumbrical.workbook.TableWorkbook;

/** Writes a table as CSV or XLSX, as the ending of the file's name says; to standard output as CSV. */
final class TableOutput {
    private TableOutput() {}

    /** Writes to {@code target}, else to standard output. */
    static <R> void write(
            Optional<OutputFile> target,
            OutputTable<R> table,
            Iterable<R> rows,
            OutputOptions options,
            Console console) {
        if (target.isEmpty()) {
            csv(table, rows, console.out(), options.guard());
        } else {
            write(target.get(), table, rows, options);
        }
    }

    /** Writes to {@code target}. */
    static <R> void write(OutputFile target, OutputTable<R> table, Iterable<R> rows, OutputOptions options) {
        if (OutputOptions.isWorkbook(target)) {
            target.writeWithScratch((out, scratch) -> TableWorkbook.write(table, rows, DAY, scratch, out));
        } else {
            target.writeText(out -> csv(table, rows, out, options.guard()));
        }
    }

    /** Dates inside a workbook of one table; the same content gives the same bytes. */
    private static final LocalDate DAY = LocalDate.of(2000, 1, 1);

    private static <R> void csv(OutputTable<R> table, Iterable<R> rows, Appendable out, boolean guard) {
        CsvTableWriter<R> csv = new CsvTableWriter<>(table, out, guard);
        rows.forEach(csv::write);
        csv.flush();
    }
}
