package lumbrical.intake;

import java.util.List;
import lumbrical.sitting.Sitting;

/** Takes a table of responses cell by cell, as it was entered. */
public interface EntrySink {
    /**
     * The columns that a file has a meaning for, under their own names; to be called once a file, before its cells.
     *
     * @param names columns of the sitting and of items, in the order of the file; in the long layout without those of items
     */
    void columns(List<String> names);

    /**
     * A row that is a sitting, or in the long layout a response of one.
     *
     * @param sitting who, when, which side
     */
    void row(Sitting sitting);

    /**
     * A filled cell of that row.
     *
     * @param column name of the column
     * @param text what was entered: cleaned, codes instead of a clinic's own texts, numbers in one form
     * @param response the response, or not a number for a column of the sitting
     */
    void cell(Sitting sitting, String column, String text, double response);
}
