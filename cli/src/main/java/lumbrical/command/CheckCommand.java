package lumbrical.command;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.Schedule;
import lumbrical.intake.ColumnSuggestions;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ScheduleReader;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputFile;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.plausibility.Plausibility;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import lumbrical.tabular.InputFile;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.workbook.ProblemsWorkbook;
import lumbrical.workbook.RunRecord;

final class CheckCommand implements Command {
    private static final OutputTable<ColumnSuggestions.Guess> GUESSES = new OutputTable<>(
            "Columns",
            List.of(
                    new OutputColumn<>("heading", "Your heading", OutputColumn.Kind.TEXT, g -> Value.text(g.heading())),
                    new OutputColumn<>("column", "Our column", OutputColumn.Kind.TEXT, g -> Value.word(g.column())),
                    new OutputColumn<>(
                            "review",
                            "To be reviewed",
                            OutputColumn.Kind.TEXT,
                            g -> Value.word("guessed, to review"))));

    private final Console console;
    private final Word.Arguments files = Word.Arguments.responses();
    private final Word.Text episodes = Word.Text.read("--episodes", "E", "The table of episodes.");
    private final Word.Text schedule = Word.Text.read("--schedule", "S", "The visits (default: a common schedule).");
    private final Word.Text suggest = Word.Text.written(
            "--suggest-columns",
            "MAP.csv",
            "Only write a first mapping of headings that can be guessed, for you to review and give to --columns.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    CheckCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of("Reports problems in the files; writes no scores.");
    }

    @Override
    public Stream<Word> words() {
        return Stream.of(Stream.of(files, episodes, schedule, suggest), reading.words(), output.words())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        if (suggest.value().isPresent()) {
            return suggestColumns(output.at(suggest.value().get()));
        }
        Optional<OutputFile> target = output.file();
        Optional<OutputFile> problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        ReadOptions options = reading.reading(List.of());
        ProblemList problems = new ProblemList();
        Optional<Schedule> visits =
                schedule.value().map(s -> ScheduleReader.read(Input.parse(s, Optional.empty()), catalogue));
        Optional<EpisodeReader.Episodes> read =
                episodes.value().map(e -> EpisodeReader.read(Input.parse(e, Optional.empty()), catalogue, options));
        List<ScoredForm> forms = new ArrayList<>();
        ScoringCounts tally = new BatchScorer(
                        catalogue,
                        options,
                        reading.scoring(),
                        read.map(r -> BatchScorer.expectedOf(r.episodes())).orElse(Map.of()))
                .score(reading.inputs(files.values()), (row, scored) -> forms.addAll(scored), problems);
        read.ifPresent(r -> r.problems().forEach(problems));
        lookInTime(forms, read, visits.orElse(Schedule.DEFAULT), options, problems);
        List<InputFile> filesRead = new ArrayList<>(tally.read().files());
        read.ifPresent(r -> filesRead.add(r.file()));
        Plausibility.notes(forms).forEach(problems);
        target.ifPresent(t -> writeTo(
                t,
                problems,
                options,
                new RunRecord(Main.VERSION, filesRead, reading.shaping(), tally.reconciliation())));
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        RunSummary.print(
                console, tally, read.map(EpisodeReader.Episodes::unusedColumns).orElse(List.of()), output.quiet());
        summary(problems);
        return problems.status();
    }

    private int suggestColumns(OutputFile target) {
        List<ColumnSuggestions.Guess> guesses = new ArrayList<>();
        for (Input input : reading.inputs(files.values())) {
            ColumnSuggestions.Suggestions found =
                    ColumnSuggestions.of(input, reading.reading(List.of()).encoding(), reading.catalogue());
            found.guesses().stream().filter(g -> !guesses.contains(g)).forEach(guesses::add);
            console.say(input.name() + ": headings known " + found.known().size() + ", guessed "
                    + found.guesses().size() + ", without a guess "
                    + found.unknown().size()
                    + (found.unknown().isEmpty() ? "" : ": " + String.join(", ", found.unknown())));
        }
        target.writeTable(GUESSES, guesses, output.guard());
        console.say("Review every row of the mapping against your form before you use it with --columns.");
        return ExitStatus.DONE;
    }

    /** A workbook with a summary and every place, or CSV, as the file's name says. */
    private void writeTo(OutputFile target, ProblemList problems, ReadOptions options, RunRecord provenance) {
        if (OutputOptions.isWorkbook(target)) {
            target.writeWithScratch(
                    (out, scratch) -> ProblemsWorkbook.write(problems.all(), options.asOf(), provenance, scratch, out));
        } else {
            problems.write(Optional.of(target), output.guard());
        }
    }

    /** Without episodes only doubles are looked for; with them, everything in time. */
    private static void lookInTime(
            List<ScoredForm> forms,
            Optional<EpisodeReader.Episodes> episodes,
            Schedule schedule,
            ReadOptions options,
            ProblemList problems) {
        FollowUpAnalysis.look(
                        forms,
                        episodes.map(EpisodeReader.Episodes::episodes).orElse(List.of()),
                        schedule,
                        options.asOf(),
                        ThresholdChoice.DEFAULTS)
                .problems()
                .stream()
                .filter(p -> episodes.isPresent() || p.code() == ProblemCode.DUPLICATE_SITTING)
                .forEach(problems);
    }

    private void summary(ProblemList problems) {
        Map<String, Integer> byCode = new HashMap<>();
        problems.all().forEach(p -> byCode.merge(p.code().code(), 1, Integer::sum));
        if (!output.quiet()) {
            byCode.keySet().stream().sorted().forEach(code -> console.say("  " + code + ": " + byCode.get(code)));
        }
    }
}
