package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import lumbrical.catalogue.Catalogue;
import lumbrical.cohort.CohortAnalysis;
import lumbrical.cohort.CohortRequest;
import lumbrical.cohort.CohortResult;
import lumbrical.columns.CohortGroupColumns;
import lumbrical.threshold.ThresholdChoice;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFChart;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

/** The workbook of group results, of the invented demo clinic. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class CohortWorkbookTest {
    private final Written demo = Written.demo();
    private CohortResult result;
    private byte[] bytes;
    private XSSFWorkbook book;

    @BeforeAll
    void writeTheDemo() {
        Catalogue catalogue = Catalogue.builtIn();
        result = CohortAnalysis.of(
                demo.clinic(),
                ThresholdChoice.defaults(catalogue.conditions()),
                CohortRequest.builder()
                        .compare(Optional.of(new CohortRequest.Compare("sex", "female", "male")))
                        .build(),
                catalogue::find);
        bytes = write();
        book = Written.open(bytes);
    }

    private byte[] write() {
        return Written.bytes((scratch, out) ->
                CohortWorkbook.write(result, Written.AS_OF, demo.problems(), demo.provenance(), scratch, out));
    }

    @Test
    void hasItsSheetsAndTheSameBytesEachTime() {
        assertEquals(
                List.of(
                        "Results",
                        "Charts",
                        "Methods",
                        "Groups",
                        "Responders",
                        "Distribution",
                        "Attrition",
                        "Flow",
                        "Compare",
                        "Reliability",
                        "Blanks",
                        "Problems",
                        "Columns",
                        "Chart data"),
                IntStream.range(0, book.getNumberOfSheets())
                        .mapToObj(book::getSheetName)
                        .toList());
        assertArrayEquals(bytes, write());
    }

    @Test
    void aPercentageStandsBesideItsCountAndItsInterval() {
        int percentages = 0;
        for (Row row : book.getSheet("Results")) {
            Cell percent = row.getCell(9);
            if (percent != null && percent.getCellType() == CellType.NUMERIC) {
                String[] count = row.getCell(8).getStringCellValue().split(" of ");
                double improved = Double.parseDouble(count[0]);
                double of = Double.parseDouble(count[1]);
                assertTrue(of >= 5, "row " + row.getRowNum());
                assertEquals(100 * improved / of, percent.getNumericCellValue(), 1e-9);
                String[] limits = row.getCell(10).getStringCellValue().split(" to ");
                assertTrue(Double.parseDouble(limits[0]) <= percent.getNumericCellValue() + 0.05);
                assertTrue(Double.parseDouble(limits[1]) >= percent.getNumericCellValue() - 0.05);
                percentages++;
            }
        }
        assertTrue(percentages > 40, "only " + percentages);
    }

    @Test
    void conditionsComeFirstAndAllTogetherHasNoSingleMcid() {
        List<String> sections = new ArrayList<>();
        for (Row row : book.getSheet("Results")) {
            if (row.getCell(0) != null && row.getCell(0).getStringCellValue().matches("(condition: |All together).*")) {
                sections.add(row.getCell(0).getStringCellValue());
            }
        }
        assertEquals("condition: carpal tunnel syndrome (13 episodes, 8 patients)", sections.get(0));
        assertTrue(sections.get(sections.size() - 1).startsWith("All together (60 episodes"));
        boolean own = false;
        for (Row row : book.getSheet("Results")) {
            own |= row.getCell(12) != null
                    && row.getCell(12).getStringCellValue().equals("each episode's own, by condition");
        }
        assertTrue(own);
    }

    @Test
    void chartsReferToTheirDataAndTimeIsToScale() {
        List<XSSFChart> charts = book.getSheet("Charts").getDrawingPatriarch().getCharts();
        assertTrue(charts.size() > 40, "only " + charts.size());
        Sheet data = book.getSheet("Chart data");
        for (XSSFChart chart : charts) {
            assertEquals(2, chart.getCTChart().getPlotArea().sizeOfValAxArray());
            chart.getCTChart()
                    .getPlotArea()
                    .getScatterChartArray(0)
                    .getSerList()
                    .forEach(series -> {
                        String cells = series.getYVal().getNumRef().getF();
                        assertTrue(cells.startsWith("'Chart data'!$C$"), cells);
                        int first = Integer.parseInt(cells.substring(cells.indexOf("$C$") + 3, cells.indexOf(':')));
                        assertEquals(
                                Double.parseDouble(series.getYVal()
                                        .getNumRef()
                                        .getNumCache()
                                        .getPtArray(0)
                                        .getV()),
                                data.getRow(first - 1).getCell(2).getNumericCellValue(),
                                1e-12);
                    });
        }
    }

    @Test
    void theTablesHoldEveryRowAndTheMethodsAreWhole() {
        assertEquals(result.standing().groups().size(), book.getSheet("Groups").getLastRowNum());
        for (int i = 0; i < CohortGroupColumns.TABLE.columns().size(); i++) {
            assertEquals(
                    CohortGroupColumns.TABLE.headings().get(i),
                    book.getSheet("Groups").getRow(0).getCell(i).getStringCellValue());
        }
        List<String> methods = new ArrayList<>();
        book.getSheet("Methods")
                .forEach(row ->
                        methods.add(row.getCell(0) == null ? "" : row.getCell(0).getStringCellValue()));
        assertTrue(methods.containsAll(result.methods()));
        assertFalse(result.methods().stream()
                .filter(m -> m.contains("not randomised"))
                .toList()
                .isEmpty());
    }

    /** A curve of many steps keeps its ends and its order. */
    @Test
    void longCurvesAreDrawnThroughSomeOfTheirSteps() {
        List<Integer> steps = IntStream.range(0, 1000).boxed().toList();
        List<Integer> drawn = CohortCharts.thinned(steps);
        assertEquals(120, drawn.size());
        assertEquals(0, drawn.get(0));
        assertEquals(999, drawn.get(119));
        assertEquals(drawn.stream().sorted().distinct().toList(), drawn);
        assertEquals(steps.subList(0, 120), CohortCharts.thinned(steps.subList(0, 120)));
    }
}
