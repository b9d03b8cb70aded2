package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.stream.IntStream;
import lumbrical.followup.Visit;
import lumbrical.instrument.Threshold;
import org.apache.poi.ss.usermodel.DataValidation;
import org.apache.poi.ss.usermodel.DataValidationHelper;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellRangeAddressList;
import org.apache.poi.xssf.usermodel.XSSFColor;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFSheetConditionalFormatting;

/**
 * The course that a person picks, as points over time to scale, with the baseline, the MCID and the MDC around it. Percent of the best
 * possible score: better is always up. A visit without a score has no point, and no line says what lies between two visits.
 */
final class CourseChart {
    /** Row of the sheet after the picture. */
    static final int END_ROW = 31;

    private static final int PICK_ROW = 2;
    private static final int VISIT_ROW = 4;
    private static final int SHARE_ROW = 5;
    private static final int SCORE_ROW = 6;
    private static final int MONTHS_ROW = 7;
    private static final int BASELINE_ROW = 8;
    private static final int MCID_ROW = 9;
    private static final int ABOVE_ROW = 10;
    private static final int BELOW_ROW = 11;
    private static final int CHART_ROW = 13;
    private static final int CHART_END_COLUMN = 11;

    private final StreamingWorkbook book;
    private final SmallSheet cells;
    private final XSSFSheet sheet;
    private final List<Visit> visits;
    private final List<Trajectories.Course> courses;

    private CourseChart(
            StreamingWorkbook book, SmallSheet cells, List<Visit> visits, List<Trajectories.Course> courses) {
        this.book = book;
        this.cells = cells;
        this.sheet = cells.sheet();
        this.visits = visits;
        this.courses = courses;
    }

    static void write(StreamingWorkbook book, SmallSheet cells, List<Visit> visits, List<Trajectories.Course> courses) {
        new CourseChart(book, cells, visits, courses).write();
    }

    private void write() {
        cells.text(
                1,
                0,
                book.styles().plain,
                "Choose a course in the blue cell; the chart below follows. 0 = worst possible score, 100 = best possible.");
        cells.text(PICK_ROW, 0, book.styles().strong, "course");
        for (int i = 1; i <= 4; i++) {
            cells.empty(PICK_ROW, i, book.styles().input);
        }
        if (!courses.isEmpty()) {
            cells.text(PICK_ROW, 1, book.styles().input, courses.get(0).key());
        }
        sheet.addMergedRegion(new CellRangeAddress(PICK_ROW, PICK_ROW, 1, 4));
        cells.text(VISIT_ROW, 0, book.styles().header, "visit");
        cells.text(SHARE_ROW, 0, book.styles().plain, "percent of best");
        cells.text(SCORE_ROW, 0, book.styles().plain, "score");
        if (courses.isEmpty()) {
            return;
        }
        cells.text(MONTHS_ROW, 0, book.styles().plain, "months");
        cells.text(BASELINE_ROW, 0, book.styles().plain, "baseline");
        cells.text(MCID_ROW, 0, book.styles().plain, "baseline + MCID");
        cells.text(ABOVE_ROW, 0, book.styles().plain, "baseline + MDC");
        cells.text(BELOW_ROW, 0, book.styles().plain, "baseline - MDC");
        Trajectories.Course first = courses.get(0);
        for (int i = 0; i < visits.size(); i++) {
            cells.text(
                    VISIT_ROW, 1 + i, book.styles().headerRight, visits.get(i).name());
            cells.number(MONTHS_ROW, 1 + i, book.styles().oneDecimal, TimeAxis.months(visits.get(i)));
            scoreFormulas(i, first);
            bandFormulas(i, first);
        }
        hideErrors();
        list();
        chart(first);
    }

    private void scoreFormulas(int visit, Trajectories.Course first) {
        String score = looked(TrajectorySheet.FIRST_VISIT + visit);
        formula(SHARE_ROW, visit, "IF(" + score + "=\"\",NA()," + share(score) + ")", shareAt(first, visit));
        formula(
                SCORE_ROW,
                visit,
                "IF(" + score + "=\"\",\"\"," + score + ")",
                Double.isNaN(first.scores()[visit])
                        ? OptionalDouble.empty()
                        : OptionalDouble.of(first.scores()[visit]));
    }

    /** The lines around the baseline are the same at every visit, so that they reach across the picture. */
    private void bandFormulas(int visit, Trajectories.Course first) {
        String baseline = TableSheet.letters(1 + baseline()) + "$" + (SHARE_ROW + 1);
        formula(BASELINE_ROW, visit, "$" + baseline, band(first, OptionalDouble.of(0), 1));
        OptionalDouble mcid = value(first, true);
        OptionalDouble mdc = value(first, false);
        formula(MCID_ROW, visit, beside(baseline, TrajectorySheet.MCID_AFTER_VISITS, "+"), band(first, mcid, 1));
        formula(ABOVE_ROW, visit, beside(baseline, TrajectorySheet.MDC_AFTER_VISITS, "+"), band(first, mdc, 1));
        formula(BELOW_ROW, visit, beside(baseline, TrajectorySheet.MDC_AFTER_VISITS, "-"), band(first, mdc, -1));
    }

    private String beside(String baseline, int afterVisits, String sign) {
        String threshold = looked(TrajectorySheet.FIRST_VISIT + visits.size() + afterVisits);
        return "IF(" + threshold + "=\"\",NA(),$" + baseline + sign + "100*" + threshold + "/(" + high() + "-" + low()
                + "))";
    }

