package lumbrical.command;

import java.io.PrintWriter;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.columns.DueCalendar;
import lumbrical.columns.DueColumns;
import lumbrical.followup.ExpectedForm;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputFile;
import lumbrical.workbook.DueWorkbook;

final class DueCommand implements Command {
    private final Console console;
    private final Word.Arguments files = Word.Arguments.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();
    private final Word.Text calendar = Word.Text.written(
            "--calendar",
            "X.ics",
            "Also write an iCalendar file (RFC 5545) with the windows of forms still to come; pseudonyms only.");

    DueCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of("Who is due, overdue or out of window.");
    }

    @Override
    public Stream<Word> words() {
        return Stream.of(Stream.of(files), clinic.words(), reading.words(), output.words(), Stream.of(calendar))
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Optional<OutputFile> calendarFile = calendar.value().map(output::at);
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.Read read = clinic.read(files.values(), reading, problems, new Timings(progress));
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
        CsvTableWriter<ExpectedForm> csv = new CsvTableWriter<>(DueColumns.TABLE, out, output.guard());
        read.clinic().due().forEach(csv::write);
        csv.flush();
    }
}
