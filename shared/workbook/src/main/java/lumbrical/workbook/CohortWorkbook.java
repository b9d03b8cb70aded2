package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import lumbrical.cohort.Blank;
import lumbrical.cohort.CohortResult;
import lumbrical.columns.AttritionColumns;
import lumbrical.columns.CohortGroupColumns;
import lumbrical.columns.CompareColumns;
import lumbrical.columns.EcdfColumns;
import lumbrical.columns.FlowColumns;
import lumbrical.columns.OwnMcidColumns;
import lumbrical.columns.ProblemColumns;
import lumbrical.columns.ReliabilityColumns;
import lumbrical.columns.ResponderColumns;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Problem;

/** Group results as a workbook: a page of results, charts, methods, and every table. */
public final class CohortWorkbook {
    static final OutputTable<Blank> BLANKS = new OutputTable<>(
            "Blanks",
            List.of(
                    OutputColumn.text("table", "The table with the blank cell", r -> Value.word(r.table())),
                    OutputColumn.text(
                            "group_by",
                            "Column by which is grouped",
                            r -> Value.text(r.at().group().by())),
                    OutputColumn.text(
                            "group", "The group", r -> Value.text(r.at().group().label())),
                    OutputColumn.text(
                            "instrument",
                            "Instrument id",
                            r -> Value.word(r.at().instrument().id().value())),
                    OutputColumn.text(
                            "scale",
                            "Scale id",
                            r -> Value.word(r.at().scale().id().value())),
                    OutputColumn.text("visit", "Visit of the schedule", r -> r.at().visit()
                            .map(v -> Value.text(v.name()))
                            .orElse(Value.BLANK)),
                    OutputColumn.text("quantity", "What cannot be estimated", r -> Value.word(r.quantity())),
                    OutputColumn.text(
                            "reason", "Why", r -> Value.word(r.reason().explanation()))));

    private static final Layout WIDE =
            Layout.of(5).width(Map.of("group_by", 16, "group", 24, "instrument", 14, "scale", 19, "visit", 13));
    private static final Layout FLOW =
            Layout.of(4).width(Map.of("group_by", 16, "group", 24, "instrument", 14, "visit", 13));

    private CohortWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param asOf the day on which things were looked at
     * @param problems every problem and note of the run, problems first
     * @param run where it comes from
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(
            CohortResult result, LocalDate asOf, List<Problem> problems, RunRecord run, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(asOf, scratch, out, book -> {
            CohortPage.write(book, result, asOf);
            CohortCharts.write(book, result);
            methods(book, result, run);
            TableSheet.write(
                    book, CohortGroupColumns.TABLE, WIDE, result.standing().groups());
            TableSheet.write(book, ResponderColumns.TABLE, WIDE.width(Map.of("mcid_source", 48)), result.responders());
            TableSheet.write(book, EcdfColumns.TABLE, WIDE, result.ecdf());
            TableSheet.write(
                    book, AttritionColumns.TABLE, WIDE, result.standing().attrition());
            TableSheet.write(book, FlowColumns.TABLE, FLOW, result.standing().flow());
            if (!result.compare().isEmpty()) {
                TableSheet.write(book, CompareColumns.TABLE, WIDE, result.compare());
            }
            if (!result.measurement().ownMcid().isEmpty()) {
                TableSheet.write(
                        book,
                        OwnMcidColumns.TABLE,
                        WIDE.width(Map.of("method", 20, "warning", 80)).wrap("warning"),
                        result.measurement().ownMcid());
            }
            TableSheet.write(
                    book,
                    ReliabilityColumns.TABLE,
                    WIDE.width(Map.of("quantity", 24, "method", 70)),
                    result.measurement().reliability());
            TableSheet.write(
                    book,
                    BLANKS,
                    WIDE.width(Map.of("quantity", 38, "reason", 60)),
                    result.blanks().toList());
            TableSheet.write(book, ProblemColumns.TABLE, ClinicWorkbook.PROBLEMS, problems);
            TableSheet.write(
                    book,
                    ReferenceTables.COLUMNS,
                    Layout.of(2)
                            .width(Map.of("sheet", 16, "column", 34, "meaning", 100))
                            .wrap("meaning"),
                    columns());
            book.putLast(CohortCharts.DATA);
            book.printNone(Set.of("Results", "Charts", "Methods"));
        });
    }

    private static void methods(StreamingWorkbook book, CohortResult result, RunRecord run) {
        Page page = new Page(book, "Methods", 104);
        page.line("Methods and cautions", book.styles().title);
        int[] whole = {1};
        for (String paragraph : result.methods()) {
            page.texts(whole, List.of(paragraph));
            page.line("", book.styles().plain);
        }
        run.print(page);
    }

    private static List<ReferenceTables.ColumnRow> columns() {
        List<ReferenceTables.ColumnRow> rows = new ArrayList<>();
        for (OutputTable<?> table : List.of(
                CohortGroupColumns.TABLE,
                ResponderColumns.TABLE,
                EcdfColumns.TABLE,
                AttritionColumns.TABLE,
                FlowColumns.TABLE,
                CompareColumns.TABLE,
                OwnMcidColumns.TABLE,
                ReliabilityColumns.TABLE,
                BLANKS,
                ProblemColumns.TABLE)) {
            for (OutputColumn<?> column : table.columns()) {
                rows.add(new ReferenceTables.ColumnRow(
                        table.name(), column.name(), column.kind().name().toLowerCase(Locale.ROOT), column.meaning()));
            }
        }
        return rows;
    }
}