    private void formula(int row, int visit, String formula, OptionalDouble now) {
        // Where nothing can be shown, the program that opens the book computes #N/A, which a chart leaves out.
        cells.formula(row, 1 + visit, book.styles().twoDecimals, formula, now);
    }

    private String share(String score) {
        return "100*IF(" + looked(TrajectorySheet.BETTER_COLUMN) + "=\"lower\"," + high() + "-" + score + "," + score
                + "-" + low() + ")/(" + high() + "-" + low() + ")";
    }

    private String low() {
        return looked(TrajectorySheet.RANGE_COLUMN);
    }

    private String high() {
        return looked(TrajectorySheet.RANGE_COLUMN + 1);
    }

    /** The cell of the chosen course in that column of the sheet of courses. */
    private String looked(int column) {
        return "INDEX(" + column(column) + ",MATCH($B$" + (PICK_ROW + 1) + "," + column(TrajectorySheet.KEY_COLUMN)
                + ",0))";
    }

    private String column(int column) {
        String letters = TableSheet.letters(column);
        return TrajectorySheet.NAME + "!$" + letters + "$2:$" + letters + "$" + (courses.size() + 1);
    }

    private int baseline() {
        return IntStream.range(0, visits.size())
                .filter(i -> visits.get(i).role() == Visit.Role.BASELINE)
                .findFirst()
                .orElse(0);
    }

    private static OptionalDouble shareAt(Trajectories.Course course, int visit) {
        double score = course.scores()[visit];
        return Double.isNaN(score)
                ? OptionalDouble.empty()
                : OptionalDouble.of(100 * Sparkline.share(course.scale(), score));
    }

    private static OptionalDouble value(Trajectories.Course course, boolean mcid) {
        return course.last()
                .map(l -> l.change().thresholds())
                .flatMap(t -> mcid ? t.mcid() : t.mdc())
                .map(Threshold::value)
                .orElse(OptionalDouble.empty());
    }

    private OptionalDouble band(Trajectories.Course course, OptionalDouble threshold, int sign) {
        OptionalDouble baseline = shareAt(course, baseline());
        double width = course.scale().range().high() - course.scale().range().low();
        return baseline.isPresent() && threshold.isPresent()
                ? OptionalDouble.of(baseline.getAsDouble() + sign * 100 * threshold.getAsDouble() / width)
                : OptionalDouble.empty();
    }

    /** A visit without a score and a threshold that is not known are errors to the formulas, and blank to the reader. */
    private void hideErrors() {
        XSSFSheetConditionalFormatting formatting = sheet.getSheetConditionalFormatting();
        var rule = formatting.createConditionalFormattingRule("ISNA(B" + (SHARE_ROW + 1) + ")");
        rule.createFontFormatting().setFontColor(new XSSFColor(Styles.WHITE));
        formatting.addConditionalFormatting(
                new CellRangeAddress[] {new CellRangeAddress(SHARE_ROW, BELOW_ROW, 1, visits.size())}, rule);
    }

    private void list() {
        DataValidationHelper helper = sheet.getDataValidationHelper();
        DataValidation list = helper.createValidation(
                helper.createFormulaListConstraint(column(TrajectorySheet.KEY_COLUMN)),
                new CellRangeAddressList(PICK_ROW, PICK_ROW, 1, 1));
        list.setShowErrorBox(true);
        list.createErrorBox("Course", "Choose a course from the list.");
        sheet.addValidationData(list);
    }

    private void chart(Trajectories.Course first) {
        Double[] months = visits.stream().map(TimeAxis::months).toArray(Double[]::new);
        List<ScatterCharts.Points> points = new ArrayList<>();
        points.add(points("score", SHARE_ROW, months, ScatterCharts.Look.ALONE, i -> shareAt(first, i)));
        points.add(points(
                "baseline", BASELINE_ROW, months, ScatterCharts.Look.FAINT_MARK, i -> shareAt(first, baseline())));
        points.add(points("MCID", MCID_ROW, months, ScatterCharts.Look.MARK, i -> band(first, value(first, true), 1)));
        points.add(points(
                "MDC better",
                ABOVE_ROW,
                months,
                ScatterCharts.Look.LIMIT_LINE,
                i -> band(first, value(first, false), 1)));
        points.add(points(
                "MDC worse",
                BELOW_ROW,
                months,
                ScatterCharts.Look.LIMIT_LINE,
                i -> band(first, value(first, false), -1)));
        new ScatterCharts(sheet.createDrawingPatriarch())
                .add(
                        new ScatterCharts.Frame(
                                "The chosen course: percent of the best possible score at each visit (better is up)",
                                0,
                                CHART_ROW,
                                CHART_END_COLUMN,
                                END_ROW),
                        TimeAxis.of(visits),
                        new ScatterCharts.Axis("percent of best", 0, 100, false),
                        points);
    }

    private interface AtVisit {
        /** The value there. */
        OptionalDouble of(int visit);
    }

    private ScatterCharts.Points points(
            String title, int row, Double[] months, ScatterCharts.Look look, AtVisit value) {
        Double[] values = IntStream.range(0, visits.size())
                .mapToObj(i -> {
                    OptionalDouble at = value.of(i);
                    return at.isPresent() ? (Double) at.getAsDouble() : null;
                })
                .toArray(Double[]::new);
        return new ScatterCharts.Points(title, months, cells(MONTHS_ROW), values, cells(row), look);
    }

    private String cells(int row) {
        return sheet.getSheetName() + "!$B$" + (row + 1) + ":$" + TableSheet.letters(visits.size()) + "$" + (row + 1);
    }
}
