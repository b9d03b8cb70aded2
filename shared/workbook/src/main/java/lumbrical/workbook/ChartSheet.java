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
import lumbrical.workbook.ScatterCharts.Look;
import lumbrical.workbook.ScatterCharts.Points;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/** Native charts: one course chosen from a list, and median and quartiles by visit for each scale. Direction is always up. */
final class ChartSheet {
    static final String NAME = "Charts";
    private static final int FIRST_CHART_ROW = CourseChart.END_ROW + 2;
    /** Two pairs of charts, the title of the sheet and that of the part fit on a page. */
    private static final int CHART_ROWS = 21;

    private static final int[] CHART_COLUMNS = {0, 5, 11};
    private static final short PRINT_SCALE = 74;
    private static final float HEADING_POINTS = 30;
    /** Below so many scores the point is large and pale. */
    private static final int FEW = 5;

    private static final int MONTHS = 2;
    private static final int N = 3;
    private static final int LOWER = 4;
    private static final int MEDIAN = 5;
    private static final int UPPER = 6;
    private static final int PALE = 7;

    private final StreamingWorkbook book;
    private final SmallSheet cells;
    private final XSSFSheet sheet;
    private final FollowUpResult clinic;
    private final ScatterCharts charts;

    /** The scores of a scale at a visit, of all conditions together. */
    private record ScaleAtVisit(Instrument instrument, Scale scale, Visit visit, Quantiles scores) {
        static Optional<ScaleAtVisit> of(GroupRow row) {
            return row.scores().optional().flatMap(s -> row.at()
                    .visit()
                    .map(v -> new ScaleAtVisit(row.at().instrument(), row.at().scale(), v, s.quantiles())));
        }

        boolean few() {
            return scores.n() < FEW;
        }
    }

    /** A scale's cells, one for each visit with scores, and where they stand. */
    private record Block(String name, Scale scale, List<ScaleAtVisit> cells, int firstRow) {
        /** The cells of a column. */
        String range(int column) {
            String letters = TableSheet.letters(column);
            return NAME + "!$" + letters + "$" + (firstRow + 1) + ":$" + letters + "$" + (firstRow + cells.size());
        }
    }

    private ChartSheet(StreamingWorkbook book, FollowUpResult clinic) {
        this.book = book;
        this.clinic = clinic;
        this.cells = book.smallSheet(NAME);
        this.sheet = cells.sheet();
        this.charts = new ScatterCharts(sheet.createDrawingPatriarch());
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
        charts.cells.text(0, 0, book.styles().title, "Courses: better is always up");
        charts.cells.height(0, Page.TITLE_POINTS);
        CourseChart.write(book, charts.cells, clinic.schedule().visits(), trajectories.courses());
        charts.scales(groups);
        book.recalculateOnOpening();
    }

    private void scales(CohortResult groups) {
        cells.text(FIRST_CHART_ROW - 1, 0, book.styles().section, "Median and quartiles by visit, time to scale");
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
        List<String> headings = List.of(
                "scale", "visit", "months", "n", "lower quartile", "median", "upper quartile", "fewer than " + FEW);
        for (int i = 0; i < headings.size(); i++) {
            cells.text(headingRow, i, i < 2 ? book.styles().header : book.styles().headerRight, headings.get(i));
        }
        cells.height(headingRow, HEADING_POINTS);
        int row = headingRow;
        for (Block block : blocks) {
            for (ScaleAtVisit c : block.cells()) {
                row++;
                cells.value(row, 0, Value.word(block.name()));
                cells.value(row, 1, Value.text(c.visit().name()));
                cells.number(row, MONTHS, book.styles().oneDecimal, TimeAxis.months(c.visit()));
                cells.number(row, N, book.styles().whole, c.scores().n());
                cells.number(row, LOWER, book.styles().twoDecimals, c.scores().lowerQuartile());
                cells.number(row, MEDIAN, book.styles().twoDecimals, c.scores().median());
                cells.number(row, UPPER, book.styles().twoDecimals, c.scores().upperQuartile());
                if (c.few()) {
                    cells.number(
                            row, PALE, book.styles().twoDecimals, c.scores().median());
                }
            }
        }
        sheet.setAutoFilter(new CellRangeAddress(headingRow, Math.max(row, headingRow + 1), 0, headings.size() - 1));
    }

    private void scaleChart(Block block, int row, int side) {
        boolean turned = block.scale().better() == Direction.LOWER;
        List<Points> points = new ArrayList<>(List.of(
                points("lower quartile", block, LOWER, Look.LIMIT, c -> c.scores()
                        .lowerQuartile()),
                points("median", block, MEDIAN, Look.MAIN, c -> c.scores().median()),
                points("upper quartile", block, UPPER, Look.LIMIT, c -> c.scores()
                        .upperQuartile())));
        if (block.cells().stream().anyMatch(ScaleAtVisit::few)) {
            points.add(points("fewer than " + FEW + " scores", block, PALE, Look.PALE, c -> c.scores()
                    .median()));
        }
        charts.add(
                new ScatterCharts.Frame(
                        block.name() + (turned ? " (axis turned: better is up)" : " (better is up)"),
                        CHART_COLUMNS[side],
                        row,
                        CHART_COLUMNS[side + 1],
                        row + CHART_ROWS - 1),
                TimeAxis.of(clinic.schedule().visits()),
                new ScatterCharts.Axis(
                        "score",
                        block.scale().range().low(),
                        block.scale().range().high(),
                        turned),
                points);
    }

    private static Points points(String title, Block block, int column, Look look, ToDoubleFunction<ScaleAtVisit> of) {
        Double[] values = new Double[block.cells().size()]; // an empty place is an empty cell
        for (int i = 0; i < values.length; i++) {
            ScaleAtVisit cell = block.cells().get(i);
            if (look != Look.PALE || cell.few()) {
                values[i] = of.applyAsDouble(cell);
            }
        }
        return new Points(
                title,
                block.cells().stream().map(c -> TimeAxis.months(c.visit())).toArray(Double[]::new),
                block.range(MONTHS),
                values,
                block.range(column),
                look);
    }
}
