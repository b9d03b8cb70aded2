package org.handoutcomes.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xddf.usermodel.PresetColor;
import org.apache.poi.xddf.usermodel.XDDFColor;
import org.apache.poi.xddf.usermodel.XDDFLineProperties;
import org.apache.poi.xddf.usermodel.XDDFSolidFillProperties;
import org.apache.poi.xddf.usermodel.chart.AxisCrosses;
import org.apache.poi.xddf.usermodel.chart.AxisOrientation;
import org.apache.poi.xddf.usermodel.chart.AxisPosition;
import org.apache.poi.xddf.usermodel.chart.ChartTypes;
import org.apache.poi.xddf.usermodel.chart.DisplayBlanks;
import org.apache.poi.xddf.usermodel.chart.LegendPosition;
import org.apache.poi.xddf.usermodel.chart.MarkerStyle;
import org.apache.poi.xddf.usermodel.chart.XDDFCategoryAxis;
import org.apache.poi.xddf.usermodel.chart.XDDFDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFDataSourcesFactory;
import org.apache.poi.xddf.usermodel.chart.XDDFLineChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFNumericalDataSource;
import org.apache.poi.xddf.usermodel.chart.XDDFValueAxis;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFClientAnchor;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.handoutcomes.followup.Longitudinal;
import org.handoutcomes.followup.Overview;
import org.handoutcomes.followup.Visit;
import org.handoutcomes.instrument.Better;
import org.handoutcomes.instrument.Scale;
import org.handoutcomes.output.Value;

/** Native charts: one course chosen from a list, and median and quartiles by visit for each scale. Better is always up. */
final class ChartSheet {
    private static final String NAME = "Charts";
    private static final int PICK_ROW = 2;
    private static final int VISIT_ROW = 4;
    private static final int SHARE_ROW = 5;
    private static final int SCORE_ROW = 6;
    private static final int FIRST_CHART_ROW = 26;
    private static final int CHART_ROWS = 17;
    private static final int CHART_COLUMNS = 6;
    /** Columns of the table that the charts are drawn from, right of the charts. */
    private static final int DATA = 14;

    private final Book book;
    private final SXSSFSheet sheet;
    private final XSSFDrawing drawing;
    private final Longitudinal clinic;

    /** A scale's cells, one for each visit with scores. */
    private record Block(String name, Scale scale, List<Overview.Cell> cells, int firstRow) {}

    private ChartSheet(Book book, Longitudinal clinic) {
        this.book = book;
        this.clinic = clinic;
        this.sheet = book.sheet(NAME);
        this.drawing = book.inMemory().getSheet(NAME).createDrawingPatriarch();
        for (int i = 0; i < 13; i++) {
            sheet.setColumnWidth(i, 13 * 256);
        }
        sheet.setColumnWidth(DATA, 28 * 256);
        sheet.createFreezePane(0, 1);
    }

    static void write(Book book, Longitudinal clinic, Overview overview, Trajectories trajectories) {
        ChartSheet charts = new ChartSheet(book, clinic);
        charts.text(0, 0, "Courses: better is always up", book.styles().title);
        charts.picker(trajectories);
        charts.scales(overview);
        book.inMemory().setForceFormulaRecalculation(true);
    }

    private void text(int row, int column, String text, CellStyle style) {
        Row cells = sheet.getRow(row) == null ? sheet.createRow(row) : sheet.getRow(row);
        Cell cell = cells.createCell(column);
        cell.setCellValue(text);
        cell.setCellStyle(style);
    }

    private void picker(Trajectories trajectories) {
        List<Trajectories.Course> courses = trajectories.courses();
        List<Visit> visits = clinic.schedule().visits();
        text(
                1,
                0,
                "Choose a course in the blue cell; the chart below follows. 0 = worst possible score, 100 = best possible.",
                book.styles().plain);
        text(PICK_ROW, 0, "course", book.styles().section);
        text(PICK_ROW, 1, courses.isEmpty() ? "" : courses.get(0).key(), book.styles().input);
        sheet.addMergedRegion(new CellRangeAddress(PICK_ROW, PICK_ROW, 1, 5));
        text(VISIT_ROW, 0, "visit", book.styles().header);
        text(SHARE_ROW, 0, "percent of best", book.styles().plain);
        text(SCORE_ROW, 0, "score", book.styles().plain);
        if (courses.isEmpty()) {
            return;
        }
        int last = courses.size() + 1;
        for (int i = 0; i < visits.size(); i++) {
            text(VISIT_ROW, 1 + i, visits.get(i).name(), book.styles().header);
            formulas(i, last, courses.get(0));
        }
        DataValidationHelper helper = sheet.getDataValidationHelper();
        DataValidation list = helper.createValidation(
                helper.createFormulaListConstraint(TrajectorySheet.NAME + "!$A$2:$A$" + last),
                new CellRangeAddressList(PICK_ROW, PICK_ROW, 1, 1));
        list.setShowErrorBox(true);
        list.createErrorBox("Course", "Choose a course from the list.");
        sheet.addValidationData(list);
        courseChart(visits, courses.get(0));
    }

