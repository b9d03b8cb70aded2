package lumbrical.command;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.columns.GripColumns;
import lumbrical.grip.GripRow;
import lumbrical.output.OutputFile;

final class GripCommand implements Command {
    static final String CAUTION = "Grip tasks are descriptive: not a validated scale, no MCID.";

    private final Console console;
    private final Positional files = Positional.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final TextOption patient = TextOption.of("--patient", "P", "Only this patient (default: all).");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    GripCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "The functional-task profile: how hard key, pinch, precision, power, hook and cylindrical grip are.",
                "With --episodes also at which visit.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(Stream.of(files), clinic.options(), Stream.of(patient), reading.options(), output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.table();
        Optional<OutputFile> problemsFile = output.problemsFile();
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.Read read =
                clinic.readIfNamed(files.values(), reading, List.of(), problems, new Timings(progress));
        progress.end();
        List<GripRow> rows = read.result().followUp().grips().stream()
                .filter(row -> patient.value()
                        .filter(id -> !id.equals(row.sitting().patient()))
                        .isEmpty())
                .toList();
        TableOutput.write(target, GripColumns.TABLE, rows, output, console);
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        console.say(CAUTION);
        return problems.status();
    }
}
