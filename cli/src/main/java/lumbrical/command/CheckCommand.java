package lumbrical.command;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.intake.ColumnSuggestions;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.workbook.ProblemsWorkbook;

final class CheckCommand implements Command {
    private static final OutputTable<ColumnSuggestions.Guess> GUESSES = new OutputTable<>(
            "Columns",
            List.of(
                    new OutputColumn<>("heading", "Your heading", OutputColumn.Kind.TEXT, g -> Value.text(g.heading())),
                    new OutputColumn<>("column", "Our column", OutputColumn.Kind.TEXT, g -> Value.word(g.column())),
                    new OutputColumn<>(
                            "review",
                            "known, guessed or to fill in",
                            OutputColumn.Kind.TEXT,
                            g -> Value.word(g.state().words()))));

    private final Console console;
    private final Positional files = Positional.responses();
    private final ClinicReading clinic = new ClinicReading();
    private final TextOption suggest = TextOption.written(
            "--suggest-columns",
            "MAP.csv",
            "Only list the headings of the files, with the columns that can be guessed; fill in the others and give"
                    + " it to --columns.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    CheckCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "Reports problems in the files; writes no scores.",
                "--out FILE.xlsx gives a workbook with a summary and every place, --out FILE.csv the list alone.");
    }

    @Override
    public Stream<CliOption> options() {
        return Stream.of(Stream.of(files), clinic.options(), Stream.of(suggest), reading.options(), output.options())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        if (suggest.value().isPresent()) {
            return suggestColumns(output.at(
                    suggest.value().get(), "--suggest-columns", OutputOptions.Ending.CSV, OutputOptions.Ending.XLSX));
        }
        Optional<OutputFile> target = output.table();
        Optional<OutputFile> problemsFile = output.problemsFile();
        ProblemList problems = new ProblemList();
        Progress progress = new Progress(console, reading.inputs(files.values()));
        ClinicReading.Read read =
                clinic.readIfNamed(files.values(), reading, List.of(), problems, new Timings(progress));
        progress.end();
        target.ifPresent(t -> writeTo(t, problems, read));
        problems.write(problemsFile, output);
        problems.print(console, output.quiet());
        RunSummary.print(console, read.result(), output.quiet());
        summary(problems);
        return problems.status();
    }

    private int suggestColumns(OutputFile target) {
        List<ColumnSuggestions.Guess> guesses = new ArrayList<>();
        for (Input input : reading.inputs(files.values())) {
            ColumnSuggestions.Suggestions found =
                    ColumnSuggestions.of(input, reading.readOptions(List.of()).encoding(), reading.catalogue());
            found.headings().stream().filter(g -> !guesses.contains(g)).forEach(guesses::add);
            console.say(input.name()
                    + found.sheet()
                            .map(s -> ", sheet '" + Cells.printable(s) + "'")
                            .orElse("")
                    + ": headings known "
                    + found.in(ColumnSuggestions.State.KNOWN).size() + ", guessed "
                    + found.in(ColumnSuggestions.State.GUESSED).size() + ", to fill in "
                    + found.in(ColumnSuggestions.State.TO_FILL_IN).size());
        }
        TableOutput.write(target, GUESSES, guesses, output);
        console.say(
                "Review every row against your form, fill in what is blank, and give the file back with --columns.");
        return ExitStatus.DONE;
    }

    /** A workbook with a summary and every place, or CSV, as the file's name says. */
    private void writeTo(OutputFile target, ProblemList problems, ClinicReading.Read read) {
        if (OutputOptions.isWorkbook(target)) {
            target.writeWithScratch((out, scratch) -> ProblemsWorkbook.write(
                    problems.all(), read.result().followUp().asOf(), read.runRecord(), scratch, out));
        } else {
            problems.write(Optional.of(target), output);
        }
    }

    private void summary(ProblemList problems) {
        Map<String, Integer> byCode = new HashMap<>();
        problems.all().forEach(p -> byCode.merge(p.code().code(), 1, Integer::sum));
        if (!output.quiet()) {
            byCode.keySet().stream().sorted().forEach(code -> console.say("  " + code + ": " + byCode.get(code)));
        }
    }
}
