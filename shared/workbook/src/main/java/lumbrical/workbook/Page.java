package lumbrical.workbook;

import java.util.List;
import java.util.function.BiFunction;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;
import lumbrical.sheetxml.SheetNotes;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/** A sheet that is read from the top like a page: headings, lines and small tables, one below the other. */
final class Page {
    /** Height of a title's row. */
    static final float TITLE_POINTS = 26;

    private static final int TILE = 2;

    private final StreamingWorkbook book;
    private final SXSSFSheet sheet;
    private final SheetNotes notes;
    private final int[] widths;
    private int row = -1;

    /** @param widths widths of the columns in characters */
    Page(StreamingWorkbook book, String name, int... widths) {
        this.book = book;
        this.sheet = book.sheet(name);
        this.notes = book.notes(name);
        this.widths = widths.clone();
        for (int i = 0; i < widths.length; i++) {
            sheet.setColumnWidth(i, widths[i] * 256);
        }
        StreamingWorkbook.freeze(sheet, 0, 0);
    }

    /** The row written last. */
    int row() {
        return row;
    }

    private Row next() {
        row++;
        return sheet.createRow(row);
    }

    void line(String text, CellStyle style) {
        Row cells = next();
        Cell cell = cells.createCell(0);
        cell.setCellValue(text);
        cell.setCellStyle(style);
        if (style == book.styles().title) {
            cells.setHeightInPoints(TITLE_POINTS);
        }
    }

    /** A line over the whole width. */
    void across(String text, CellStyle style) {
        line(text, style);
        sheet.addMergedRegion(new CellRangeAddress(row, row, 0, widths.length - 1));
    }

    void section(String text) {
        next();
        line(text, book.styles().section);
        sheet.getRow(row).setHeightInPoints(20);
    }

    /** As {@link #section(String)}, at the head of a new page. */
    void breakBefore(String text) {
        next();
        sheet.setRowBreak(row);
        line(text, book.styles().section);
        sheet.getRow(row).setHeightInPoints(20);
    }

    /** As {@link #table(List, List, BiFunction)}, with its headings on every further page; there can be one such table. */
    <R> void repeatedTable(
            List<OutputColumn<R>> columns, List<R> rows, BiFunction<OutputColumn<R>, R, CellStyle> style) {
        int headings = row + 1;
        table(columns, rows, style);
        sheet.setRepeatingRows(new CellRangeAddress(headings, headings, -1, -1));
    }

    /** Key figures side by side, each two columns wide; names above, figures below. */
    void tiles(List<String> names, List<Double> figures) {
        Row above = next();
        Row below = next();
        above.setHeightInPoints(26);
        below.setHeightInPoints(24);
        for (int i = 0; i < names.size(); i++) {
            for (int half = 0; half < TILE; half++) {
                above.createCell(TILE * i + half).setCellStyle(book.styles().figureName);
                below.createCell(TILE * i + half).setCellStyle(book.styles().figure);
            }
            above.getCell(TILE * i).setCellValue(names.get(i));
            below.getCell(TILE * i).setCellValue(figures.get(i));
            sheet.addMergedRegion(new CellRangeAddress(row - 1, row - 1, TILE * i, TILE * i + 1));
            sheet.addMergedRegion(new CellRangeAddress(row, row, TILE * i, TILE * i + 1));
        }
    }

    /** Headings; a column of words stands left, a column of numbers right. */
    void headings(int words, List<String> names) {
        headings(words, names.size(), names);
    }

    /** As {@link #headings(int, List)}; columns from {@code again} on are of words too. */
    void headings(int words, int again, List<String> names) {
        Row header = next();
        int lines = 1;
        for (int i = 0; i < names.size(); i++) {
            Cell cell = header.createCell(i);
            cell.setCellValue(names.get(i));
            cell.setCellStyle(i < words || i >= again ? book.styles().header : book.styles().headerRight);
            lines = Math.max(lines, Layout.lines(names.get(i), i < widths.length ? widths[i] : 10));
        }
        Layout.height(header, lines);
    }

    /** Headings of a table with their meaning as notes, and a filter over the rows below. */
    <R> void table(List<OutputColumn<R>> columns, List<R> rows, BiFunction<OutputColumn<R>, R, CellStyle> style) {
        next();
        int header = row;
        int lines = 1;
        for (int i = 0; i < columns.size(); i++) {
            Cell cell = sheet.getRow(row).createCell(i);
            cell.setCellValue(columns.get(i).name());
            cell.setCellStyle(book.styles().heading(columns.get(i).kind()));
            notes.add(row, i, columns.get(i).meaning());
            lines = Math.max(lines, Layout.lines(columns.get(i).name(), widths[i]));
        }
        Layout.height(sheet.getRow(row), lines);
        for (R each : rows) {
            Row cells = next();
            for (int i = 0; i < columns.size(); i++) {
                TableSheet.set(book, cells, i, columns.get(i).of().apply(each));
                if (cells.getCell(i) != null) {
                    cells.getCell(i).setCellStyle(style.apply(columns.get(i), each));
                }
            }
        }
        if (rows.isEmpty()) {
            values(List.of(Value.word("none")));
        }
        sheet.setAutoFilter(new CellRangeAddress(header, row, 0, columns.size() - 1));
    }

    void values(List<Value> values) {
        Row cells = next();
        for (int i = 0; i < values.size(); i++) {
            TableSheet.set(book, cells, i, values.get(i));
        }
    }

    /** Values, each in a style of its own. */
    void values(List<Value> values, List<CellStyle> styles) {
        Row cells = next();
        int lines = 1;
        for (int i = 0; i < values.size(); i++) {
            TableSheet.set(book, cells, i, values.get(i));
            Cell cell = cells.getCell(i);
            if (cell != null) {
                cell.setCellStyle(styles.get(i));
                if (styles.get(i).getWrapText()) {
                    lines = Math.max(lines, Layout.lines(cell.getStringCellValue(), widths[i]));
                }
            }
        }
        Layout.height(cells, lines);
    }

    /** A line of texts, each over several columns and lines. */
    void texts(int[] spans, List<String> texts) {
        Row cells = next();
        int column = 0;
        int lines = 1;
        for (int i = 0; i < spans.length; i++) {
            int width = 0;
            for (int j = column; j < column + spans[i]; j++) {
                width += widths[j];
                cells.createCell(j).setCellStyle(book.styles().wrapped);
            }
            cells.getCell(column).setCellValue(texts.get(i));
            if (spans[i] > 1) {
                sheet.addMergedRegion(new CellRangeAddress(row, row, column, column + spans[i] - 1));
            }
            lines = Math.max(lines, Layout.lines(texts.get(i), width));
            column += spans[i];
        }
        Layout.height(cells, lines);
    }

    /** A name, a number, and texts that may take several lines. */
    void counted(String name, int number, List<String> texts) {
        Row cells = next();
        TableSheet.set(book, cells, 0, Value.word(name));
        TableSheet.set(book, cells, 1, Value.number(number));
        int lines = 1;
        for (int i = 0; i < texts.size(); i++) {
            Cell cell = cells.createCell(2 + i);
            cell.setCellValue(texts.get(i));
            cell.setCellStyle(book.styles().wrapped);
            lines = Math.max(lines, Layout.lines(texts.get(i), widths[2 + i]));
        }
        Layout.height(cells, lines);
    }
}
