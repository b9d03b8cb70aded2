package lumbrical.report;

import java.util.List;
import lumbrical.tabular.InputFile;

/**
 * Where a page comes from.
 *
 * @param program name and version of the program
 * @param files the files read
 * @param options the options that shape the content
 * @param rows the line that says where every row went
 */
public record ReportOrigin(String program, List<InputFile> files, List<String> options, String rows) {
    /** Copies the lists. */
    public ReportOrigin {
        files = List.copyOf(files);
        options = List.copyOf(options);
    }
}