    private void formulas(int visit, int last, Trajectories.Course first) {
        String found = "MATCH($B$" + (PICK_ROW + 1) + "," + TrajectorySheet.NAME + "!$A$2:$A$" + last + ",0)";
        String score = index(TrajectorySheet.FIRST_VISIT + visit, last, found);
        String low = index(TrajectorySheet.RANGE_COLUMN, last, found);
        String high = index(TrajectorySheet.RANGE_COLUMN + 1, last, found);
        String better = index(TrajectorySheet.RANGE_COLUMN + 2, last, found);
        double value = first.scores()[visit];
        Row share = sheet.getRow(SHARE_ROW);
        Cell shareCell = share.createCell(1 + visit);
        shareCell.setCellFormula("IF(" + score + "=\"\",NA(),100*IF(" + better + "=\"lower\"," + high + "-" + score
                + "," + score + "-" + low + ")/(" + high + "-" + low + "))");
        shareCell.setCellStyle(book.styles().number);
        Cell scoreCell = sheet.getRow(SCORE_ROW).createCell(1 + visit);
        scoreCell.setCellFormula("IF(" + score + "=\"\",\"\"," + score + ")");
        scoreCell.setCellStyle(book.styles().number);
        if (Double.isNaN(value)) {
            shareCell.setCellValue(""); // the program that opens the book computes #N/A, which a chart leaves out
            scoreCell.setCellValue("");
        } else {
            shareCell.setCellValue(share(first, value));
            scoreCell.setCellValue(value);
        }
    }

    private static double share(Trajectories.Course course, double score) {
        double low = course.scale().range().low();
        double high = course.scale().range().high();
        return 100 * (course.scale().better() == Better.LOWER ? high - score : score - low) / (high - low);
    }

    private static String index(int column, int last, String row) {
        String letters = TableSheet.letters(column);
        return "INDEX(" + TrajectorySheet.NAME + "!$" + letters + "$2:$" + letters + "$" + last + "," + row + ")";
    }

    private void courseChart(List<Visit> visits, Trajectories.Course first) {
        String end = TableSheet.letters(visits.size());
        String[] names = visits.stream().map(Visit::name).toArray(String[]::new);
        Double[] values = IntStream.range(0, visits.size())
                .mapToObj(i -> Double.isNaN(first.scores()[i]) ? null : (Double) share(first, first.scores()[i]))
                .toArray(Double[]::new);
        XSSFChart chart = chart("The chosen course, percent of the best possible (better is up)", 8, 0, 12);
        XDDFValueAxis axis = valueAxis(chart, "percent of best", 0, 100, false);
        XDDFLineChartData data = lines(chart, axis);
        XDDFDataSource<String> categories =
                XDDFDataSourcesFactory.fromArray(names, range(1, VISIT_ROW, end, VISIT_ROW));
        series(
                data,
                categories,
                values,
                range(1, SHARE_ROW, end, SHARE_ROW),
                "percent of best",
                PresetColor.STEEL_BLUE,
                2.5);
        chart.plot(data);
    }

    private static String range(int column, int row, String lastColumn, int lastRow) {
        return NAME + "!$" + TableSheet.letters(column) + "$" + (row + 1) + ":$" + lastColumn + "$" + (lastRow + 1);
    }

    private void scales(Overview overview) {
        List<Block> blocks = blocks(overview);
        int at = 0;
        text(FIRST_CHART_ROW - 2, 0, "Median and quartiles by visit", book.styles().section);
        table(blocks);
        for (Block block : blocks) {
            if (block.cells().size() > 1) {
                scaleChart(block, FIRST_CHART_ROW + at / 2 * CHART_ROWS, at % 2 * (CHART_COLUMNS + 1));
                at++;
            }
        }
    }

    private static List<Block> blocks(Overview overview) {
        List<Block> blocks = new ArrayList<>();
        int row = FIRST_CHART_ROW;
        int i = 0;
        List<Overview.Cell> cells = overview.cells();
        while (i < cells.size()) {
            int end = i;
            while (end < cells.size() && cells.get(end).scale() == cells.get(i).scale()) {
                end++;
            }
            Overview.Cell first = cells.get(i);
            blocks.add(new Block(
                    first.instrument().id() + " " + first.scale().id(), first.scale(), cells.subList(i, end), row));
            row += end - i;
            i = end;
        }
        return blocks;
    }

