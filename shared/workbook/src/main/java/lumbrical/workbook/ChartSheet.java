package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.GroupRow;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Visit;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.output.Value;
import lumbrical.statistics.Quantiles;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/** Native charts: one course chosen from a list, and median and quartiles by visit for each scale. Direction is always up. */
final class ChartSheet {
    static final String NAME = "Charts";
    private static final int FIRST_CHART_ROW = CourseChart.END_ROW + 2;
    private static final int CHART_ROWS = 17;
    private static final int[] CHART_COLUMNS = {0, 5, 11};
    private static final short PRINT_SCALE = 74;

    private final StreamingWorkbook book;
    private final SXSSFSheet sheet;
    private final FollowUpResult clinic;
    private final LineCharts charts;

    /** The scores of a scale at a visit, of all conditions together. */
    private record ScaleAtVisit(Instrument instrument, Scale scale, Visit visit, Quantiles scores) {
        static Optional<ScaleAtVisit> of(GroupRow row) {
            return row.scores().optional().flatMap(s -> row.at()
                    .visit()
                    .map(v -> new ScaleAtVisit(row.at().instrument(), row.at().scale(), v, s.quantiles())));
        }
    }

    /** A scale's cells, one for each visit with scores, and where they stand. */
    private record Block(String name, Scale scale, List<ScaleAtVisit> cells, int firstRow) {}

    private ChartSheet(StreamingWorkbook book, FollowUpResult clinic) {
        this.book = book;
        this.clinic = clinic;
        this.sheet = book.sheet(NAME);
        this.charts = new LineCharts(book.inMemory().getSheet(NAME).createDrawingPatriarch());
        sheet.setColumnWidth(0, 26 * 256);
        for (int i = 1; i < CHART_COLUMNS[2]; i++) {
            sheet.setColumnWidth(i, 12 * 256);
        }
        StreamingWorkbook.freeze(sheet, 0, 0);
        // Page breaks between charts are heeded only where the sheet is not fitted to the page.
        sheet.setFitToPage(false);
        sheet.getPrintSetup().setScale(PRINT_SCALE);
    }

    static void write(StreamingWorkbook book, FollowUpResult clinic, CohortResult groups, Trajectories trajectories) {
        ChartSheet charts = new ChartSheet(book, clinic);
        charts.text(0, 0, "Courses: better is always up", book.styles().title);
        charts.sheet.getRow(0).setHeightInPoints(Page.TITLE_POINTS);
        CourseChart.write(book, charts.sheet, clinic.schedule().visits(), trajectories.courses());
        charts.scales(groups);
        book.recalculateOnOpening();
    }

    private void text(int row, int column, String text, CellStyle style) {
        Row cells = sheet.getRow(row) == null ? sheet.createRow(row) : sheet.getRow(row);
        Cell cell = cells.createCell(column);
        cell.setCellValue(text);
        cell.setCellStyle(style);
    }

    private static String range(int column, int row, int lastColumn, int lastRow) {
        return NAME + "!$" + TableSheet.letters(column) + "$" + (row + 1) + ":$" + TableSheet.letters(lastColumn) + "$"
                + (lastRow + 1);
    }

    private void scales(CohortResult groups) {
        text(FIRST_CHART_ROW - 1, 0, "Median and quartiles by visit", book.styles().section);
        int drawn = (int)
                blocks(groups, 0).stream().filter(b -> b.cells().size() > 1).count();
        int pairs = (drawn + 1) / 2;
        int table = FIRST_CHART_ROW + pairs * CHART_ROWS + 1;
        List<Block> blocks = blocks(groups, table + 1);
        int at = 0;
        for (Block block : blocks) {
            if (block.cells().size() > 1) {
                scaleChart(block, FIRST_CHART_ROW + at / 2 * CHART_ROWS, at % 2);
                at++;
            }
        }
        sheet.setRowBreak(FIRST_CHART_ROW - 2);
        for (int pair = 1; pair < pairs; pair += 2) {
            sheet.setRowBreak(FIRST_CHART_ROW + (pair + 1) * CHART_ROWS - 1);
        }
        sheet.setRowBreak(table - 2);
        table(blocks, table);
    }

