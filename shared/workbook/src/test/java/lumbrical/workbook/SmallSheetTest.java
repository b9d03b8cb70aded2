package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.time.LocalDate;
import java.util.OptionalDouble;
import lumbrical.output.Value;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;

/** Cells set in no order, read back by the workbook library. */
class SmallSheetTest {
    private static XSSFSheet written(StreamingWorkbook.Content content) throws IOException {
        try (XSSFWorkbook book = Written.open(Written.bytes(
                (scratch, out) -> StreamingWorkbook.write(LocalDate.of(2026, 11, 25), scratch, out, content)))) {
            return book.getSheetAt(0);
        }
    }

    @Test
    void cellsStandWhereTheyAreSetInWhateverOrder() throws IOException {
        XSSFSheet sheet = written(book -> {
            SmallSheet cells = book.smallSheet("Any");
            cells.number(5, 3, book.styles().twoDecimals, 1.25);
            cells.text(5, 1, book.styles().plain, "before it");
            cells.height(5, 31);
            cells.text(0, 2, book.styles().plain, "first");
            cells.text(0, 2, book.styles().plain, "instead");
            cells.value(2, 0, Value.day(LocalDate.of(2026, 3, 4)));
            cells.formula(3, 0, book.styles().whole, "1+1", OptionalDouble.of(2));
        });
        assertEquals("instead", sheet.getRow(0).getCell(2).getStringCellValue());
        assertEquals(
                LocalDate.of(2026, 3, 4),
                sheet.getRow(2).getCell(0).getLocalDateTimeCellValue().toLocalDate());
        assertEquals("1+1", sheet.getRow(3).getCell(0).getCellFormula());
        assertEquals(2, sheet.getRow(3).getCell(0).getNumericCellValue());
        assertEquals("before it", sheet.getRow(5).getCell(1).getStringCellValue());
        assertEquals(1.25, sheet.getRow(5).getCell(3).getNumericCellValue());
        assertEquals(31, sheet.getRow(5).getHeightInPoints());
        assertEquals(5, sheet.getLastRowNum());
    }

    @Test
    void anEmptyTextKeepsItsLookAndABlankValueHasNoCell() throws IOException {
        XSSFSheet sheet = written(book -> {
            SmallSheet cells = book.smallSheet("Any");
            cells.text(0, 0, book.styles().header, "");
            cells.value(0, 1, Value.BLANK);
        });
        Cell empty = sheet.getRow(0).getCell(0);
        assertEquals(CellType.BLANK, empty.getCellType());
        assertTrue(sheet.getWorkbook()
                .getFontAt(empty.getCellStyle().getFontIndex())
                .getBold());
        assertNull(sheet.getRow(0).getCell(1));
    }
}
