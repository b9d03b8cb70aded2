package lumbrical.tabular;

import java.util.List;

/** Takes a table row by row. */
public interface TableSink {
    /**
     * One row.
     *
     * @param number as a spreadsheet shows it, from 1
     * @param cells texts as they stand in the file; reused by the caller, so copy what is kept
     */
    void row(int number, List<String> cells);

    /** How many rows pass between two words on how far the reading is. */
    int ROWS_BETWEEN = 4_096;

    /** Which share of the file's bytes has been read, now and then. */
    default void at(double share) {}

    /**
     * Something worth a note about the file: formula cells, hidden rows, numbers shown with leading zeros.
     *
     * @param column position of the cell, from 0; -1 for a whole row
     */
    default void remark(Remark remark, int row, int column) {}

    /** Whether a row of texts is the header that is looked for; of a workbook the first sheet that has one is read. */
    default boolean isHeader(List<String> cells) {
        return true;
    }

    /** That another sheet than the first is read, since it has the header that is looked for. */
    default void otherSheet(String name) {}

    /** That no sheet of several has the header that is looked for, and the first is read; {@code names} are all of them. */
    default void noSheetFits(List<String> names) {}

    /** What a reader can remark. */
    enum Remark {
        FORMULA_CELL,
        /** A number that its cell shows with leading zeros, which it does not hold. */
        LEADING_ZEROS,
        HIDDEN_ROW,
        /** The row that follows is the last one of a text that ends without a line break, as one that was cut off does. */
        ENDS_WITHOUT_LINE_BREAK
    }
}
