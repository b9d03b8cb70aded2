package org.handoutcomes.workbook;

import java.util.List;
import java.util.function.Function;
import org.apache.poi.ss.SpreadsheetVersion;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.ClientAnchor;
import org.apache.poi.ss.usermodel.Comment;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;
import org.apache.poi.xssf.streaming.SXSSFDrawing;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFRichTextString;
import org.handoutcomes.output.OutputColumn;
import org.handoutcomes.output.OutputTable;
import org.handoutcomes.output.Value;

/** Writes a table as a sheet: a frozen header with notes, a filter, typed cells. Further sheets where one is full. */
final class TableSheet<R> {
    private static final int LAST_ROW = SpreadsheetVersion.EXCEL2007.getLastRowIndex();
    private static final int CHARACTER = 256;
    private static final int MAX_TEXT = 32_767;

    private final Book book;
    private final OutputTable<R> table;
    private final int frozenColumns;
    private final Function<R, CellStyle> emphasis;
    private final int emphasisColumn;
    private SXSSFSheet sheet;
    private int sheets;
    private int row;

    private TableSheet(
            Book book, OutputTable<R> table, int frozenColumns, int emphasisColumn, Function<R, CellStyle> emphasis) {
        this.book = book;
        this.table = table;
        this.frozenColumns = frozenColumns;
        this.emphasisColumn = emphasisColumn;
        this.emphasis = emphasis;
        this.sheet = open();
    }

    /** Writes {@code rows} as a sheet named after the table. */
    static <R> void write(Book book, OutputTable<R> table, int frozenColumns, Iterable<R> rows) {
        write(book, table, frozenColumns, rows, -1, r -> book.styles().plain);
    }

    /** Writes {@code rows}, one column of which has a style that depends on the row. */
    static <R> void write(
            Book book,
            OutputTable<R> table,
            int frozenColumns,
            Iterable<R> rows,
            int emphasisColumn,
            Function<R, CellStyle> emphasis) {
        TableSheet<R> sheet = new TableSheet<>(book, table, frozenColumns, emphasisColumn, emphasis);
        rows.forEach(sheet::add);
        sheet.close();
    }

    private SXSSFSheet open() {
        sheets++;
        SXSSFSheet opened = book.sheet(sheets == 1 ? table.name() : table.name() + " " + sheets);
        header(book, opened, 0, table.columns());
        for (int i = 0; i < table.columns().size(); i++) {
            opened.setColumnWidth(i, width(table.columns().get(i)) * CHARACTER);
        }
        Book.freeze(opened, frozenColumns, 0);
        row = 0;
        return opened;
    }

    /** Writes headings with their meaning as notes. */
    static <R> void header(Book book, SXSSFSheet sheet, int at, List<OutputColumn<R>> columns) {
        Row header = sheet.createRow(at);
        header.setHeightInPoints(30);
        SXSSFDrawing drawing = sheet.createDrawingPatriarch();
        for (int i = 0; i < columns.size(); i++) {
            Cell cell = header.createCell(i);
            cell.setCellValue(columns.get(i).name());
            boolean number = columns.get(i).kind() == OutputColumn.Kind.NUMBER;
            cell.setCellStyle(number ? book.styles().headerRight : book.styles().header);
            note(book, drawing, cell, columns.get(i).meaning());
        }
    }

    /** Puts a note on a cell. */
    static void note(Book book, SXSSFDrawing drawing, Cell cell, String text) {
        ClientAnchor anchor = book.inMemory().getCreationHelper().createClientAnchor();
        anchor.setCol1(cell.getColumnIndex());
        anchor.setCol2(cell.getColumnIndex() + 3);
        anchor.setRow1(cell.getRowIndex() + 1);
        anchor.setRow2(cell.getRowIndex() + 5);
        Comment comment = drawing.createCellComment(anchor);
        comment.setString(new XSSFRichTextString(text));
        cell.setCellComment(comment);
    }

    private static <R> int width(OutputColumn<R> column) {
        int byKind =
                switch (column.kind()) {
                    case DATE -> 12;
                    case NUMBER -> 10;
                    case TEXT ->
                        switch (column.name()) {
                            case "advice",
                                    "mcid_source",
                                    "mdc_source",
                                    "population",
                                    "method",
                                    "source",
                                    "meaning",
                                    "note" -> 48;
                            case "verdict", "blank_items", "from" -> 26;
                            default -> 14;
                        };
                };
        return Math.max(byKind, Math.min(column.name().length() + 3, 22));
    }

    private void add(R value) {
        if (row == LAST_ROW) {
            close();
            sheet = open();
        }
        row++;
        Row cells = sheet.createRow(row);
        for (int i = 0; i < table.columns().size(); i++) {
            set(book, cells, i, table.columns().get(i).of().apply(value));
        }
        if (emphasisColumn >= 0 && cells.getCell(emphasisColumn) != null) {
            cells.getCell(emphasisColumn).setCellStyle(emphasis.apply(value));
        }
    }

    /** Sets a typed cell; leaves a blank one out. */
    static void set(Book book, Row row, int column, Value value) {
        if (value instanceof Value.Text text) {
            text(book, row, column, text.text());
        } else if (value instanceof Value.Word word) {
            text(book, row, column, word.text());
        } else if (value instanceof Value.Number number) {
            Cell cell = row.createCell(column);
            cell.setCellValue(number.value());
            cell.setCellStyle(number.value() == Math.rint(number.value()) ? book.styles().whole : book.styles().number);
        } else if (value instanceof Value.Day day) {
            Cell cell = row.createCell(column);
            cell.setCellValue(day.day());
            cell.setCellStyle(book.styles().date);
        }
    }

    private static void text(Book book, Row row, int column, String text) {
        Cell cell = row.createCell(column);
        cell.setCellValue(text.length() > MAX_TEXT ? text.substring(0, MAX_TEXT) : text);
        cell.setCellStyle(book.styles().plain);
    }

    private void close() {
        int last = table.columns().size() - 1;
        sheet.setAutoFilter(new CellRangeAddress(0, Math.max(row, 1), 0, last));
        if (row == 0) {
            Row none = sheet.createRow(1);
            text(book, none, 0, "none");
        }
    }

    /** The letters of a column. */
    static String letters(int column) {
        return CellReference.convertNumToColString(column);
    }
}
