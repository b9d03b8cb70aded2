package org.handoutcomes.command;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import org.handoutcomes.followup.DueForm;
import org.handoutcomes.output.CsvTableWriter;
import org.handoutcomes.output.DueCalendar;
import org.handoutcomes.output.OutputFile;
import org.handoutcomes.output.Tables;
import org.handoutcomes.workbook.DueWorkbook;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

@Command(name = "due", description = "Who is due, overdue or out of window.", sortOptions = false)
final class DueCommand implements Callable<Integer> {
    private final Console console;

    @Parameters(paramLabel = "RESPONSES", arity = "1..*", description = "CSV or XLSX files.")
    private List<String> files = List.of();

    @Mixin
    private ClinicReading clinic = new ClinicReading();

    @Mixin
    private ReadingOptions reading = new ReadingOptions();

    @Mixin
    private OutputOptions output = new OutputOptions();

    @Option(names = "--help", usageHelp = true, description = "Show this help.")
    private boolean help;

    @Option(
            names = "--calendar",
            paramLabel = "X.ics",
            description =
                    "Also write an iCalendar file (RFC 5545) with the windows of forms still to come; pseudonyms only.")
    private Optional<String> calendar = Optional.empty();

    DueCommand(Console console) {
        this.console = console;
    }

    @Override
    public Integer call() {
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Optional<OutputFile> calendarFile = calendar.map(name -> output.further("--calendar", name));
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files));
        ClinicReading.Read read = clinic.read(files, reading, problems, new Timings(progress));
        progress.end();
        if (target.isPresent()) {
            writeTo(target.get(), read);
        } else if (calendarFile.isEmpty()) {
            write(read, console.out());
        }
        calendarFile.ifPresent(file -> file.writeText(out -> new PrintWriter(out)
                .append(DueCalendar.of(read.clinic().due(), read.clinic().asOf()))
                .flush()));
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        RunSummary.print(console, read.tally(), read.unusedEpisodeColumns(), output.quiet());
        return problems.status();
    }

    private void writeTo(OutputFile target, ClinicReading.Read read) {
        if (OutputOptions.isWorkbook(target)) {
            target.writeWithScratch(
                    (out, scratch) -> DueWorkbook.write(read.clinic(), read.provenance(), scratch, out));
        } else {
            target.writeText(out -> write(read, out));
        }
    }

    private void write(ClinicReading.Read read, Appendable out) {
        CsvTableWriter<DueForm> csv = new CsvTableWriter<>(Tables.DUE, out, output.guard());
        read.clinic().due().forEach(csv::write);
        csv.flush();
    }
}
