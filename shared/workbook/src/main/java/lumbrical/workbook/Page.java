package lumbrical.workbook;

import java.util.List;
import java.util.function.BiFunction;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;
import lumbrical.sheetxml.SheetNotes;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.util.CellRangeAddress;

/** A sheet that is read from the top like a page: headings, lines and small tables, one below the other. */
final class Page {
    /** Height of a title's row. */
    static final float TITLE_POINTS = 26;

    private static final float SECTION_POINTS = 20;
    private static final int TILE = 2;

    private final StreamingWorkbook book;
    private final SmallSheet sheet;
    private final SheetNotes notes;
    private final int[] widths;
    private int row = -1;

    /** @param widths widths of the columns in characters */
    Page(StreamingWorkbook book, String name, int... widths) {
        this.book = book;
        this.sheet = book.smallSheet(name);
        this.notes = book.notes(name);
        this.widths = widths.clone();
        for (int i = 0; i < widths.length; i++) {
            sheet.sheet().setColumnWidth(i, widths[i] * 256);
        }
        StreamingWorkbook.freeze(sheet.sheet(), 0, 0);
    }

    /** The row written last. */
    int row() {
        return row;
    }

    void line(String text, CellStyle style) {
        row++;
        sheet.text(row, 0, style, text);
        if (style == book.styles().title) {
            sheet.height(row, TITLE_POINTS);
        }
    }

    /** A line over the whole width. */
    void across(String text, CellStyle style) {
        line(text, style);
        merge(row, 0, widths.length);
    }

    private void merge(int at, int column, int columns) {
        if (columns > 1) {
            sheet.sheet().addMergedRegion(new CellRangeAddress(at, at, column, column + columns - 1));
        }
    }

    void section(String text) {
        row++;
        line(text, book.styles().section);
        sheet.height(row, SECTION_POINTS);
    }

    /** As {@link #section(String)}, at the head of a new page. */
    void breakBefore(String text) {
        sheet.sheet().setRowBreak(row + 1);
        section(text);
    }

    /** As {@link #table(List, List, BiFunction)}, with its headings on every further page; there can be one such table. */
    <R> void repeatedTable(
            List<OutputColumn<R>> columns, List<R> rows, BiFunction<OutputColumn<R>, R, CellStyle> style) {
        int headings = row + 1;
        table(columns, rows, style);
        sheet.sheet().setRepeatingRows(new CellRangeAddress(headings, headings, -1, -1));
    }

    /** Key figures side by side, each two columns wide; names above, figures below. */
    void tiles(List<String> names, List<Double> figures) {
        int above = row + 1;
        row += 2;
        sheet.height(above, 26);
        sheet.height(row, 24);
        for (int i = 0; i < names.size(); i++) {
            sheet.text(above, TILE * i, book.styles().figureName, names.get(i));
            sheet.value(row, TILE * i, book.styles().figure, Value.number(figures.get(i)));
            for (int rest = 1; rest < TILE; rest++) {
                sheet.empty(above, TILE * i + rest, book.styles().figureName);
                sheet.empty(row, TILE * i + rest, book.styles().figure);
            }
            merge(above, TILE * i, TILE);
            merge(row, TILE * i, TILE);
        }
    }

    /** Headings; a column of words stands left, a column of numbers right. */
    void headings(int words, List<String> names) {
        headings(words, names.size(), names);
    }

    /** As {@link #headings(int, List)}; columns from {@code again} on are of words too. */
    void headings(int words, int again, List<String> names) {
        row++;
        int lines = 1;
        for (int i = 0; i < names.size(); i++) {
            sheet.text(
                    row, i, i < words || i >= again ? book.styles().header : book.styles().headerRight, names.get(i));
            lines = Math.max(lines, Layout.lines(names.get(i), i < widths.length ? widths[i] : 10));
        }
        sheet.lines(row, lines);
    }

    /** Headings of a table with their meaning as notes, and a filter over the rows below. */
    <R> void table(List<OutputColumn<R>> columns, List<R> rows, BiFunction<OutputColumn<R>, R, CellStyle> style) {
        row++;
        int header = row;
        int lines = 1;
        for (int i = 0; i < columns.size(); i++) {
            OutputColumn<R> column = columns.get(i);
            sheet.text(row, i, book.styles().heading(column.kind()), column.name());
            notes.add(row, i, column.meaning());
            lines = Math.max(lines, Layout.lines(column.name(), widths[i]));
        }
        sheet.lines(row, lines);
        for (R each : rows) {
            row++;
            for (int i = 0; i < columns.size(); i++) {
                sheet.value(
                        row,
                        i,
                        style.apply(columns.get(i), each),
                        columns.get(i).of().apply(each));
            }
        }
        if (rows.isEmpty()) {
            values(List.of(Value.word("none")));
        }
        sheet.sheet().setAutoFilter(new CellRangeAddress(header, row, 0, columns.size() - 1));
    }

    void values(List<Value> values) {
        row++;
        for (int i = 0; i < values.size(); i++) {
            sheet.value(row, i, values.get(i));
        }
    }

    /** Values, each in a style of its own. */
    void values(List<Value> values, List<CellStyle> styles) {
        row++;
        int lines = 1;
        for (int i = 0; i < values.size(); i++) {
            sheet.value(row, i, styles.get(i), values.get(i));
            if (styles.get(i).getWrapText()) {
                lines = Math.max(lines, Layout.lines(TableSheet.text(values.get(i)), widths[i]));
            }
        }
        sheet.lines(row, lines);
    }

    /** A line of texts, each over several columns and lines. */
    void texts(int[] spans, List<String> texts) {
        texts(spans, texts, book.styles().wrapped);
    }

    void texts(int[] spans, List<String> texts, CellStyle style) {
        row++;
        int column = 0;
        int lines = 1;
        for (int i = 0; i < spans.length; i++) {
            sheet.text(row, column, style, texts.get(i));
            int width = widths[column];
            for (int j = column + 1; j < column + spans[i]; j++) {
                sheet.empty(row, j, style);
                width += widths[j];
            }
            merge(row, column, spans[i]);
            lines = Math.max(lines, Layout.lines(texts.get(i), width));
            column += spans[i];
        }
        sheet.lines(row, lines);
    }

    /** A name, a number, and texts that may take several lines. */
    void counted(String name, int number, List<String> texts) {
        row++;
        sheet.value(row, 0, Value.word(name));
        sheet.value(row, 1, Value.number(number));
        int lines = 1;
        for (int i = 0; i < texts.size(); i++) {
            sheet.text(row, 2 + i, book.styles().wrapped, texts.get(i));
            lines = Math.max(lines, Layout.lines(texts.get(i), widths[2 + i]));
        }
        sheet.lines(row, lines);
    }
}