    private void table(List<Block> blocks) {
        String[] headings = {"scale", "visit", "n", "lower quartile", "median", "upper quartile"};
        for (int i = 0; i < headings.length; i++) {
            text(FIRST_CHART_ROW - 1, DATA + i, headings[i], book.styles().header);
        }
        for (Block block : blocks) {
            for (int i = 0; i < block.cells().size(); i++) {
                Overview.Cell c = block.cells().get(i);
                int at = block.firstRow() + i;
                Row row = sheet.getRow(at) == null ? sheet.createRow(at) : sheet.getRow(at);
                TableSheet.set(book, row, DATA, Value.word(block.name()));
                TableSheet.set(book, row, DATA + 1, Value.text(c.visit().name()));
                TableSheet.set(book, row, DATA + 2, Value.number(c.scores().n()));
                TableSheet.set(book, row, DATA + 3, Value.number(c.scores().lowerQuartile()));
                TableSheet.set(book, row, DATA + 4, Value.number(c.scores().median()));
                TableSheet.set(book, row, DATA + 5, Value.number(c.scores().upperQuartile()));
            }
        }
    }

    private void scaleChart(Block block, int row, int column) {
        boolean turned = block.scale().better() == Better.LOWER;
        int last = block.firstRow() + block.cells().size() - 1;
        XSSFChart chart = chart(
                block.name() + (turned ? " (axis turned: better is up)" : " (better is up)"),
                row,
                column,
                CHART_COLUMNS);
        XDDFValueAxis axis = valueAxis(
                chart,
                "score",
                block.scale().range().low(),
                block.scale().range().high(),
                turned);
        XDDFLineChartData data = lines(chart, axis);
        XDDFDataSource<String> categories = XDDFDataSourcesFactory.fromArray(
                block.cells().stream().map(c -> c.visit().name()).toArray(String[]::new),
                range(DATA + 1, block.firstRow(), TableSheet.letters(DATA + 1), last));
        series(
                data,
                categories,
                values(block, 0),
                dataRange(3, block, last),
                "lower quartile",
                PresetColor.DARK_ORANGE,
                1.25);
        series(data, categories, values(block, 1), dataRange(4, block, last), "median", PresetColor.BLACK, 2.5);
        series(
                data,
                categories,
                values(block, 2),
                dataRange(5, block, last),
                "upper quartile",
                PresetColor.STEEL_BLUE,
                1.25);
        chart.plot(data);
    }

    private static String dataRange(int offset, Block block, int last) {
        return range(DATA + offset, block.firstRow(), TableSheet.letters(DATA + offset), last);
    }

    private static Double[] values(Block block, int which) {
        return block.cells().stream()
                .map(c -> which == 0
                        ? c.scores().lowerQuartile()
                        : which == 1 ? c.scores().median() : c.scores().upperQuartile())
                .toArray(Double[]::new);
    }

    private XSSFChart chart(String title, int row, int column, int columns) {
        XSSFClientAnchor anchor = drawing.createAnchor(0, 0, 0, 0, column, row, column + columns, row + CHART_ROWS - 1);
        XSSFChart chart = drawing.createChart(anchor);
        chart.setTitleText(title);
        chart.setTitleOverlay(false);
        chart.displayBlanksAs(DisplayBlanks.SPAN);
        chart.getOrAddLegend().setPosition(LegendPosition.BOTTOM);
        return chart;
    }

    private static XDDFValueAxis valueAxis(XSSFChart chart, String title, double low, double high, boolean turned) {
        XDDFCategoryAxis bottom = chart.createCategoryAxis(AxisPosition.BOTTOM);
        XDDFValueAxis axis = chart.createValueAxis(AxisPosition.LEFT);
        axis.setTitle(title);
        axis.setMinimum(low);
        axis.setMaximum(high);
        axis.setCrosses(AxisCrosses.AUTO_ZERO);
        if (turned) {
            axis.setOrientation(AxisOrientation.MAX_MIN);
            bottom.setCrosses(AxisCrosses.MAX);
        } else {
            bottom.setCrosses(AxisCrosses.MIN);
        }
        return axis;
    }

    private static XDDFLineChartData lines(XSSFChart chart, XDDFValueAxis axis) {
        XDDFCategoryAxis bottom = (XDDFCategoryAxis) chart.getAxes().get(0);
        XDDFLineChartData data = (XDDFLineChartData) chart.createData(ChartTypes.LINE, bottom, axis);
        data.setVaryColors(false);
        return data;
    }

    private static void series(
            XDDFLineChartData data,
            XDDFDataSource<String> categories,
            Double[] values,
            String range,
            String title,
            PresetColor colour,
            double width) {
        XDDFNumericalDataSource<Double> numbers = XDDFDataSourcesFactory.fromArray(values, range);
        XDDFLineChartData.Series series = (XDDFLineChartData.Series) data.addSeries(categories, numbers);
        series.setTitle(title);
        series.setSmooth(false);
        series.setMarkerStyle(MarkerStyle.CIRCLE);
        series.setMarkerSize((short) 6);
        XDDFLineProperties line = new XDDFLineProperties(new XDDFSolidFillProperties(XDDFColor.from(colour)));
        line.setWidth(width);
        series.setLineProperties(line);
    }
}
