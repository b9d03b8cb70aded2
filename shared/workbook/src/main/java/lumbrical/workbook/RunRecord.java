package lumbrical.workbook;

import java.util.List;
import lumbrical.output.Value;
import lumbrical.tabular.InputFile;

/**
 * Where a workbook comes from.
 *
 * @param program name and version of the program
 * @param files the files read
 * @param options the options that shape the content
 * @param rows the line that says where every row went
 */
public record RunRecord(String program, List<InputFile> files, List<String> options, String rows) {
    /** Copies the lists. */
    public RunRecord {
        files = List.copyOf(files);
        options = List.copyOf(options);
    }

    /** A short form for a workbook of few sheets. */
    void print(Page page) {
        page.section("Where this comes from");
        page.values(List.of(Value.word(program)));
        page.values(List.of(Value.word(rows)));
        page.values(List.of(Value.text("options: " + (options.isEmpty() ? "none" : String.join(" ", options)))));
        files.forEach(f -> page.values(List.of(Value.text(f.name() + "  SHA-256 " + f.sha256()))));
    }
}
