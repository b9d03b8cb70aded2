package org.handoutcomes.command;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.batch.BatchScorer;
import org.handoutcomes.batch.DoubleWatch;
import org.handoutcomes.batch.Tally;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.output.CsvTableWriter;
import org.handoutcomes.output.OutputFile;
import org.handoutcomes.output.ScoreRow;
import org.handoutcomes.output.Tables;
import org.handoutcomes.problem.Problem;
import org.handoutcomes.problem.ProblemCode;
import org.handoutcomes.sitting.ScoredForm;
import org.handoutcomes.table.Input;
import org.handoutcomes.table.ReadOptions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(
        name = "score",
        description = "Scores responses: one row per sitting, instrument and scale.",
        sortOptions = false)
final class ScoreCommand implements Callable<Integer> {
    private final Console console;

    @Parameters(
            paramLabel = "RESPONSES",
            arity = "1..*",
            description = "CSV or XLSX files; FILE.xlsx#Sheet names a sheet.")
    private List<String> files = List.of();

    @Mixin
    private ReadingOptions reading = new ReadingOptions();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    ScoreCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        ReadOptions options = reading.reading(List.of());
        List<Input> inputs = reading.inputs(files);
        ProblemList problems = new ProblemList();
        Tally[] tally = new Tally[1];
        if (target.isPresent()) {
            target.get().writeText(out -> tally[0] = score(inputs, catalogue, options, problems, out));
        } else {
            tally[0] = score(inputs, catalogue, options, problems, console.out());
        }
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        RunSummary.print(console, tally[0], List.of(), output.quiet());
        return problems.status();
    }

    private Tally score(
            List<Input> inputs, Catalogue catalogue, ReadOptions options, ProblemList problems, Appendable out) {
        CsvTableWriter<ScoreRow> csv = new CsvTableWriter<>(Tables.SCORES, out, output.guard());
        DoubleWatch watch = new DoubleWatch();
        Tally tally = new BatchScorer(catalogue, options, reading.scoring(), Map.of())
                .score(
                        inputs,
                        (row, forms) -> forms.forEach(form -> {
                            watchDoubles(form, watch, problems);
                            write(form, csv);
                        }),
                        problems);
        csv.flush();
        return tally;
    }

    private static void watchDoubles(ScoredForm form, DoubleWatch watch, ProblemList problems) {
        if (!form.responses().blank()
                && watch.seenBefore(form.sitting(), form.instrument().id().value())) {
            problems.accept(new Problem(
                    form.sitting().place(),
                    "",
                    ProblemCode.DUPLICATE_SITTING,
                    form.instrument().id() + " stood for this patient, date, side and episode before. Both are scored."
                            + " Remove one of the two."));
        }
    }

    private static void write(ScoredForm form, CsvTableWriter<ScoreRow> csv) {
        form.results()
                .forEach(result -> csv.write(new ScoreRow(
                        form.sitting(),
                        form.sitting().episode(),
                        Optional.empty(),
                        form.instrument(),
                        form.instrument().scale(result.scale()).orElseThrow(),
                        result)));
    }
}
