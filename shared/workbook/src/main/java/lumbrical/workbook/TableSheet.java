package lumbrical.workbook;

import java.util.List;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.sheetxml.SheetNotes;
import lumbrical.workbook.StreamingWorkbook.LongSheet;
import org.apache.poi.ss.SpreadsheetVersion;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DateUtil;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.ss.util.CellReference;

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
    private LongSheet sheet;
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
        new TableSheet<>(book, table, layout, emphasised, emphasis, lastRow).fill(rows, Stream::of);
    }

    /** Writes the rows of each source as a sheet named after the table. */
    static <S, R> void write(
            StreamingWorkbook book,
            OutputTable<R> table,
            Layout layout,
            Iterable<S> sources,
            Function<S, Stream<R>> rows) {
        new TableSheet<>(book, table, layout, "", r -> book.styles().plain, LAST_ROW).fill(sources, rows);
    }

    /**
     * A row whose cells are made.
     *
     * @param emphasis how its emphasised cell looks
     * @param lines how many lines its highest cell needs
     */
    private record Made(Value[] cells, CellStyle emphasis, int lines) {}

    private <S> void fill(Iterable<S> sources, Function<S, Stream<R>> rows) {
        RowsAhead.write(book, sources, source -> rows.apply(source).map(this::made), this::add);
        close();
    }

    private LongSheet open() {
        sheets++;
        LongSheet opened = book.longSheet(sheets == 1 ? table.name() : table.name() + " " + sheets);
        header(book, opened, widths, table.columns());
        for (int i = 0; i < widths.length; i++) {
            opened.sheet().setColumnWidth(i, widths[i] * CHARACTER);
        }
        StreamingWorkbook.freeze(opened.sheet(), layout.frozenColumns(), 0);
        opened.sheet().getPrintSetup().setFitWidth((short) layout.pagesWide());
        if (layout.pagesWide() > 1) {
            opened.sheet().setRepeatingColumns(new CellRangeAddress(-1, -1, 0, layout.frozenColumns() - 1));
        }
        row = 0;
        return opened;
    }

    /** Writes headings with their meaning as notes. */
    static <R> void header(StreamingWorkbook book, LongSheet sheet, int[] widths, List<OutputColumn<R>> columns) {
        int lines = 1;
        SheetNotes notes = book.notes(sheet.sheet().getSheetName());
        for (int i = 0; i < columns.size(); i++) {
            OutputColumn<R> column = columns.get(i);
            sheet.rows().word(i, book.styles().heading(column.kind()), column.name());
            notes.add(0, i, column.meaning());
            lines = Math.max(lines, Layout.lines(column.name(), widths[i]));
        }
        sheet.rows().end(lines > 1 ? Layout.points(lines) : HEADER_POINTS);
    }

    private Made made(R row) {
        Value[] cells = new Value[widths.length];
        int lines = 1;
        for (int i = 0; i < cells.length; i++) {
            cells[i] = table.columns().get(i).of().apply(row);
            if (wrapped[i]) {
                lines = Math.max(lines, Layout.lines(text(cells[i]), widths[i]));
            }
        }
        return new Made(cells, emphasis.apply(row), lines);
    }

    private void add(Made made) {
        if (row == lastRow) {
            close();
            sheet = open();
        }
        row++;
        for (int i = 0; i < widths.length; i++) {
            Value content = made.cells()[i];
            if (content == Value.BLANK) {
                continue;
            }
            CellStyle style = i == emphasisColumn
                    ? made.emphasis()
                    : wrapped[i]
                            ? book.styles().wrapped
                            : styleOf(book.styles(), table.columns().get(i).kind(), content);
            add(sheet, i, style, content);
        }
        end(sheet, made.lines());
    }

    /** Ends a row, high enough for so many lines. */
    static void end(LongSheet sheet, int lines) {
        if (lines > 1) {
            sheet.rows().end(Layout.points(lines));
        } else {
            sheet.rows().end();
        }
    }

    /** The words of a cell; empty of any other. */
    static String text(Value content) {
        if (content instanceof Value.Text text) {
            return text.text();
        }
        return content instanceof Value.Word word ? word.text() : "";
    }

    /** How a cell of a column looks; the numbers of a column all have the same decimals. */
    static CellStyle styleOf(Styles styles, OutputColumn.Kind kind, Value content) {
        if (content instanceof Value.Number) {
            return kind == OutputColumn.Kind.COUNT ? styles.whole : styles.twoDecimals;
        }
        return content instanceof Value.Day day && dated(day) ? styles.date : styles.plain;
    }

    /** Adds a cell to the row; leaves a blank one out. */
    static void add(LongSheet sheet, int column, CellStyle style, Value content) {
        if (content instanceof Value.Text text) {
            sheet.rows().text(column, style, cut(text.text()));
        } else if (content instanceof Value.Word word) {
            sheet.rows().word(column, style, cut(word.text()));
        } else if (content instanceof Value.Number number) {
            sheet.rows().number(column, style, number.value());
        } else if (content instanceof Value.Day day && dated(day)) {
            sheet.rows().number(column, style, DateUtil.getExcelDate(day.day()));
        } else if (content instanceof Value.Day day) {
            sheet.rows().text(column, style, day.day().toString());
        }
    }

    /** Whether spreadsheets know the day as one. */
    static boolean dated(Value.Day day) {
        return day.day().getYear() > FIRST_YEAR;
    }

    private static String cut(String text) {
        return text.length() > MAX_TEXT ? text.substring(0, MAX_TEXT) : text;
    }

    private void close() {
        int last = table.columns().size() - 1;
        sheet.sheet().setAutoFilter(new CellRangeAddress(0, Math.max(row, 1), 0, last));
        if (row == 0) {
            sheet.rows().word(0, book.styles().plain, "none");
            sheet.rows().end();
        }
        sheet.end();
    }

    /** The letters of a column. */
    static String letters(int column) {
        return CellReference.convertNumToColString(column);
    }
}
