package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.TreeMap;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.CellValue;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;

/** The scores that an entry form computes, by the workbook library's own evaluation of its formulas. */
class EntryFormScoresTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();

    private static XSSFWorkbook form(Instrument instrument, int rows) {
        return Written.open(Written.bytes(
                (scratch, out) -> EntryForm.write(List.of(instrument), rows, Written.AS_OF, scratch, out)));
    }

    private static FormVectors.Shown evaluated(XSSFWorkbook book) {
        FormulaEvaluator evaluator = book.getCreationHelper().createFormulaEvaluator();
        Sheet sheet = book.getSheet(EntryForm.RESPONSES);
        List<String> headings = new ArrayList<>();
        sheet.getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
        return (row, heading) -> {
            Cell cell = sheet.getRow(row).getCell(headings.indexOf(heading));
            assertEquals(CellType.FORMULA, cell.getCellType(), heading);
            CellValue value = evaluator.evaluate(cell);
            return value.getCellType() == CellType.NUMERIC
                    ? (Object) value.getNumberValue()
                    : value.formatAsString().replace("\"", "");
        };
    }

    @Test
    void everyVectorThatAFormCanHoldScoresAsTheEngineDoes() {
        int compared = 0;
        List<String> wrong = new ArrayList<>();
        for (Instrument instrument : CATALOGUE.all()) {
            List<FormVectors.Vector> vectors = FormVectors.of(instrument);
            XSSFWorkbook book =
                    form(instrument, Math.max(1, FormVectors.sittings(vectors).size()));
            FormVectors.type(book, instrument, vectors);
            wrong.addAll(FormVectors.differences(instrument, vectors, evaluated(book)));
            compared += vectors.size();
        }
        assertEquals(List.of(), wrong.stream().limit(20).toList(), wrong.size() + " differ");
        System.out.println("vectors compared in the form, by the workbook library: " + compared);
        assertTrue(compared >= 1400, "only " + compared + " vectors");
    }

    /** Gaps, responses that are not allowed, skips and sides in combinations that no vector holds. Responses invented, by chance. */
    @Test
    void chanceSittingsScoreAsTheEngineDoes() {
        Random chance = new Random(20261125);
        double[] gaps = {0, 0.05, 0.2, 0.5, 0.9};
        int rows = 15;
        List<String> wrong = new ArrayList<>();
        for (Instrument instrument : CATALOGUE.all()) {
            List<FormVectors.Vector> sittings = new ArrayList<>();
            for (int i = 0; i < rows; i++) {
                double gap = gaps[i % gaps.length];
                Map<String, String> entries = new TreeMap<>();
                for (Column column : instrument.columns()) {
                    ResponseSet set = column.item().responses();
                    boolean leftOut = chance.nextDouble() < gap
                            || i % 4 == 3 && column.hand().equals(Optional.of(Side.LEFT));
                    if (!leftOut) {
                        double value = set instanceof ResponseSet.Codes codes
                                ? codes.codes().get(chance.nextInt(codes.codes().size()))
                                : set.low() + chance.nextInt((int) (10 * (set.high() - set.low()))) / 10.0;
                        boolean bad = chance.nextDouble() < 0.01;
                        entries.put(column.shortName(), bad ? "99999" : Numbers.format(value));
                    }
                }
                sittings.add(new FormVectors.Vector(
                        instrument.id() + " sitting " + i,
                        entries,
                        Optional.of(Side.values()[chance.nextInt(Side.values().length)]),
                        "",
                        Optional.empty(),
                        OptionalDouble.empty()));
            }
            XSSFWorkbook book = form(instrument, rows);
            FormVectors.type(book, instrument, sittings);
            wrong.addAll(FormVectors.differences(instrument, sittings, evaluated(book)));
        }
        assertEquals(List.of(), wrong.stream().limit(20).toList(), wrong.size() + " differ");
    }
}
