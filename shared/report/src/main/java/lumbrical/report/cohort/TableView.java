package lumbrical.report.cohort;

import java.util.List;

/**
 * A table of numbers. Its columns are those of a table that is also written as CSV, under headings for people.
 *
 * @param caption what it holds
 * @param headings one for each column
 * @param rows its rows
 */
record TableView(String caption, List<Heading> headings, List<Row> rows) {
    TableView {
        headings = List.copyOf(headings);
        rows = List.copyOf(rows);
    }

    /**
     * A heading.
     *
     * @param words for people
     * @param column name of the column in the CSV; empty if it is none
     */
    record Heading(String words, String column) {}

    /**
     * A row.
     *
     * @param visit the visit; empty if it is of none
     * @param marked whether it is the one used
     */
    record Row(String visit, boolean marked, List<Cell> cells) {
        Row {
            cells = List.copyOf(cells);
        }
    }

    /**
     * A cell.
     *
     * @param text as printed
     * @param exact as it stands in the CSV, where that differs; else empty
     */
    record Cell(String text, String exact) {
        static final Cell BLANK = new Cell("", "");

        /** Without an exact value where the text says it all. */
        static Cell of(String text, String exact) {
            return new Cell(text, text.equals(exact) ? "" : exact);
        }
    }
}
