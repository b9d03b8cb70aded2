package lumbrical.reconcile;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.number.Numbers;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;

/** Two tables of the same forms, compared. */
final class DoubleEntry {
    private final Path folder;
    final List<Problem> problems = new ArrayList<>();
    final EnteredTable first;
    final EnteredTable second;
    final Comparison comparison;

    DoubleEntry(Path folder, List<String> one, List<String> two) {
        this.folder = folder;
        this.first = read(file("first.csv", one));
        this.second = read(file("second.csv", two));
        this.comparison = Comparison.of(first, second, Catalogue.builtIn(), ScoringOptions.AS_DEFINED, problems::add);
    }

    private EnteredTable read(Input input) {
        return EnteredTable.read(
                input, Catalogue.builtIn(), ReadOptions.asOf(LocalDate.of(2026, 11, 25)), problems::add);
    }

    private Input file(String name, List<String> lines) {
        try {
            return new Input(Files.write(folder.resolve(name), lines, StandardCharsets.UTF_8), Optional.empty());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The differences, cells separated by {@code |}. */
    List<String> differences() {
        return comparison.differences().stream()
                .map(d -> line(DifferenceTable.TABLE, d))
                .toList();
    }

    /** What is agreed once these decisions are taken; the first line names the columns of the decisions. */
    List<String> agreed(String... decisions) {
        List<Difference> decided = decisions.length == 0
                ? comparison.differences()
                : Decisions.apply(
                        file("decisions.csv", List.of(decisions)),
                        Optional.empty(),
                        comparison.differences(),
                        Catalogue.builtIn(),
                        problems::add);
        OutputTable<AgreedTable.Row> table = AgreedTable.table(comparison);
        List<String> lines = new ArrayList<>(List.of(String.join("|", table.headings())));
        AgreedTable.rows(comparison, decided).forEach(row -> lines.add(line(table, row)));
        return lines;
    }

    private static <R> String line(OutputTable<R> table, R row) {
        return table.columns().stream().map(c -> text(c.of().apply(row))).collect(Collectors.joining("|"));
    }

    private static String text(Value value) {
        if (value instanceof Value.Text text) {
            return text.text();
        }
        if (value instanceof Value.Word word) {
            return word.text();
        }
        return value instanceof Value.Number number ? Numbers.format(number.value()) : "";
    }
}
