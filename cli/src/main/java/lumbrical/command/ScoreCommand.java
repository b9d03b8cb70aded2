package lumbrical.command;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.fastpath.ScoreFiles;
import lumbrical.intake.ReadOptions;
import lumbrical.output.OutputFile;
import lumbrical.tabular.Input;

final class ScoreCommand implements Command {
    private final Console console;
    private final Word.Arguments files = Word.Arguments.responses();
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    ScoreCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of("Scores responses: one row per sitting, instrument and scale.");
    }

    @Override
    public Stream<Word> words() {
        return Stream.of(Stream.of(files), reading.words(), output.words()).flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        ReadOptions options = reading.reading(List.of());
        List<Input> inputs = reading.inputs(files.values());
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, inputs);
        ScoreFiles scorer = new ScoreFiles(catalogue, options, reading.scoring(), output.guard(), threads(), progress);
        ScoringCounts[] tally = new ScoringCounts[1];
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
                "lumbrical.threads", Math.min(2, Runtime.getRuntime().availableProcessors()));
    }
}
