package lumbrical.report;

import java.util.ArrayList;
import java.util.List;
import lumbrical.report.html.Origin;
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

    /** As it is said at the end of a page. */
    Origin told() {
        List<String> lines = new ArrayList<>();
        lines.add(rows);
        lines.add("options: " + (options.isEmpty() ? "none" : String.join(" ", options)));
        files.forEach(f -> lines.add(f.name() + ": SHA-256 " + f.sha256()));
        return new Origin(program, lines);
    }
}
