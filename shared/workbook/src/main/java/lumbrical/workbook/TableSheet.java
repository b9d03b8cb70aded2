package lumbrical.workbook;

import java.util.List;
import java.util.function.Function;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
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

/** Writes a table as a sheet: a frozen header with notes, a filter, typed cells. Further sheets where one is full. */
final class TableSheet<R> {
    /** The row of the format's limit, from 0. */
    static final int LAST_ROW = SpreadsheetVersion.EXCEL2007.getLastRowIndex();

    private static final int CHARACTER = 256;
    private static final float HEADER_POINTS = 18;
    private static final int MAX_TEXT = SpreadsheetVersion.EXCEL2007.getMaxTextLength();

    /** Spreadsheets have no day before 1900 and count those of its first months wrongly. */
    private static final int FIRST_YEAR = 1900;

    private final StreamingWorkbook book;
    private final OutputTable<R> table;
    private final Layout layout;
    private final Function<R, CellStyle> emphasis;
    private final int emphasisColumn;
    private final int lastRow;
    private final int[] widths;
    private final boolean[] wrapped;
    private SXSSFSheet sheet;
    private int sheets;
    private int row;

    private TableSheet(
            StreamingWorkbook book,
            OutputTable<R> table,
            Layout layout,
            String emphasised,
            Function<R, CellStyle> emphasis,
            int lastRow) {
        this.book = book;
        this.table = table;
        this.layout = layout;
        this.emphasisColumn = table.headings().indexOf(emphasised);
        this.emphasis = emphasis;
        this.lastRow = lastRow;
        this.widths = table.columns().stream().mapToInt(c -> layout.widthOf(c)).toArray();
        this.wrapped = new boolean[widths.length];
        for (int i = 0; i < wrapped.length; i++) {
            wrapped[i] = layout.wrapped().contains(table.columns().get(i).name());
        }
        this.sheet = open();
    }

    /** Writes {@code rows} as a sheet named after the table. */
    static <R> void write(StreamingWorkbook book, OutputTable<R> table, Layout layout, Iterable<R> rows) {
        write(book, table, layout, rows, "", r -> book.styles().plain);
    }

    /** Writes {@code rows}, one column of which has a style that depends on the row. */
    static <R> void write(
            StreamingWorkbook book,
            OutputTable<R> table,
            Layout layout,
            Iterable<R> rows,
            String emphasised,
            Function<R, CellStyle> emphasis) {
        write(book, table, layout, rows, emphasised, emphasis, LAST_ROW);
    }

    /** As above, with a sheet that is full at {@code lastRow}. */
    static <R> void write(
            StreamingWorkbook book,
            OutputTable<R> table,
            Layout layout,
            Iterable<R> rows,
            String emphasised,
            Function<R, CellStyle> emphasis,
            int lastRow) {
        TableSheet<R> sheet = new TableSheet<>(book, table, layout, emphasised, emphasis, lastRow);
        rows.forEach(sheet::add);
        sheet.close();
    }

    private SXSSFSheet open() {
        sheets++;
        SXSSFSheet opened = book.sheet(sheets == 1 ? table.name() : table.name() + " " + sheets);
        header(book, opened, widths, table.columns());
        for (int i = 0; i < widths.length; i++) {
            opened.setColumnWidth(i, widths[i] * CHARACTER);
        }
        StreamingWorkbook.freeze(opened, layout.frozenColumns(), 0);
        opened.getPrintSetup().setFitWidth((short) layout.pagesWide());
        if (layout.pagesWide() > 1) {
            opened.setRepeatingColumns(new CellRangeAddress(-1, -1, 0, layout.frozenColumns() - 1));
        }
        row = 0;
        return opened;
    }

    /** Writes headings with their meaning as notes. */
    static <R> void header(StreamingWorkbook book, SXSSFSheet sheet, int[] widths, List<OutputColumn<R>> columns) {
        Row header = sheet.createRow(0);
        header.setHeightInPoints(HEADER_POINTS);
        int lines = 1;
        SXSSFDrawing drawing = sheet.createDrawingPatriarch();
        for (int i = 0; i < columns.size(); i++) {
            Cell cell = header.createCell(i);
            cell.setCellValue(columns.get(i).name());
            cell.setCellStyle(book.styles().heading(columns.get(i).kind()));
            note(book, drawing, cell, columns.get(i).meaning());
            lines = Math.max(lines, Layout.lines(columns.get(i).name(), widths[i]));
        }
        Layout.height(header, lines);
    }

    /** Puts a note on a cell. */
    static void note(StreamingWorkbook book, SXSSFDrawing drawing, Cell cell, String text) {
        ClientAnchor anchor = book.inMemory().getCreationHelper().createClientAnchor();
        anchor.setCol1(cell.getColumnIndex());
        anchor.setCol2(cell.getColumnIndex() + 3);
        anchor.setRow1(cell.getRowIndex() + 1);
        anchor.setRow2(cell.getRowIndex() + 5);
        Comment comment = drawing.createCellComment(anchor);
        comment.setAddress(cell.getRowIndex(), cell.getColumnIndex()); // else where the anchor begins, a row below
        comment.setString(new XSSFRichTextString(text));
        cell.setCellComment(comment);
    }

    private void add(R value) {
        if (row == lastRow) {
            close();
            sheet = open();
        }
        row++;
        Row cells = sheet.createRow(row);
        int lines = 1;
        for (int i = 0; i < widths.length; i++) {
            set(book, cells, i, table.columns().get(i), value);
            if (wrapped[i] && cells.getCell(i) != null) {
                cells.getCell(i).setCellStyle(book.styles().wrapped);
                lines = Math.max(lines, Layout.lines(cells.getCell(i).getStringCellValue(), widths[i]));
            }
        }
        Layout.height(cells, lines);
        if (emphasisColumn >= 0 && cells.getCell(emphasisColumn) != null) {
            cells.getCell(emphasisColumn).setCellStyle(emphasis.apply(value));
        }
    }

    /** Sets the cell of a column, whose numbers all have the same decimals; leaves a blank one out. */
    static <R> void set(StreamingWorkbook book, Row row, int position, OutputColumn<R> column, R value) {
        Value content = column.of().apply(value);
        set(book, row, position, content);
        if (content instanceof Value.Number) {
            boolean count = column.kind() == OutputColumn.Kind.COUNT;
            row.getCell(position).setCellStyle(count ? book.styles().whole : book.styles().twoDecimals);
        }
    }

    /** Sets a typed cell; leaves a blank one out. */
    static void set(StreamingWorkbook book, Row row, int column, Value value) {
        if (value instanceof Value.Text text) {
            text(book, row, column, text.text());
        } else if (value instanceof Value.Word word) {
            text(book, row, column, word.text());
        } else if (value instanceof Value.Number number) {
            Cell cell = row.createCell(column);
            cell.setCellValue(number.value());
            cell.setCellStyle(number.value() == Math.rint(number.value()) ? book.styles().whole : book.styles().number);
        } else if (value instanceof Value.Day day && day.day().getYear() <= FIRST_YEAR) {
            text(book, row, column, day.day().toString());
        } else if (value instanceof Value.Day day) {
            Cell cell = row.createCell(column);
            cell.setCellValue(day.day());
            cell.setCellStyle(book.styles().date);
        }
    }

    private static void text(StreamingWorkbook book, Row row, int column, String text) {
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
