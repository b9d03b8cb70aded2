package lumbrical.command;

import java.io.PrintWriter;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.columns.DueCalendar;
import lumbrical.columns.DueColumns;
import lumbrical.followup.CallList;
import lumbrical.followup.CallRow;
import lumbrical.followup.ExpectedForm;
import lumbrical.output.CsvTableWriter;
import lumbrical.output.OutputFile;
import lumbrical.workbook.DueWorkbook;

final class DueCommand implements Command {
    private final Console console;
    private final Positional files = Positional.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final ListOption states = ListOption.of(
            "--state",
            "LIST",
            "Show these states instead: done, incomplete, closed, not-yet, open, late, missed, separated by commas.");
    private final FlagOption all = FlagOption.of("--all", "Show every state.");
    private final TextOption from = TextOption.of("--from", "DATE", "No row with an earlier target day.");
    private final TextOption to = TextOption.of("--to", "DATE", "No row with a later target day.");
    private final TextOption next = TextOption.of("--next", "DAYS", "Also rows that open within so many days.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    DueCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "The call list: who is due (open), late, or sent a form that cannot be scored while there is time to ask.",
                "--out X.xlsx gives a workbook, X.ics a calendar with pseudonyms only, anything else CSV.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(
                        Stream.of(files),
                        clinic.options(),
                        Stream.of(states, all, from, to, next),
                        reading.options(),
                        output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        Optional<OutputFile> target =
                output.file(OutputOptions.Ending.CSV, OutputOptions.Ending.XLSX, OutputOptions.Ending.ICS);
        Optional<OutputFile> problemsFile = output.problemsFile();
        CallList.Selection selection = selection();
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.Read read = clinic.read(files.values(), reading, problems, new Timings(progress));
        progress.end();
        List<CallRow> rows = CallList.of(read.result().followUp(), selection);
        if (target.isPresent()) {
            writeTo(target.get(), read, rows);
        } else {
            write(rows, console.out());
        }
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        return problems.status();
    }

    private CallList.Selection selection() {
        Set<ExpectedForm.State> chosen = EnumSet.noneOf(ExpectedForm.State.class);
        states.values().forEach(word -> chosen.add(state(word)));
        if (all.given()) {
            chosen.addAll(EnumSet.allOf(ExpectedForm.State.class));
        }
        return new CallList.Selection(chosen, day(from, "--from"), day(to, "--to"), next());
    }

    private static ExpectedForm.State state(String word) {
        return Stream.of(ExpectedForm.State.values())
                .filter(state -> state.code().equals(word.strip().toLowerCase(Locale.ROOT)))
                .findFirst()
                .orElseThrow(() -> new UsageException("--state " + word + ": write one of "
                        + Stream.of(ExpectedForm.State.values())
                                .map(ExpectedForm.State::code)
                                .collect(Collectors.joining(", "))
                        + "."));
    }

    private static Optional<LocalDate> day(TextOption option, String name) {
        try {
            return option.value().map(LocalDate::parse);
        } catch (DateTimeException e) {
            throw new UsageException(name + " " + option.value().orElse("") + ": write the date as 2026-03-09.");
        }
    }

    private OptionalInt next() {
        try {
            OptionalInt days = next.value()
                    .map(text -> OptionalInt.of(Integer.parseInt(text)))
                    .orElse(OptionalInt.empty());
            if (days.isEmpty() || days.getAsInt() >= 0) {
                return days;
            }
        } catch (NumberFormatException e) {
            // said below, with the negative ones
        }
        throw new UsageException("--next " + next.value().orElse("") + ": write a whole number of days, such as 14.");
    }

    private void writeTo(OutputFile target, ClinicReading.Read read, List<CallRow> rows) {
        switch (OutputOptions.Ending.of(target)) {
            case XLSX ->
                target.writeWithScratch((out, scratch) ->
                        DueWorkbook.write(read.result().followUp(), rows, read.runRecord(), scratch, out));
            case ICS ->
                target.writeText(out -> new PrintWriter(out)
                        .append(DueCalendar.of(rows, read.result().followUp().asOf()))
                        .flush());
            default -> target.writeText(out -> write(rows, out));
        }
    }

    private void write(List<CallRow> rows, Appendable out) {
        CsvTableWriter<CallRow> csv = new CsvTableWriter<>(DueColumns.TABLE, out, output.guard());
        rows.forEach(csv::write);
        csv.flush();
    }
}
