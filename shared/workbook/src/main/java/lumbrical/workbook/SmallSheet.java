package lumbrical.workbook;

import java.util.Map;
import java.util.OptionalDouble;
import java.util.TreeMap;
import lumbrical.output.Value;
import lumbrical.sheetxml.SheetRows;
import lumbrical.workbook.StreamingWorkbook.LongSheet;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.xssf.usermodel.XSSFSheet;

/** A sheet whose cells are set in any order, and kept until the workbook is written. */
final class SmallSheet {
    private final LongSheet sheet;
    private final Styles styles;
    private final Map<Integer, Float> heights = new TreeMap<>();
    private final TreeMap<Integer, Map<Integer, Cell>> cells = new TreeMap<>();

    private interface Cell {
        void write(SheetRows row);
    }

    SmallSheet(LongSheet sheet, Styles styles) {
        this.sheet = sheet;
        this.styles = styles;
    }

    /** All but the cells. */
    XSSFSheet sheet() {
        return sheet.sheet();
    }

    /** Gives a row a height of its own. */
    void height(int row, float points) {
        heights.put(row, points);
    }

    /** Makes a row high enough for so many lines. */
    void lines(int row, int lines) {
        if (lines > 1) {
            height(row, Layout.points(lines));
        }
    }

    /** Sets a typed cell in the look of its kind; leaves a blank one out. */
    void value(int row, int column, Value value) {
        value(row, column, styles.of(value), value);
    }

    /** Sets a typed cell; leaves a blank one out. */
    void value(int row, int column, CellStyle style, Value value) {
        if (value != Value.BLANK) {
            set(row, column, at -> TableSheet.add(sheet, column, style, value));
        }
    }

    /** Sets a text; an empty one shows its look. */
    void text(int row, int column, CellStyle style, String text) {
        if (text.isEmpty()) {
            empty(row, column, style);
        } else {
            value(row, column, style, Value.text(text));
        }
    }

    void number(int row, int column, CellStyle style, double value) {
        value(row, column, style, Value.number(value));
    }

    /** Sets a cell that shows its look alone. */
    void empty(int row, int column, CellStyle style) {
        set(row, column, at -> at.empty(column, style));
    }

    /**
     * Sets a formula.
     *
     * @param now what it gives when the workbook is written; empty for nothing that can be shown
     */
    void formula(int row, int column, CellStyle style, String formula, OptionalDouble now) {
        set(row, column, at -> at.formula(column, style, formula, now));
    }

    private void set(int row, int column, Cell cell) {
        cells.computeIfAbsent(row, r -> new TreeMap<>()).put(column, cell);
    }

    /** Writes the cells. */
    void end() {
        int rows = cells.isEmpty() ? 0 : cells.lastKey() + 1;
        for (int row = 0; row < rows; row++) {
            cells.getOrDefault(row, Map.of()).values().forEach(cell -> cell.write(sheet.rows()));
            Float height = heights.get(row);
            if (height == null) {
                sheet.rows().end();
            } else {
                sheet.rows().end(height);
            }
        }
        sheet.end();
    }
}
