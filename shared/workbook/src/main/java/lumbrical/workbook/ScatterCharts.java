package lumbrical.workbook;

import java.util.List;
import org.apache.poi.xddf.usermodel.PresetLineDash;
import org.apache.poi.xddf.usermodel.XDDFColor;
import org.apache.poi.xddf.usermodel.XDDFLineProperties;
import org.apache.poi.xddf.usermodel.XDDFNoFillProperties;
import org.apache.poi.xddf.usermodel.XDDFPresetLineDash;
import org.apache.poi.xddf.usermodel.XDDFSolidFillProperties;
import org.apache.poi.xddf.usermodel.chart.AxisCrosses;
import org.apache.poi.xddf.usermodel.chart.AxisOrientation;
import org.apache.poi.xddf.usermodel.chart.AxisPosition;
import org.apache.poi.xddf.usermodel.chart.ChartTypes;
import org.apache.poi.xddf.usermodel.chart.DisplayBlanks;
import org.apache.poi.xddf.usermodel.chart.LegendPosition;
import org.apache.poi.xddf.usermodel.chart.MarkerStyle;
import org.apache.poi.xddf.usermodel.chart.ScatterStyle;
import org.apache.poi.xddf.usermodel.chart.XDDFDataSourcesFactory;
import org.apache.poi.xddf.usermodel.chart.XDDFScatterChartData;
import org.apache.poi.xddf.usermodel.chart.XDDFValueAxis;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFDrawing;
import org.openxmlformats.schemas.drawingml.x2006.chart.CTScatterSer;
import org.openxmlformats.schemas.drawingml.x2006.chart.CTTitle;
import org.openxmlformats.schemas.drawingml.x2006.chart.CTValAx;
import org.openxmlformats.schemas.drawingml.x2006.main.CTRegularTextRun;
import org.openxmlformats.schemas.drawingml.x2006.main.CTTextParagraph;

/** Draws native charts with two axes of numbers: time to scale, an amount against a share. */
final class ScatterCharts {
    private static final double TITLE_POINTS = 10;

    private final XSSFDrawing drawing;

    ScatterCharts(XSSFDrawing drawing) {
        this.drawing = drawing;
    }

    /** Title and place: from the first column and row to the last, these not included. */
    record Frame(String title, int column, int row, int endColumn, int endRow) {}

    /**
     * An axis; without ends or a step the program that shows it chooses them; {@code turned} puts its low end up or right.
     *
     * @param step from one mark to the next
     */
    record Axis(String title, double low, double high, boolean turned, double step) {
        Axis(String title, double low, double high, boolean turned) {
            this(title, low, high, turned, Double.NaN);
        }

        static Axis free(String title) {
            return new Axis(title, Double.NaN, Double.NaN, false);
        }
    }

    /** How points are drawn: told apart by weight, dashes and markers, so that grey print keeps the difference. */
    enum Look {
        MAIN(2.25, PresetLineDash.SOLID, MarkerStyle.CIRCLE, 6, rgb(0x1F, 0x3A, 0x56)),
        LIMIT(1, PresetLineDash.DASH, MarkerStyle.DASH, 5, rgb(0x4F, 0x86, 0xB5)),
        SECOND(2, PresetLineDash.DASH, MarkerStyle.DIAMOND, 5, rgb(0xB0, 0x5A, 0x1A)),
        THIRD(2, PresetLineDash.SYSTEM_DOT, MarkerStyle.TRIANGLE, 5, rgb(0x4F, 0x86, 0xB5)),
        FOURTH(1.5, PresetLineDash.DASH_DOT, MarkerStyle.SQUARE, 4, rgb(0x5B, 0x67, 0x74)),
        FIFTH(1.5, PresetLineDash.LARGE_DASH, MarkerStyle.X, 5, rgb(0x2E, 0x7D, 0x6B)),
        SIXTH(1.25, PresetLineDash.SOLID, MarkerStyle.PLUS, 5, rgb(0x8A, 0x63, 0x9B)),
        /** A threshold used. */
        MARK(1.75, PresetLineDash.SOLID, MarkerStyle.NONE, 2, rgb(0xC2, 0x5B, 0x12)),
        /** A threshold beside it, or 0. */
        FAINT_MARK(0.75, PresetLineDash.SYSTEM_DASH, MarkerStyle.NONE, 2, rgb(0x8C, 0x96, 0xA0)),
        /** Measurement error around a baseline. */
        LIMIT_LINE(1.25, PresetLineDash.DASH, MarkerStyle.NONE, 2, rgb(0x4F, 0x86, 0xB5)),
        /** Points alone: what lies between two visits is not known. */
        ALONE(0, PresetLineDash.SOLID, MarkerStyle.CIRCLE, 8, rgb(0x1F, 0x3A, 0x56)),
        /** Points of few, over the line: large and pale. */
        PALE(0, PresetLineDash.SOLID, MarkerStyle.CIRCLE, 11, rgb(0x9E, 0xC5, 0xE8));

