package lumbrical.command;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.columns.GripColumns;
import lumbrical.grip.GripProfile;
import lumbrical.grip.GripRow;
import lumbrical.intake.ReadOptions;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputFile;

final class GripCommand implements Command {
    static final String CAUTION = "Grip tasks are descriptive: not a validated scale, no MCID.";

    private final Console console;
    private final Word.Arguments files = Word.Arguments.responses();
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    GripCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "The functional-task profile: how hard key, pinch, precision, power, hook and cylindrical grip are.");
    }

    @Override
    public Stream<Word> words() {
        return Stream.of(Stream.of(files), reading.words(), output.words()).flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        ReadOptions options = reading.reading(List.of());
        ProblemList problems = new ProblemList();
        ScoringCounts[] tally = new ScoringCounts[1];
        if (target.isPresent()) {
            target.get().writeText(out -> tally[0] = profile(options, problems, out));
        } else {
            tally[0] = profile(options, problems, console.out());
        }
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        RunSummary.print(console, tally[0], List.of(), output.quiet());
        console.say(CAUTION);
        return problems.status();
    }

    private ScoringCounts profile(ReadOptions options, ProblemList problems, Appendable out) {
        CsvTableWriter<GripRow> csv = new CsvTableWriter<>(GripColumns.TABLE, out, output.guard());
        ScoringCounts tally = new BatchScorer(reading.catalogue(), options, reading.scoring(), Map.of())
                .score(
                        reading.inputs(files.values()),
                        (row, forms) -> {
                            if (!forms.isEmpty()) {
                                GripProfile.of(forms).forEach(csv::write);
                            }
                        },
                        problems);
        csv.flush();
        return tally;
    }
}
