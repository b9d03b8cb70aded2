package org.handoutcomes.command;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.batch.BatchScorer;
import org.handoutcomes.batch.Tally;
import org.handoutcomes.grip.GripProfile;
import org.handoutcomes.grip.GripRow;
import org.handoutcomes.output.CsvTableWriter;
import org.handoutcomes.output.OutputFile;
import org.handoutcomes.output.Tables;
import org.handoutcomes.table.ReadOptions;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(
        name = "grip",
        description =
                "The functional-task profile: how hard key, pinch, precision, power, hook and cylindrical grip are.",
        sortOptions = false)
final class GripCommand implements Callable<Integer> {
    static final String CAUTION = "Grip tasks are descriptive: not a validated scale, no MCID.";

    private final Console console;

    @Parameters(paramLabel = "RESPONSES", arity = "1..*", description = "CSV or XLSX files.")
    private List<String> files = List.of();

    @Mixin
    private ReadingOptions reading = new ReadingOptions();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    GripCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        ReadOptions options = reading.reading(List.of());
        ProblemList problems = new ProblemList();
        Tally[] tally = new Tally[1];
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

    private Tally profile(ReadOptions options, ProblemList problems, Appendable out) {
        CsvTableWriter<GripRow> csv = new CsvTableWriter<>(Tables.GRIP, out, output.guard());
        Tally tally = new BatchScorer(reading.catalogue(), options, reading.scoring(), Map.of())
                .score(
                        reading.inputs(files),
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
