package lumbrical.command;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.columns.ChangeColumns;
import lumbrical.columns.FollowUpColumns;
import lumbrical.columns.GripColumns;
import lumbrical.columns.ProblemColumns;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.followup.FollowUpResult;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputFolder;
import lumbrical.workbook.ClinicWorkbook;

final class TrackCommand implements Command {
    private static final List<String> TABLE_FILES =
            List.of("scores.csv", "change.csv", "follow-up.csv", "grip.csv", "problems.csv");

    private final Console console;
    private final Positional files = Positional.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final TextOption tables =
            TextOption.of("--tables", "DIR", "Also write the data sheets as CSV into this folder.");
    private final FlagOption timings =
            FlagOption.of("--timings", "Say how long reading, scoring, placing in visits and writing took.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    TrackCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of("The main job: responses and episodes in, the longitudinal workbook out.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(
                        Stream.of(files),
                        clinic.options(),
                        Stream.of(tables, timings),
                        reading.options(),
                        output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        OutputFile target = output.requiredWorkbook("outcomes.xlsx");
        Optional<OutputFile> problemsFile = output.problemsFile();
        Optional<OutputFolder> folder = tables.value().map(name -> OutputFolder.at(name, output.overwrite()));
        folder.ifPresent(f -> {
            f.refuseExisting(TableFiles.names(TABLE_FILES));
            NamedFiles.refuseLoss(
                    options().toList(),
                    tables,
                    TableFiles.names(TABLE_FILES).stream()
                            .map(f.path()::resolve)
                            .toList());
        });
        if (!NamedFiles.readWorkbook(options().toList())) {
            ClinicWorkbook.prepare();
        }
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        Timings spent = new Timings(progress);
        ClinicReading.Read read = clinic.read(files.values(), reading, problems, spent);
        progress.stage("writing the workbook");
        target.writeWithScratch((out, scratch) -> ClinicWorkbook.write(
                read.result().followUp(), problems.all(), read.result().choice(), read.runRecord(), scratch, out));
        folder.ifPresent(f -> writeTables(f, read, problems));
        problems.write(problemsFile, output);
        spent.done(Timings.Stage.WRITE);
        progress.end();
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        if (!output.quiet()) {
            console.say(GripCommand.CAUTION);
            console.say("written: " + name(target.target()));
        }
        if (timings.given()) {
            console.say(spent.line());
        }
        return problems.status();
    }

    private static String name(Path path) {
        return String.valueOf(path.getFileName());
    }

    private void writeTables(OutputFolder folder, ClinicReading.Read read, ProblemList problems) {
        FollowUpResult clinic = read.result().followUp();
        TableFiles files = new TableFiles(folder, output.guard());
        files.write("scores.csv", ScoreColumns.TABLE, () -> clinic.forms().stream()
                .flatMap(ScoreRow::of)
                .iterator());
        files.write("change.csv", ChangeColumns.TABLE, () -> clinic.changes().iterator());
        files.write("follow-up.csv", FollowUpColumns.TABLE, clinic.counts());
        files.write("grip.csv", GripColumns.TABLE, clinic.grips());
        files.write("problems.csv", ProblemColumns.TABLE, problems.all());
        files.describe();
    }
}
