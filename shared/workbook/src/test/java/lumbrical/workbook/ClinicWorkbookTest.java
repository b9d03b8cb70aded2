package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TimeZone;
import java.util.stream.IntStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import lumbrical.columns.ChangeColumns;
import lumbrical.columns.ProblemColumns;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.followup.Visit;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.ss.usermodel.PageMargin;
import org.apache.poi.ss.usermodel.PrintSetup;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.junit.jupiter.api.io.TempDir;

@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class ClinicWorkbookTest {
    private static final List<String> SHEETS = List.of(
            "Overview",
            "Trajectories",
            "Charts",
            "Change",
            "Scores",
            "Grip tasks",
            "Follow-up",
            "Problems",
            "Thresholds",
            "Columns",
            "Provenance");
    private static final Set<String> PRINTED = Set.of("Overview", "Trajectories", "Charts", "Follow-up");
    private static final Set<String> PAGES = Set.of("Overview", "Charts");

    private Written demo;
    private byte[] bytes;
    private XSSFWorkbook book;

    @BeforeAll
    void writeTheDemo() {
        demo = Written.demo();
        bytes = demo.book();
        book = Written.open(bytes);
    }

    @Test
    void hasItsSheetsInOrder() {
        assertEquals(
                SHEETS,
                IntStream.range(0, book.getNumberOfSheets())
                        .mapToObj(book::getSheetName)
                        .toList());
    }

    @Test
    void everySheetIsFrozenFilteredAndSetForA4Landscape() {
        for (String name : SHEETS) {
            XSSFSheet sheet = book.getSheet(name);
            assertTrue(sheet.getPaneInformation().isFreezePane(), name);
            assertEquals(1, sheet.getPaneInformation().getHorizontalSplitPosition(), name);
            assertTrue(sheet.getCTWorksheet().isSetAutoFilter(), name);
            assertEquals(PrintSetup.A4_PAPERSIZE, sheet.getPrintSetup().getPaperSize(), name);
            assertTrue(sheet.getPrintSetup().getLandscape(), name);
            if (PRINTED.contains(name)) {
                int headings = name.equals("Overview") ? row(sheet, "condition") : 0;
                assertEquals(headings, sheet.getRepeatingRows().getFirstRow(), name);
            } else {
                String area = book.getPrintArea(book.getSheetIndex(sheet));
                assertTrue(area.endsWith("!$XFD$1:$XFD$1"), () -> name + " prints " + area);
            }
            if (!name.equals("Charts")) {
                assertTrue(sheet.getFitToPage(), name);
                assertFalse(sheet.getCellComments().isEmpty(), name);
            }
        }
    }

    @Test
    void theFilterOfATableCoversAllItsRows() {
        for (String name : SHEETS) {
            if (!PAGES.contains(name)) {
                Sheet sheet = book.getSheet(name);
                String filter =
                        book.getSheet(name).getCTWorksheet().getAutoFilter().getRef();
                int last = Math.max(sheet.getLastRowNum(), 1) + 1;
                int columns = sheet.getRow(0).getLastCellNum();
                assertEquals("A1:" + TableSheet.letters(columns - 1) + last, filter, name);
            }
        }
    }

    @Test
    void everyValueHasACellOfItsKind() {
        List<ScoreRow> scores =
                demo.clinic().forms().stream().flatMap(ScoreRow::of).toList();
        assertTrue(scores.size() > 700, "only " + scores.size());
        assertSameValues(ScoreColumns.TABLE, scores);
        assertSameValues(GripSheet.TABLE, GripSheet.lines(demo.clinic()).toList());
        assertEquals(
                demo.clinic().grips().size(), GripSheet.lines(demo.clinic()).count());
        assertSameValues(FollowUpSheet.TABLE, demo.clinic().counts());
        assertSameValues(ProblemColumns.TABLE, demo.problems());
    }

    @Test
    void theNumbersOfAColumnHaveTheSameDecimals() {
        for (String name : SHEETS) {
            if (PAGES.contains(name)) {
                continue;
            }
            Sheet sheet = book.getSheet(name);
            for (Cell heading : sheet.getRow(0)) {
                Set<String> formats = new HashSet<>();
                for (int r = 1; r <= sheet.getLastRowNum(); r++) {
                    Cell cell = sheet.getRow(r).getCell(heading.getColumnIndex());
                    if (cell != null && cell.getCellType() == CellType.NUMERIC) {
                        formats.add(cell.getCellStyle().getDataFormatString());
                    }
                }
                assertTrue(formats.size() <= 1, name + " " + heading + " " + formats);
                assertFalse(formats.contains("0.0#"), name + " " + heading);
            }
        }
    }

    private <R> void assertSameValues(OutputTable<R> table, List<R> rows) {
        Sheet sheet = book.getSheet(table.name());
        assertEquals(rows.size(), sheet.getLastRowNum(), table.name());
        for (int i = 0; i < table.columns().size(); i++) {
            OutputColumn<R> column = table.columns().get(i);
            assertEquals(column.name(), sheet.getRow(0).getCell(i).getStringCellValue());
            for (int r = 0; r < rows.size(); r++) {
                assertSame(column.of().apply(rows.get(r)), sheet.getRow(r + 1).getCell(i), table.name() + " " + r);
            }
        }
    }

    private static void assertSame(Value expected, Cell cell, String where) {
        if (expected instanceof Value.Number number) {
            assertEquals(CellType.NUMERIC, cell.getCellType(), where);
            assertEquals(number.value(), cell.getNumericCellValue(), 0, where);
        } else if (expected instanceof Value.Day day) {
            assertTrue(DateUtil.isCellDateFormatted(cell), where);
            assertEquals(day.day().atStartOfDay(), cell.getLocalDateTimeCellValue(), where);
        } else if (expected == Value.BLANK) {
            assertTrue(cell == null || cell.getCellType() == CellType.BLANK, where);
        } else {
            assertEquals(CellType.STRING, cell.getCellType(), where);
        }
    }

    @Test
    void onlyTheChartsHoldFormulas() {
        int formulas = 0;
        for (Sheet sheet : book) {
            for (Row row : sheet) {
                for (Cell cell : row) {
                    if (cell.getCellType() == CellType.FORMULA) {
                        assertEquals("Charts", sheet.getSheetName());
                        formulas++;
                    }
                }
            }
        }
        // At each visit: the share, the score, the baseline, the MCID, and the MDC to either side.
        assertEquals(6 * demo.clinic().schedule().visits().size(), formulas);
    }

    @Test
    void whatNeedsALookComesFirstInChange() {
        List<String> expected = List.of(
                "important-worsening",
                "worsening-within-error",
                "small-worsening",
                "no-important-change",
                "small-improvement",
                "improvement-within-error",
                "important-improvement",
                "not-assessable");
        Sheet sheet = book.getSheet("Change");
        int verdict = ChangeColumns.TABLE.headings().indexOf("verdict");
        int used = ChangeColumns.TABLE.headings().indexOf("used");
        assertEquals(demo.clinic().changes().count(), sheet.getLastRowNum());
        Set<String> seen = new LinkedHashSet<>();
        int before = 0;
        for (int r = 1; r <= sheet.getLastRowNum(); r++) {
            if (sheet.getRow(r).getCell(used).getStringCellValue().equals("yes")) {
                String code = sheet.getRow(r).getCell(verdict).getStringCellValue();
                assertTrue(expected.indexOf(code) >= before, "row " + r + " " + code);
                before = expected.indexOf(code);
                seen.add(code);
            }
        }
        assertTrue(
                seen.containsAll(List.of("important-worsening", "important-improvement", "not-assessable")), "" + seen);
    }

    @Test
    void columnsExplainsEveryHeadingOfEveryTable() {
        Set<String> explained = new HashSet<>();
        for (Row row : book.getSheet("Columns")) {
            explained.add(
                    row.getCell(0).getStringCellValue() + "/" + row.getCell(1).getStringCellValue());
            assertFalse(row.getCell(3).getStringCellValue().isBlank());
        }
        int headings = 0;
        for (String name : SHEETS) {
            if (!PAGES.contains(name) && !name.equals("Columns")) {
                for (Cell cell : book.getSheet(name).getRow(0)) {
                    assertTrue(explained.contains(name + "/" + cell.getStringCellValue()), name + " " + cell);
                    headings++;
                }
            }
        }
        assertTrue(headings > 100, "only " + headings);
    }

    @Test
    void overviewCountsPatientsAndEpisodesAsTheEpisodeFileDoes() throws IOException {
        List<String> lines = Files.readAllLines(Written.DEMO.resolve("episodes.csv"));
        List<String> patients = lines.stream()
                .skip(1)
                .map(line -> line.substring(0, line.indexOf(',')))
                .toList();
        Sheet sheet = book.getSheet("Overview");
        assertEquals(new HashSet<>(patients).size(), below(sheet, "patients"));
        assertEquals(patients.size(), below(sheet, "episodes"));
        assertEquals(
                Files.readAllLines(Written.DEMO.resolve("responses.csv")).size() - 1, below(sheet, "days with forms"));
    }

    private static double below(Sheet sheet, String name) {
        for (Row row : sheet) {
            for (Cell cell : row) {
                if (cell.getCellType() == CellType.STRING
                        && cell.getStringCellValue().equals(name)) {
                    return sheet.getRow(row.getRowNum() + 1)
                            .getCell(cell.getColumnIndex())
                            .getNumericCellValue();
                }
            }
        }
        throw new AssertionError("no " + name);
    }

    /** The median worked out anew from the sheet of scores: of used scores, the middle, or the mean of the two in the middle. */
    @Test
    void theMedianOfAVisitIsTheMiddleOfItsCourses() {
        Sheet courses = book.getSheet("Trajectories");
        List<String> headings = new ArrayList<>();
        courses.getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
        Sheet overview = book.getSheet("Overview");
        int checked = 0;
        for (Row row : overview) {
            boolean result = row.getCell(2) != null
                    && row.getCell(2).getCellType() == CellType.STRING
                    && headings.contains(row.getCell(2).getStringCellValue())
                    && text(row, 0).equals("all");
            if (result) {
                int visit = headings.indexOf(row.getCell(2).getStringCellValue());
                double[] values = IntStream.rangeClosed(1, courses.getLastRowNum())
                        .mapToObj(courses::getRow)
                        .filter(r ->
                                (text(r, headings.indexOf("instrument")) + " " + text(r, headings.indexOf("scale")))
                                                .equals(text(row, 1))
                                        && r.getCell(visit) != null)
                        .mapToDouble(r -> r.getCell(visit).getNumericCellValue())
                        .sorted()
                        .toArray();
                int n = (int) row.getCell(3).getNumericCellValue();
                assertEquals(values.length, n, "row " + row.getRowNum());
                double middle = (values[(n - 1) / 2] + values[n / 2]) / 2;
                assertEquals(middle, row.getCell(4).getNumericCellValue(), 1e-9);
                checked++;
                if (checked == 60) {
                    break;
                }
            }
        }
        assertTrue(checked >= 60, "only " + checked);
    }

    private static int row(Sheet sheet, String start) {
        for (Row row : sheet) {
            if (row.getCell(0) != null && row.getCell(0).toString().startsWith(start)) {
                return row.getRowNum();
            }
        }
        throw new AssertionError("no " + start);
    }

    private static String text(Row row, int column) {
        return row.getCell(column).getStringCellValue();
    }

    @Test
    void theChosenCourseIsLookedUpByFormulas() {
        XSSFWorkbook own = Written.open(bytes);
        Sheet charts = own.getSheet("Charts");
        Sheet courses = own.getSheet("Trajectories");
        String list =
                charts.getDataValidations().get(0).getValidationConstraint().getFormula1();
        assertEquals("Trajectories!$A$2:$A$" + (courses.getLastRowNum() + 1), list);
        int visits = demo.clinic().schedule().visits().size();
        for (int r : new int[] {1, courses.getLastRowNum() / 2, courses.getLastRowNum()}) {
            Row course = courses.getRow(r);
            charts.getRow(2).createCell(1).setCellValue(course.getCell(0).getStringCellValue());
            own.getCreationHelper().createFormulaEvaluator().evaluateAll();
            for (int v = 0; v < visits; v++) {
                Cell score = course.getCell(TrajectorySheet.FIRST_VISIT + v);
                Cell share = charts.getRow(5).getCell(1 + v);
                if (score == null) {
                    assertEquals(CellType.ERROR, share.getCachedFormulaResultType());
                } else {
                    double low = course.getCell(TrajectorySheet.RANGE_COLUMN).getNumericCellValue();
                    double high =
                            course.getCell(TrajectorySheet.RANGE_COLUMN + 1).getNumericCellValue();
                    boolean lower = text(course, TrajectorySheet.BETTER_COLUMN).equals("lower");
                    double value = score.getNumericCellValue();
                    double expected = 100 * (lower ? (high - value) : (value - low)) / (high - low);
                    assertEquals(expected, share.getNumericCellValue(), 1e-9);
                    assertEquals(value, charts.getRow(6).getCell(1 + v).getNumericCellValue(), 0);
                }
            }
        }
        assertTrue(((XSSFSheet) charts).createDrawingPatriarch().getCharts().size() > 5);
    }

    @Test
    void sameInputGivesSameBytesAndNoTimeOfTheRun() throws IOException {
        TimeZone before = TimeZone.getDefault();
        Locale language = Locale.getDefault();
        try {
            TimeZone.setDefault(TimeZone.getTimeZone("Pacific/Auckland"));
            Locale.setDefault(Locale.forLanguageTag("tr"));
            assertArrayEquals(bytes, Written.demo().book());
        } finally {
            TimeZone.setDefault(before);
            Locale.setDefault(language);
        }
        Set<Long> times = new HashSet<>();
        try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(bytes))) {
            for (ZipEntry entry = zip.getNextEntry(); entry != null; entry = zip.getNextEntry()) {
                times.add(entry.getTime());
            }
        }
        assertEquals(1, times.size());
        assertTrue(LocalDate.ofInstant(
                        java.time.Instant.ofEpochMilli(times.iterator().next()), ZoneOffset.UTC)
                .isBefore(LocalDate.of(1981, 1, 1)));
        var core = book.getProperties().getCoreProperties();
        assertEquals(
                Written.AS_OF.atStartOfDay().toInstant(ZoneOffset.UTC),
                core.getCreated().toInstant());
        assertEquals(
                Written.AS_OF.atStartOfDay().toInstant(ZoneOffset.UTC),
                core.getModified().toInstant());
    }

    @Test
    void provenanceNamesFilesWithoutFoldersAndTheirHashes() {
        StringBuilder text = new StringBuilder();
        for (Row row : book.getSheet("Provenance")) {
            text.append(text(row, 0)).append(" = ").append(text(row, 1)).append('\n');
        }
        assertTrue(text.toString().contains("file read = responses.csv  SHA-256 "), text.toString());
        assertFalse(text.toString().contains("demo/"), text.toString());
        assertTrue(text.toString().contains("as of = 2026-11-25"), text.toString());
    }

    @Test
    void textsThatLookLikeFormulasAndOddDatesAreTexts(@TempDir Path folder) throws IOException {
        Path responses = Files.writeString(
                folder.resolve("r.csv"),
                "patient,completed_on,side,swv_1,sane_1\n"
                        + "=1+1,2024-01-01,right,40,40\n=1+1,2024-04-01,right,80,80\n-5,0201-03-09,left,50,50\n");
        Path episodes = Files.writeString(
                folder.resolve("e.csv"),
                "patient,episode,treated_side,index_date,condition\n"
                        + "=1+1,+E,right,2024-01-01,@x\n-5,E1,left,0201-03-01,\n");
        Written written = Written.from(responses, episodes);
        XSSFWorkbook own = Written.open(written.book());
        Row first = own.getSheet("Scores").getRow(1);
        assertEquals(CellType.STRING, first.getCell(0).getCellType());
        assertEquals("=1+1", first.getCell(0).getStringCellValue());
        assertEquals("+E", first.getCell(1).getStringCellValue());
        Sheet scores = own.getSheet("Scores");
        Row last = scores.getRow(scores.getLastRowNum());
        assertEquals("0201-03-09", last.getCell(3).getStringCellValue());
        assertEquals(
                "=1+1 +E | " + text(own.getSheet("Trajectories").getRow(1), 6) + " total",
                text(own.getSheet("Trajectories").getRow(1), 0));
    }

    @Test
    void aClinicWithoutAnythingStillGivesEverySheet(@TempDir Path folder) throws IOException {
        Path responses = Files.writeString(folder.resolve("r.csv"), "patient,completed_on,quickdash_1\n");
        Path episodes = Files.writeString(folder.resolve("e.csv"), "patient,episode,treated_side,index_date\n");
        XSSFWorkbook own = Written.open(Written.from(responses, episodes).book());
        assertEquals(SHEETS.size(), own.getNumberOfSheets());
        assertEquals("none", own.getSheet("Scores").getRow(1).getCell(0).getStringCellValue());
    }

    @Test
    void aFullSheetGoesOnInTheNext() {
        OutputTable<Integer> table = new OutputTable<>(
                "Many", List.of(new OutputColumn<>("n", "A number", OutputColumn.Kind.NUMBER, n -> Value.number(n))));
        XSSFWorkbook own = Written.open(Written.bytes((scratch, out) -> StreamingWorkbook.write(
                Written.AS_OF,
                scratch,
                out,
                b -> TableSheet.write(
                        b, table, Layout.of(0), List.of(1, 2, 3, 4, 5, 6, 7), "", n -> b.styles().plain, 3))));
        assertEquals(3, own.getNumberOfSheets());
        assertEquals("Many 3", own.getSheetName(2));
        assertEquals(3, own.getSheetAt(1).getLastRowNum());
        assertEquals(7, own.getSheetAt(2).getRow(1).getCell(0).getNumericCellValue());
        assertNotNull(own.getSheetAt(2).getRow(0).getCell(0).getCellComment());
    }

    @Test
    void everyVerdictHasWordsOfItsOwnBesideItsColour() {
        Set<String> words = new HashSet<>();
        demo.clinic()
                .changes()
                .forEach(row -> words.add(row.change().verdict() + " "
                        + TrajectorySheet.words(row.change()).split(", because")[0]));
        long verdicts = demo.clinic()
                .changes()
                .map(row -> row.change().verdict())
                .distinct()
                .count();
        assertEquals(verdicts, words.size());
    }

    /** What a column takes of a page in points: Excel's width of a digit at 11 points is 7 pixels of 96 to the inch. */
    private static double points(Sheet sheet, int firstColumn, int lastColumn) {
        double characters = IntStream.rangeClosed(firstColumn, lastColumn)
                .mapToDouble(c -> sheet.getColumnWidth(c) / 256.0)
                .sum();
        return characters * 7 * 72 / 96;
    }

    /** A4 landscape, 297 by 210 mm, without its margins (open standard ISO 216). */
    private static double pageWidth(Sheet sheet) {
        return 297 / 25.4 * 72 - 72 * (sheet.getMargin(PageMargin.LEFT) + sheet.getMargin(PageMargin.RIGHT));
    }

    private static double pageHeight(Sheet sheet) {
        return 210 / 25.4 * 72 - 72 * (sheet.getMargin(PageMargin.TOP) + sheet.getMargin(PageMargin.BOTTOM));
    }

    @Test
    void everyPageOfTheResultsCarriesTheirHeadings() {
        XSSFSheet sheet = book.getSheet("Overview");
        int headings = row(sheet, "condition");
        assertEquals("scale", text(sheet.getRow(headings), 1));
        assertEquals(headings, sheet.getRepeatingRows().getLastRow());
        int section = row(sheet, "Results by condition");
        assertTrue(section < headings && headings - section < 4, section + " " + headings);
        assertTrue(Arrays.stream(sheet.getRowBreaks()).anyMatch(r -> r == section - 1), "no page begins at " + section);
        assertTrue(row(sheet, "Whose MCID was used") < section);
    }

    @Test
    void whatCameInHasOneDecimalAndItsIntervalBeside() {
        Sheet sheet = book.getSheet("Overview");
        int heading = row(sheet, "visit");
        assertEquals("percent received", text(sheet.getRow(heading), 4));
        assertEquals("95 % interval", text(sheet.getRow(heading), 5));
        for (int v = 1; v <= demo.clinic().schedule().visits().size(); v++) {
            Row row = sheet.getRow(heading + v);
            assertEquals("0.0", row.getCell(4).getCellStyle().getDataFormatString());
            assertTrue(text(row, 5).matches("[0-9]+\\.[0-9] to [0-9]+\\.[0-9]"), text(row, 5));
        }
        // 144 of 149: Wilson's interval by hand from z = 1.959964, as published (doi:10.1080/01621459.1927.10502953)
        double n = 149;
        double p = 144 / n;
        double z = 1.959963984540054;
        double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
        double half = z / (1 + z * z / n) * Math.sqrt(p * (1 - p) / n + z * z / (4 * n * n));
        Row baseline = sheet.getRow(heading + 1);
        assertEquals(149, baseline.getCell(1).getNumericCellValue());
        assertEquals(144, baseline.getCell(2).getNumericCellValue());
        assertEquals(
                String.format(Locale.ROOT, "%.1f to %.1f", 100 * (middle - half), 100 * (middle + half)),
                text(baseline, 5));
    }

    @Test
    void theFollowUpIsPrintedInASizeThatCanBeRead() {
        Sheet sheet = book.getSheet("Follow-up");
        String area = book.getPrintArea(book.getSheetIndex(sheet));
        assertTrue(area.endsWith("!$A$1:$G$" + (sheet.getLastRowNum() + 1)), area);
        double size = 10 * Math.min(1, pageWidth(sheet) / points(sheet, 0, 6));
        assertTrue(size >= 7, size + " points");
    }

    @Test
    void chartsFillTheirPagesAndNoMore() {
        XSSFSheet sheet = book.getSheet("Charts");
        double scale = sheet.getPrintSetup().getScale() / 100.0;
        int from = 0;
        for (int last : sheet.getRowBreaks()) {
            double height = from == 0 ? 0 : sheet.getRow(0).getHeightInPoints(); // repeated on every page
            for (int r = from; r <= last; r++) {
                height += sheet.getRow(r) == null
                        ? sheet.getDefaultRowHeightInPoints()
                        : sheet.getRow(r).getHeightInPoints();
            }
            assertTrue(height * scale <= pageHeight(sheet), "rows " + from + " to " + last + ": " + height * scale);
            from = last + 1;
        }
        assertTrue(from > 50, "only " + from);
    }

    @Test
    void timeIsMarkedInWholeQuartersOfAYear() {
        XSSFSheet sheet = book.getSheet("Charts");
        sheet.createDrawingPatriarch().getCharts().forEach(chart -> {
            var axis = chart.getCTChart().getPlotArea().getValAxArray(0);
            assertEquals(6, axis.getMajorUnit().getVal(), chart.getTitleText().getString());
            assertEquals(0, axis.getScaling().getMin().getVal());
            assertEquals(24, axis.getScaling().getMax().getVal());
        });
        assertEquals("months", text(sheet.getRow(7), 0));
        assertEquals(12.0, sheet.getRow(7).getCell(6).getNumericCellValue());
        assertEquals(3, TimeAxis.of(visits(-60, 42, 91, 365)).step());
        assertEquals(-3, TimeAxis.of(visits(-60, 42, 91, 365)).low());
        assertEquals(12, TimeAxis.of(visits(0, 42, 91, 365)).high());
        assertEquals(12, TimeAxis.of(visits(0, 365, 1826)).step());
        assertEquals(60, TimeAxis.of(visits(0, 365, 1826)).high());
    }

    private static List<Visit> visits(int... days) {
        return IntStream.of(days)
                .mapToObj(day -> new Visit(
                        "day " + day,
                        day,
                        day,
                        day,
                        day <= 0 ? Visit.Role.BASELINE : Visit.Role.FOLLOW_UP,
                        List.of(),
                        true))
                .toList();
    }

    @Test
    void aCourseIsCalledByTheConditionThatItsTextMeans() {
        Sheet sheet = book.getSheet("Trajectories");
        Set<String> conditions = new HashSet<>();
        for (int r = 1; r <= sheet.getLastRowNum(); r++) {
            conditions.add(text(sheet.getRow(r), 5));
        }
        assertTrue(conditions.contains("carpal tunnel syndrome"), conditions.toString());
        assertFalse(conditions.contains("carpal tunnel"), conditions.toString());
    }

    @Test
    void longWordsOfACourseGoOnInTheNextLine() {
        Sheet sheet = book.getSheet("Trajectories");
        int verdict = 0;
        while (!text(sheet.getRow(0), verdict).equals("verdict")) {
            verdict++;
        }
        int width = sheet.getColumnWidth(verdict) / 256;
        int wrapped = 0;
        for (int r = 1; r <= sheet.getLastRowNum(); r++) {
            Cell cell = sheet.getRow(r).getCell(verdict);
            if (cell != null && cell.getStringCellValue().length() > width) {
                assertTrue(cell.getCellStyle().getWrapText(), cell.getStringCellValue());
                assertTrue(sheet.getRow(r).getHeightInPoints() >= 26, "row " + r);
                wrapped++;
            }
        }
        assertTrue(wrapped > 10, "only " + wrapped);
        assertTrue(sheet.getColumnWidth(verdict - 3) / 256 <= 24, "more_digits is wide");
    }
}