    private static List<Block> blocks(CohortResult groups, int firstRow) {
        List<Block> blocks = new ArrayList<>();
        int row = firstRow;
        int i = 0;
        List<ScaleAtVisit> cells = groups.standing().groups().stream()
                .filter(r -> r.at().group().equals(CohortGroup.ALL))
                .flatMap(r -> ScaleAtVisit.of(r).stream())
                .toList();
        while (i < cells.size()) {
            int end = i;
            while (end < cells.size() && cells.get(end).scale() == cells.get(i).scale()) {
                end++;
            }
            ScaleAtVisit first = cells.get(i);
            blocks.add(new Block(
                    first.instrument().id() + " " + first.scale().id(), first.scale(), cells.subList(i, end), row));
            row += end - i;
            i = end;
        }
        return blocks;
    }

    /** What the charts are drawn from. */
    private void table(List<Block> blocks, int headingRow) {
        List<String> headings = List.of("scale", "visit", "n", "lower quartile", "median", "upper quartile");
        for (int i = 0; i < headings.size(); i++) {
            text(headingRow, i, headings.get(i), i < 2 ? book.styles().header : book.styles().headerRight);
        }
        sheet.getRow(headingRow).setHeightInPoints(30);
        int row = headingRow;
        for (Block block : blocks) {
            for (ScaleAtVisit c : block.cells()) {
                row++;
                Row cells = sheet.createRow(row);
                TableSheet.set(book, cells, 0, Value.word(block.name()));
                TableSheet.set(book, cells, 1, Value.text(c.visit().name()));
                TableSheet.set(book, cells, 2, Value.number(c.scores().n()));
                TableSheet.set(book, cells, 3, Value.number(c.scores().lowerQuartile()));
                TableSheet.set(book, cells, 4, Value.number(c.scores().median()));
                TableSheet.set(book, cells, 5, Value.number(c.scores().upperQuartile()));
            }
        }
        sheet.setAutoFilter(new CellRangeAddress(headingRow, Math.max(row, headingRow + 1), 0, headings.size() - 1));
    }

    private void scaleChart(Block block, int row, int side) {
        boolean turned = block.scale().better() == Direction.LOWER;
        int last = block.firstRow() + block.cells().size() - 1;
        charts.add(
                new LineCharts.Frame(
                        block.name() + (turned ? " (axis turned: better is up)" : " (better is up)"),
                        CHART_COLUMNS[side],
                        row,
                        CHART_COLUMNS[side + 1],
                        row + CHART_ROWS - 1),
                new LineCharts.Axis(
                        "score",
                        block.scale().range().low(),
                        block.scale().range().high(),
                        turned),
                block.cells().stream().map(c -> c.visit().name()).toList(),
                range(1, block.firstRow(), 1, last),
                List.of(
                        line("lower quartile", block, 3, LineCharts.Stroke.DASHED, c -> c.scores()
                                .lowerQuartile()),
                        line("median", block, 4, LineCharts.Stroke.MAIN, c -> c.scores()
                                .median()),
                        line("upper quartile", block, 5, LineCharts.Stroke.THIN, c -> c.scores()
                                .upperQuartile())));
    }

    private static LineCharts.Line line(
            String title, Block block, int column, LineCharts.Stroke stroke, ToDoubleFunction<ScaleAtVisit> of) {
        return new LineCharts.Line(
                title,
                block.cells().stream().map(of::applyAsDouble).toArray(Double[]::new),
                range(
                        column,
                        block.firstRow(),
                        column,
                        block.firstRow() + block.cells().size() - 1),
                stroke);
    }
}
