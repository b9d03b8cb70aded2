package lumbrical.intake;

import java.util.List;
import lumbrical.tabular.InputFile;

/**
 * What reading gave, besides the rows.
 *
 * @param rows rows read, blank ones not counted
 * @param rejected rows that gave no sitting
 * @param longLayout whether a file was in the long layout, so that a row is a response
 * @param unusedColumns headings that mean nothing here, once each
 * @param headings every heading, once each, in lower case as the files have it
 * @param files the files read
 */
public record ReadSummary(
        long rows,
        long rejected,
        boolean longLayout,
        List<String> unusedColumns,
        List<String> headings,
        List<InputFile> files) {
    /** Copies the lists. */
    public ReadSummary {
        unusedColumns = List.copyOf(unusedColumns);
        headings = List.copyOf(headings);
        files = List.copyOf(files);
    }
}