        private final double width;
        private final PresetLineDash dash;
        private final MarkerStyle marker;
        private final int size;
        private final byte[] colour;

        Look(double width, PresetLineDash dash, MarkerStyle marker, int size, byte[] colour) {
            this.width = width;
            this.dash = dash;
            this.marker = marker;
            this.size = size;
            this.colour = colour;
        }

        private static byte[] rgb(int red, int green, int blue) {
            return Styles.rgb(red, green, blue);
        }
    }

    /** Points: their values as they are now and the cells they stand in. */
    record Points(String title, Double[] x, String xCells, Double[] y, String yCells, Look look) {}

    void add(Frame frame, Axis across, Axis up, List<Points> points) {
        XSSFChart chart = drawing.createChart(
                drawing.createAnchor(0, 0, 0, 0, frame.column(), frame.row(), frame.endColumn(), frame.endRow()));
        chart.setTitleText(frame.title());
        chart.setTitleOverlay(false);
        chart.getTitle().getBody().getParagraph(0).getTextRuns().forEach(run -> run.setFontSize(TITLE_POINTS));
        chart.displayBlanksAs(DisplayBlanks.GAP);
        chart.getOrAddLegend().setPosition(LegendPosition.BOTTOM);
        if (!chart.getCTChart().isSetPlotVisOnly()) {
            chart.getCTChart().addNewPlotVisOnly();
        }
        chart.getCTChart().getPlotVisOnly().setVal(false);
        XDDFValueAxis bottom = chart.createValueAxis(AxisPosition.BOTTOM);
        XDDFValueAxis left = chart.createValueAxis(AxisPosition.LEFT);
        dress(bottom, across);
        dress(left, up);
        inEnglish(chart.getCTChart().getTitle());
        for (CTValAx axis : chart.getCTChart().getPlotArea().getValAxArray()) {
            inEnglish(axis.getTitle());
        }
        // The axis of x lies at the foot of the picture, whichever end of y that is.
        bottom.setCrosses(up.turned() ? AxisCrosses.MAX : AxisCrosses.MIN);
        left.setCrosses(AxisCrosses.MIN);
        XDDFScatterChartData data = (XDDFScatterChartData) chart.createData(ChartTypes.SCATTER, bottom, left);
        data.setStyle(ScatterStyle.LINE_MARKER);
        data.setVaryColors(false);
        for (Points each : points) {
            series(data, each);
        }
        for (int i = 0; i < points.size(); i++) {
            data.getSeries(i).plot(); // all at once would fill a workbook for the chart, which the file leaves out
            marker(
                    chart.getCTChart().getPlotArea().getScatterChartArray(0).getSerArray(i),
                    points.get(i).look());
        }
    }

    /** The workbook library writes the language of the machine beside each title. */
    private static void inEnglish(CTTitle title) {
        for (CTTextParagraph paragraph : title.getTx().getRich().getPArray()) {
            for (CTRegularTextRun run : paragraph.getRArray()) {
                run.getRPr().setLang("en");
            }
        }
    }

    private static void dress(XDDFValueAxis axis, Axis as) {
        axis.setTitle(as.title());
        axis.setNumberFormat("General");
        if (!Double.isNaN(as.low())) {
            axis.setMinimum(as.low());
            axis.setMaximum(as.high());
        }
        if (!Double.isNaN(as.step())) {
            axis.setMajorUnit(as.step());
        }
        if (as.turned()) {
            axis.setOrientation(AxisOrientation.MAX_MIN);
        }
    }

    private static void series(XDDFScatterChartData data, Points points) {
        XDDFScatterChartData.Series series = (XDDFScatterChartData.Series) data.addSeries(
                XDDFDataSourcesFactory.fromArray(points.x(), points.xCells()),
                XDDFDataSourcesFactory.fromArray(points.y(), points.yCells()));
        series.setTitle(points.title());
        series.setSmooth(false);
        Look look = points.look();
        series.setMarkerStyle(look.marker);
        series.setMarkerSize((short) look.size);
        if (look.width > 0) {
            XDDFLineProperties drawn = new XDDFLineProperties(new XDDFSolidFillProperties(XDDFColor.from(look.colour)));
            drawn.setWidth(look.width);
            drawn.setPresetDash(new XDDFPresetLineDash(look.dash));
            series.setLineProperties(drawn);
        } else {
            series.setLineProperties(new XDDFLineProperties(new XDDFNoFillProperties()));
        }
    }

    private static void marker(CTScatterSer series, Look look) {
        if (look.marker == MarkerStyle.NONE) {
            return;
        }
        var drawn = series.getMarker().addNewSpPr();
        drawn.addNewSolidFill().addNewSrgbClr().setVal(look.colour.clone());
        drawn.addNewLn().addNewSolidFill().addNewSrgbClr().setVal(look.colour.clone());
    }
}
