package org.handoutcomes.command;

import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.output.CsvTableWriter;
import org.handoutcomes.output.OutputFile;
import org.handoutcomes.reconcile.AgreedTable;
import org.handoutcomes.reconcile.Comparison;
import org.handoutcomes.reconcile.Decisions;
import org.handoutcomes.reconcile.Difference;
import org.handoutcomes.reconcile.DifferenceTable;
import org.handoutcomes.reconcile.EnteredTable;
import org.handoutcomes.table.Input;
import org.handoutcomes.table.ReadOptions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(
        name = "reconcile",
        description = {
            "Double data entry: two tables of the same forms compared cell by cell, what each difference does to the score,"
                    + " and the error rate.",
            "Never chooses: decide from the form in the table of differences, and give it back with --decisions."
        },
        sortOptions = false)
final class ReconcileCommand implements Callable<Integer> {
    private final Console console;

    @Parameters(index = "0", paramLabel = "FIRST", description = "The table as entered first.")
    private String first = "";

    @Parameters(index = "1", paramLabel = "SECOND", description = "The same forms, entered again.")
    private String second = "";

    @Option(
            names = "--differences",
            paramLabel = "FILE",
            description = "Write the differences to this CSV file (default: standard output).")
    private Optional<String> differences = Optional.empty();

    @Option(
            names = "--decisions",
            paramLabel = "FILE",
            description = "The table of differences with the columns decision and value filled in.")
    private Optional<String> decisions = Optional.empty();

    @Mixin
    private ReadingOptions reading = new ReadingOptions();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    ReconcileCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        Optional<OutputFile> agreed = output.file();
        agreed.filter(OutputOptions::isWorkbook).ifPresent(f -> {
            throw new UsageError("--out: the agreed table is CSV. Name a file that ends in .csv.");
        });
        Optional<OutputFile> list = differences.map(name -> output.further("--differences", name));
        Optional<OutputFile> problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        ReadOptions options = reading.reading(List.of());
        ProblemList problems = new ProblemList();
        List<Input> inputs = reading.inputs(List.of(first, second));
        EnteredTable one = EnteredTable.read(inputs.get(0), catalogue, options, problems);
        EnteredTable two = EnteredTable.read(inputs.get(1), catalogue, options, problems);
        Comparison comparison = Comparison.of(one, two, catalogue, reading.scoring(), problems);
        List<Difference> found = decisions
                .map(f -> Decisions.apply(Input.parse(f, Optional.empty()), comparison.differences()))
                .orElseGet(comparison::differences);
        list.ifPresentOrElse(file -> file.writeTable(DifferenceTable.TABLE, found, output.guard()), () -> print(found));
        agreed.ifPresent(file ->
                file.writeTable(AgreedTable.table(comparison), AgreedTable.rows(comparison, found), output.guard()));
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        tell(one, two, comparison, found);
        return found.stream().anyMatch(Difference::open) ? ExitStatus.PROBLEMS : problems.status();
    }

    private void print(List<Difference> found) {
        CsvTableWriter<Difference> csv = new CsvTableWriter<>(DifferenceTable.TABLE, console.out(), output.guard());
        found.forEach(csv::write);
        csv.flush();
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
            console.say(table.name() + ": rows read " + table.summary().rows() + " = in sittings "
                    + (table.summary().rows() - table.summary().rejected()) + " + rejected "
                    + table.summary().rejected() + "; sittings " + table.size());
        }
        console.say("sittings: in both " + comparison.paired() + ", only in the first " + comparison.onlyInFirst()
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
