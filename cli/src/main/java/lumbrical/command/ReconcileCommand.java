package lumbrical.command;

import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.output.OutputFile;
import lumbrical.reconcile.AgreedTable;
import lumbrical.reconcile.Comparison;
import lumbrical.reconcile.Decisions;
import lumbrical.reconcile.Difference;
import lumbrical.reconcile.DifferenceTable;
import lumbrical.reconcile.EnteredTable;
import lumbrical.reconcile.SettledPlaces;
import lumbrical.tabular.Input;
import lumbrical.workbook.DifferencesWorkbook;

final class ReconcileCommand implements Command {
    private final Console console;
    private final Positional first = Positional.read("FIRST", "0", "1", "The table as entered first.");
    private final Positional second = Positional.read("SECOND", "1", "1", "The same forms, entered again.");
    private final TextOption differences = TextOption.written(
            "--differences", "FILE", "Write the differences to this CSV or XLSX file (default: standard output).");
    private final TextOption decisions = TextOption.read(
            "--decisions", "FILE", "The table of differences with the columns decision and value filled in.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    ReconcileCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Double data entry: two tables of the same forms compared cell by cell, what each difference does to the score,"
                        + " and the error rate.",
                "Never chooses: decide from the form in the table of differences, and give it back with --decisions.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(Stream.of(first, second, differences, decisions), reading.options(), output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> agreed = output.table();
        Optional<OutputFile> list = differences
                .value()
                .map(name -> output.at(name, "--differences", OutputOptions.Ending.CSV, OutputOptions.Ending.XLSX));
        Optional<OutputFile> problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        ReadOptions options = reading.readOptions(List.of());
        ProblemList problems = new ProblemList();
        List<Input> inputs = reading.inputs(List.of(first.value(), second.value()));
        EnteredTable one = EnteredTable.read(inputs.get(0), catalogue, options, problems);
        EnteredTable two = EnteredTable.read(inputs.get(1), catalogue, options, problems);
        Set<String> headings = new LinkedHashSet<>(one.summary().headings());
        headings.addAll(two.summary().headings());
        options.columns().notUsed(headings, List.of()).forEach(problems);
        Comparison comparison = Comparison.of(one, two, catalogue, reading.scoring(), problems);
        List<Difference> found = decisions
                .value()
                .map(f -> Decisions.apply(
                        Input.parse(f, Optional.empty()),
                        options.encoding(),
                        comparison.differences(),
                        catalogue,
                        problems))
                .orElseGet(comparison::differences);
        if (list.filter(OutputOptions::isWorkbook).isPresent()) {
            list.get()
                    .writeWithScratch((out, scratch) -> DifferencesWorkbook.write(found, options.asOf(), scratch, out));
        } else {
            TableOutput.write(list, DifferenceTable.TABLE, found, output, console);
        }
        agreed.ifPresent(file ->
                TableOutput.write(file, AgreedTable.table(comparison), AgreedTable.rows(comparison, found), output));
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        tell(one, two, comparison, found);
        SettledPlaces settled = SettledPlaces.of(found, options.columns());
        return found.stream().noneMatch(Difference::open) && problems.open(settled::settles) == 0
                ? ExitStatus.DONE
                : ExitStatus.PROBLEMS;
    }

    private void tell(EnteredTable one, EnteredTable two, Comparison comparison, List<Difference> found) {
        if (!output.quiet()) {
            for (EnteredTable table : List.of(one, two)) {
                if (!table.summary().unusedColumns().isEmpty()) {
                    console.say("columns not compared, " + table.name() + ": "
                            + String.join(", ", table.summary().unusedColumns()));
                }
            }
            if (!comparison.unsharedColumns().isEmpty()) {
                console.say("columns in one table only (their cells are listed, not counted): "
                        + String.join(", ", comparison.unsharedColumns()));
            }
        }
        for (EnteredTable table : List.of(one, two)) {
            console.say(table.name() + ": rows read " + table.summary().rows() + " = compared "
                    + (table.summary().rows() - table.summary().rejected()) + " + rejected "
                    + table.summary().rejected() + "; days of patients (sittings) " + table.size());
        }
        console.say("days of patients: in both " + comparison.paired() + ", only in the first "
                + comparison.onlyInFirst()
                + ", only in the second " + comparison.onlyInSecond() + ", not compared (entered twice in one table) "
                + comparison.contradictory());
        console.say(comparison
                .rate()
                .map(rate -> "fields compared " + comparison.fields() + ", different "
                        + comparison.differing() + ": " + rounded(rate.perThousand()) + " per 1,000 (95 % interval "
                        + rounded(rate.low()) + " to " + rounded(rate.high()) + ", Wilson)")
                .orElse("fields compared 0"));
        long open = found.stream().filter(Difference::open).count();
        console.say("differences " + found.size() + ": decided " + (found.size() - open) + ", open " + open);
    }

    private static String rounded(double perThousand) {
        return String.format(Locale.ROOT, "%.3f", perThousand);
    }
}
