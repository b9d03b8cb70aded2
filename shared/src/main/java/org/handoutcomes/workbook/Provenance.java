package org.handoutcomes.workbook;

import java.util.List;
import org.handoutcomes.table.InputFile;

/**
 * Where a workbook comes from.
 *
 * @param program name and version of the program
 * @param files the files read
 * @param options the options that shape the content
 * @param rows the line that says where every row went
 */
public record Provenance(String program, List<InputFile> files, List<String> options, String rows) {
    /** Copies the lists. */
    public Provenance {
        files = List.copyOf(files);
        options = List.copyOf(options);
    }
}
