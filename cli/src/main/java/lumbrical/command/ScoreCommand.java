package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.batch.ScoringProgressListener;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.fastpath.ScoreFiles;
import lumbrical.intake.ReadOptions;
import lumbrical.output.OutputFile;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;

final class ScoreCommand implements Command {
    private final Console console;
    private final Positional files = Positional.responses();
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    ScoreCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Scores responses: one row for each patient, day, instrument and scale.",
                "--out FILE.csv or FILE.xlsx; without it the rows go to standard output as CSV.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(Stream.of(files), reading.options(), output.options()).flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.table();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        ReadOptions options = reading.readOptions(List.of());
        List<Input> inputs = reading.inputs(files.values());
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, inputs);
        if (target.filter(OutputOptions::isWorkbook).isPresent()) {
            return workbook(target.get(), problemsFile, progress);
        }
        ScoreFiles scorer = new ScoreFiles(catalogue, options, reading.scoring(), output.guard(), threads(), progress);
        ScoringCounts[] tally = new ScoringCounts[1];
        if (target.isPresent()) {
            target.get().write(out -> tally[0] = scorer.write(inputs, out, problems));
        } else {
            WriterStream out = new WriterStream(console.out());
            try {
                tally[0] = scorer.write(inputs, out, problems);
            } catch (UnreadableInputException e) {
                throw out.begun() ? new PartPrintedException(e) : e;
            }
            out.release();
        }
        progress.end();
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, tally[0], List.of(), output.quiet());
        return problems.status();
    }

    /** A workbook takes the ordinary way: a sheet holds a million rows at most. */
    private int workbook(OutputFile target, Optional<OutputFile> problemsFile, Progress progress) {
        ProblemList problems = new ProblemList();
        List<ScoreRow> rows = new ArrayList<>();
        ScoringCounts counts = new BatchScorer(reading.catalogue(), reading.readOptions(List.of()), reading.scoring())
                .score(
                        reading.inputs(files.values()),
                        (row, forms) -> forms.forEach(
                                form -> form.results().forEach(result -> rows.add(ScoreRow.of(form, result)))),
                        problems,
                        ScoringProgressListener.of(progress));
        TableOutput.write(target, ScoreColumns.TABLE, rows, output);
        progress.end();
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, counts, List.of(), output.quiet());
        return problems.status();
    }

    /** Both cores, but one where the machine has one; a system property sets it for comparisons. */
    private static int threads() {
        return Integer.getInteger(
                "lumbrical.threads", Math.min(2, Runtime.getRuntime().availableProcessors()));
    }
}
