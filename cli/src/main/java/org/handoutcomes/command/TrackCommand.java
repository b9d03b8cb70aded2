package org.handoutcomes.command;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.output.OutputFile;
import org.handoutcomes.output.OutputFolder;
import org.handoutcomes.output.OutputTable;
import org.handoutcomes.output.ScoreRow;
import org.handoutcomes.output.Tables;
import org.handoutcomes.workbook.ClinicWorkbook;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(
        name = "track",
        description = "The main job: responses and episodes in, the longitudinal workbook out.",
        sortOptions = false)
final class TrackCommand implements Callable<Integer> {
    private final Console console;

    @Parameters(
            paramLabel = "RESPONSES",
            arity = "1..*",
            description = "CSV or XLSX files; FILE.xlsx#Sheet names a sheet.")
    private List<String> files = List.of();

    @Mixin
    private ClinicReading clinic = new ClinicReading();

    @Option(names = "--tables", paramLabel = "DIR", description = "Also write the data sheets as CSV into this folder.")
    private Optional<String> tables = Optional.empty();

    @Option(names = "--timings", description = "Say how long reading, scoring, placing in visits and writing took.")
    private boolean timings;

    @Mixin
    private ReadingOptions reading = new ReadingOptions();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    TrackCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        OutputFile target = output.requiredFile("outcomes.xlsx");
        Optional<OutputFile> problemsFile = output.problemsFile();
        Optional<OutputFolder> folder = tables.map(name -> OutputFolder.at(name, output.overwrite()));
        folder.ifPresent(f ->
                f.refuseExisting(List.of("scores.csv", "change.csv", "follow-up.csv", "grip.csv", "problems.csv")));
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files));
        Timings spent = new Timings(progress);
        ClinicReading.Read read = clinic.read(files, reading, problems, spent);
        progress.stage("writing the workbook");
        target.writeWithScratch((out, scratch) ->
                ClinicWorkbook.write(read.clinic(), problems.all(), read.choice(), read.provenance(), scratch, out));
        folder.ifPresent(f -> writeTables(f, read, problems));
        problems.write(problemsFile, output.guard());
        spent.done(Timings.Stage.WRITE);
        progress.end();
        problems.print(console, output.quiet());
        RunSummary.print(console, read.tally(), read.unusedEpisodeColumns(), output.quiet());
        if (!output.quiet()) {
            console.say(GripCommand.CAUTION);
            console.say("written: " + name(target.target()));
        }
        if (timings) {
            console.say(spent.line());
        }
        return problems.status();
    }

    private static String name(Path path) {
        return String.valueOf(path.getFileName());
    }

    private void writeTables(OutputFolder folder, ClinicReading.Read read, ProblemList problems) {
        table(folder, "scores.csv", Tables.SCORES, () -> read.clinic().scores().stream()
                .map(ScoreRow::of)
                .iterator());
        table(folder, "change.csv", Tables.CHANGE, read.clinic().changes());
        table(folder, "follow-up.csv", Tables.FOLLOW_UP, read.clinic().counts());
        table(folder, "grip.csv", Tables.GRIP, read.clinic().grips());
        table(folder, "problems.csv", Tables.PROBLEMS, problems.all());
    }

    private <R> void table(OutputFolder folder, String name, OutputTable<R> table, Iterable<R> rows) {
        folder.file(name).writeTable(table, rows, output.guard());
    }
}
