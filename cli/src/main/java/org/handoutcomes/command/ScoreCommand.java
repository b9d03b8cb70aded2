package org.handoutcomes.command;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.batch.ScoreFiles;
import org.handoutcomes.batch.Tally;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.output.OutputFile;
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
        Progress progress = new Progress(console, inputs);
        ScoreFiles scorer = new ScoreFiles(catalogue, options, reading.scoring(), output.guard(), threads(), progress);
        Tally[] tally = new Tally[1];
        if (target.isPresent()) {
            target.get().write(out -> tally[0] = scorer.write(inputs, out, problems));
        } else {
            WriterStream out = new WriterStream(console.out());
            tally[0] = scorer.write(inputs, out, problems);
            out.release();
        }
        progress.end();
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        RunSummary.print(console, tally[0], List.of(), output.quiet());
        return problems.status();
    }

    /** Both cores, but one where the machine has one; a system property sets it for comparisons. */
    private static int threads() {
        return Integer.getInteger(
                "handoutcomes.threads", Math.min(2, Runtime.getRuntime().availableProcessors()));
    }
}
