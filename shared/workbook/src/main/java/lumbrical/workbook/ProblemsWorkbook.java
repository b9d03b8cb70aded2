package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import lumbrical.columns.ProblemColumns;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputColumn.Kind;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Problem;

/** Problems and notes as a workbook: a summary of one page, and every place with file, sheet, row and column. */
public final class ProblemsWorkbook {
    private static final Layout LAYOUT = Layout.of(0)
            .width(Map.of("file", 26, "sheet", 16, "row", 8, "column", 18, "value", 18, "problem", 28, "advice", 80))
            .wrap("advice");

    /** As the table of problems, with the sheet in a column of its own. */
    static final OutputTable<Problem> PROBLEMS = new OutputTable<>(ProblemColumns.TABLE.name(), columns());

    private ProblemsWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param problems every problem and note of the run, problems first
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(
            List<Problem> problems, LocalDate asOf, RunRecord provenance, Path scratch, OutputStream out)
            throws IOException {
        StreamingWorkbook.write(asOf, scratch, out, book -> {
            summary(book, problems, asOf, provenance);
            TableSheet.write(book, PROBLEMS, LAYOUT, problems, "problem", p -> book.styles()
                    .urgent(!p.isNote()));
        });
    }

    private static List<OutputColumn<Problem>> columns() {
        List<OutputColumn<Problem>> columns = new ArrayList<>();
        columns.add(new OutputColumn<>("file", "File, without folders", Kind.TEXT, p -> Value.text(file(p))));
        columns.add(new OutputColumn<>("sheet", "Sheet of a workbook", Kind.TEXT, p -> Value.text(sheet(p))));
        ProblemColumns.TABLE.columns().stream()
                .filter(c -> !c.name().equals("file"))
                .forEach(columns::add);
        return columns;
    }

    private static int mark(Problem problem) {
        String file = problem.place().file();
        int mark = file.lastIndexOf('#');
        return mark > 0 && file.substring(0, mark).toLowerCase(Locale.ROOT).endsWith(".xlsx") ? mark : file.length();
    }

    private static String file(Problem problem) {
        return problem.place().file().substring(0, mark(problem));
    }

    private static String sheet(Problem problem) {
        String file = problem.place().file();
        int mark = mark(problem);
        if (mark < file.length()) {
            return file.substring(mark + 1);
        }
        return file.toLowerCase(Locale.ROOT).endsWith(".xlsx") ? "first sheet" : "";
    }

    /** How often a kind of problem occurs, and an example. */
    private record Seen(int times, Problem first) {}

    private static void summary(StreamingWorkbook book, List<Problem> problems, LocalDate asOf, RunRecord provenance) {
        Page page = new Page(book, "Summary", 34, 10, 34, 74);
        page.line("Problems in the files, as of " + asOf, book.styles().title);
        long notes = problems.stream().filter(Problem::isNote).count();
        page.tiles(
                List.of("problems: to correct in the files", "notes: to know"),
                List.of((double) (problems.size() - notes), (double) notes));
        byKind(
                page,
                "Problems by kind",
                problems.stream().filter(p -> !p.isNote()).toList());
        byKind(page, "Notes by kind", problems.stream().filter(Problem::isNote).toList());
        page.section("By file");
        page.headings(1, List.of("file", "problems"));
        Map<String, Integer> byFile = new TreeMap<>();
        problems.stream()
                .filter(p -> !p.isNote())
                .forEach(p -> byFile.merge(p.place().file(), 1, Integer::sum));
        if (byFile.isEmpty()) {
            page.values(List.of(Value.word("none")));
        }
        byFile.forEach((file, n) -> page.values(List.of(Value.text(file), Value.number(n))));
        provenance.print(page);
    }

    private static void byKind(Page page, String title, List<Problem> problems) {
        Map<String, Seen> kinds = new TreeMap<>();
        problems.forEach(
                p -> kinds.merge(p.code().code(), new Seen(1, p), (a, b) -> new Seen(a.times() + 1, a.first())));
        page.section(title);
        page.headings(1, List.of("kind", "how many"));
        if (kinds.isEmpty()) {
            page.values(List.of(Value.word("none")));
        }
        kinds.forEach((code, seen) -> page.counted(
                code,
                seen.times(),
                List.of("first: " + seen.first().place(), seen.first().advice())));
    }
}
