package lumbrical.workbook;

import java.util.List;
import org.apache.poi.xddf.usermodel.PresetLineDash;
import org.apache.poi.xddf.usermodel.XDDFColor;
import org.apache.poi.xddf.usermodel.XDDFLineProperties;
import org.apache.poi.xddf.usermodel.XDDFPresetLineDash;
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
import org.apache.poi.xddf.usermodel.chart.XDDFValueAxis;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.openxmlformats.schemas.drawingml.x2006.chart.CTMarker;

/** Draws native line charts on a sheet. */
final class LineCharts {
    private static final double TITLE_POINTS = 10;

    private final XSSFDrawing drawing;

    LineCharts(XSSFDrawing drawing) {
        this.drawing = drawing;
    }

    /** Title and place: from the first column and row to the last, these not included. */
    record Frame(String title, int column, int row, int endColumn, int endRow) {}

    /** The axis of values; {@code turned} puts its low end up. */
    record Axis(String title, double low, double high, boolean turned) {}

    /** How a line is drawn: told apart by weight and dashes, so that grey print keeps the difference. */
    enum Stroke {
        MAIN(2.5, 7, Styles.rgb(0x1F, 0x3A, 0x56)),
        THIN(1.25, 4, Styles.rgb(0x4F, 0x86, 0xB5)),
        DASHED(1.25, 4, Styles.rgb(0x4F, 0x86, 0xB5));

        private final double width;
        private final int marker;
        private final byte[] colour;

        Stroke(double width, int marker, byte[] colour) {
            this.width = width;
            this.marker = marker;
            this.colour = colour;
        }
    }

    /** A line: its values as they are now and the cells they stand in. */
    record Line(String title, Double[] values, String cells, Stroke stroke) {}

    void add(Frame frame, Axis axis, List<String> categories, String categoryCells, List<Line> lines) {
        XSSFChart chart = chart(frame);
        XDDFCategoryAxis bottom = chart.createCategoryAxis(AxisPosition.BOTTOM);
        XDDFValueAxis left = valueAxis(chart, axis, bottom);
        XDDFLineChartData data = (XDDFLineChartData) chart.createData(ChartTypes.LINE, bottom, left);
        data.setVaryColors(false);
        XDDFDataSource<String> names =
                XDDFDataSourcesFactory.fromArray(categories.toArray(String[]::new), categoryCells);
        for (Line line : lines) {
            series(data, names, line);
        }
        chart.plot(data);
        for (int i = 0; i < lines.size(); i++) {
            CTMarker marker = chart.getCTChart()
                    .getPlotArea()
                    .getLineChartArray(0)
                    .getSerArray(i)
                    .getMarker();
            marker.addNewSpPr()
                    .addNewSolidFill()
                    .addNewSrgbClr()
                    .setVal(lines.get(i).stroke().colour.clone());
        }
    }

    private XSSFChart chart(Frame frame) {
        XSSFChart chart = drawing.createChart(
                drawing.createAnchor(0, 0, 0, 0, frame.column(), frame.row(), frame.endColumn(), frame.endRow()));
        chart.setTitleText(frame.title());
        chart.setTitleOverlay(false);
        chart.getTitle().getBody().getParagraph(0).getTextRuns().forEach(run -> run.setFontSize(TITLE_POINTS));
        chart.displayBlanksAs(DisplayBlanks.SPAN);
        chart.getOrAddLegend().setPosition(LegendPosition.BOTTOM);
        if (!chart.getCTChart().isSetPlotVisOnly()) {
            chart.getCTChart().addNewPlotVisOnly();
        }
        chart.getCTChart().getPlotVisOnly().setVal(false); // a filter on the table leaves the charts whole
        return chart;
    }

    private static XDDFValueAxis valueAxis(XSSFChart chart, Axis axis, XDDFCategoryAxis bottom) {
        XDDFValueAxis left = chart.createValueAxis(AxisPosition.LEFT);
        left.setTitle(axis.title());
        left.setNumberFormat("General");
        left.setMinimum(axis.low());
        left.setMaximum(axis.high());
        left.setCrosses(AxisCrosses.AUTO_ZERO);
        if (axis.turned()) {
            left.setOrientation(AxisOrientation.MAX_MIN);
            bottom.setCrosses(AxisCrosses.MAX);
        } else {
            bottom.setCrosses(AxisCrosses.MIN);
        }
        return left;
    }

    private static void series(XDDFLineChartData data, XDDFDataSource<String> categories, Line line) {
        XDDFLineChartData.Series series = (XDDFLineChartData.Series)
                data.addSeries(categories, XDDFDataSourcesFactory.fromArray(line.values(), line.cells()));
        series.setTitle(line.title());
        series.setSmooth(false);
        series.setMarkerStyle(line.stroke() == Stroke.THIN ? MarkerStyle.DIAMOND : MarkerStyle.CIRCLE);
        series.setMarkerSize((short) line.stroke().marker);
        XDDFLineProperties drawn =
                new XDDFLineProperties(new XDDFSolidFillProperties(XDDFColor.from(line.stroke().colour)));
        drawn.setWidth(line.stroke().width);
        if (line.stroke() == Stroke.DASHED) {
            drawn.setPresetDash(new XDDFPresetLineDash(PresetLineDash.DASH));
        }
        series.setLineProperties(drawn);
    }
}
