package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.List;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
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
}
