package lumbrical.command;

import java.io.PrintWriter;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.ChangeColumns;
import lumbrical.followup.Change;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ScheduleReader;
import lumbrical.intake.ThresholdSelectionReader;
import lumbrical.output.Numbers;
import lumbrical.scoring.Explanation;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import lumbrical.threshold.Reached;
import lumbrical.threshold.ThresholdChoice;

final class ExplainCommand implements Command {
    private final Console console;
    private final Word.Arguments instrumentId = Word.Arguments.of("INSTRUMENT", "0", "1", "Instrument id.");
    private final Word.Arguments files = Word.Arguments.read("RESPONSES", "1..*", "1..*", "CSV or XLSX files.");
    private final Word.Text patientId = Word.Text.required("--patient", "P", "The patient's id.");
    private final Word.Text on = Word.Text.of("--on", "DATE", "Day of the sitting (default: every sitting).");
    private final Word.Text episodes =
            Word.Text.read("--episodes", "E", "The table of episodes: also explains changes.");
    private final Word.Text schedule = Word.Text.read("--schedule", "S", "The visits (default: a common schedule).");
    private final Word.Text thresholds = Word.Text.read("--thresholds", "CHOICE.csv", "Your choice of thresholds.");
    private final ReadingOptions reading = new ReadingOptions();
    private final OutputOptions output = new OutputOptions();

    ExplainCommand(Console console) {
        this.console = console;
    }

    @Override
    public List<String> description() {
        return List.of(
                "The arithmetic of a patient's scores, step by step, with its source; with --episodes also of the change.");
    }

    @Override
    public Stream<Word> words() {
        return Stream.of(
                        Stream.of(instrumentId, files, patientId, on, episodes, schedule, thresholds),
                        reading.words(),
                        output.words())
                .flatMap(Function.identity());
    }

    @Override
    public int call() {
        var target = output.file();
        var problemsFile = output.problemsFile();
        Catalogue catalogue = reading.catalogue();
        Instrument instrument = InstrumentsCommand.find(catalogue, instrumentId.value());
        ReadOptions options = reading.reading(List.of());
        String patient = patientId.value().orElseThrow();
        Optional<LocalDate> day = on.value().map(ExplainCommand::day);
        ProblemList problems = new ProblemList();
        List<ScoredForm> forms = new ArrayList<>();
        ScoringCounts tally = new BatchScorer(catalogue, options, reading.scoring(), Map.of())
                .score(
                        reading.inputs(files.values()),
                        (row, scored) -> scored.stream()
                                .filter(f -> f.sitting().patient().equals(patient))
                                .filter(f -> f.instrument() == instrument
                                        && !f.responses().blank())
                                .forEach(forms::add),
                        problems);
        List<ScoredForm> wanted = forms.stream()
                .filter(f -> day.isEmpty() || f.sitting().completedOn().equals(day.get()))
                .toList();
        if (wanted.isEmpty()) {
            throw new UsageException("No " + instrument.id() + " of patient " + patient
                    + day.map(d -> " on " + d).orElse("")
                    + " in these files. Check id and date; the patient's sittings are: "
                    + forms.stream()
                            .map(f -> f.sitting().completedOn().toString())
                            .toList() + ".");
        }
        List<String> lines = new ArrayList<>();
        for (ScoredForm form : wanted) {
            explain(form, instrument, lines);
        }
        episodes.value().ifPresent(e -> explainChanges(e, forms, catalogue, options, day, lines));
        lines.add("Scores support and never replace clinical judgement.");
        if (target.isPresent()) {
            target.get().writeText(out -> print(lines, new PrintWriter(out)));
        } else {
            print(lines, console.out());
        }
        problems.write(problemsFile, output.guard());
        problems.print(console, output.quiet());
        RunSummary.print(console, tally, List.of(), output.quiet());
        return problems.status();
    }

    private static LocalDate day(String text) {
        try {
            return LocalDate.parse(text);
        } catch (DateTimeException e) {
            throw new UsageException("--on " + text + ": write the date as 2026-03-09.");
        }
    }

    private static void print(List<String> lines, PrintWriter out) {
        lines.forEach(out::println);
        out.flush();
    }

    private void explain(ScoredForm form, Instrument instrument, List<String> lines) {
        lines.add("Patient " + form.sitting().patient() + ", " + form.sitting().completedOn()
                + form.sitting().side().map(s -> ", side " + s.code()).orElse("") + " ("
                + form.sitting().place() + ")");
        ScoringPlan plan = ScoringPlan.of(instrument, reading.scoring());
        List<Explanation> explanations =
                Explanation.of(plan, form.responses(), form.sitting().side());
        if (explanations.isEmpty()) {
            lines.add("  no scale: read item by item");
        }
        explanations.forEach(e -> lines.addAll(e.lines()));
        instrument.facts().notes().forEach(n -> lines.add("  note: " + n));
        lines.add("");
    }

    private void explainChanges(
            String episodeFile,
            List<ScoredForm> forms,
            Catalogue catalogue,
            ReadOptions options,
            Optional<LocalDate> day,
            List<String> lines) {
        Schedule visits = schedule.value()
                .map(s -> ScheduleReader.read(Input.parse(s, Optional.empty()), catalogue))
                .orElse(Schedule.DEFAULT);
        ThresholdChoice choice = thresholds
                .value()
                .map(f -> ThresholdSelectionReader.read(Input.parse(f, Optional.empty()), catalogue))
                .orElse(ThresholdChoice.DEFAULTS);
        EpisodeReader.Episodes read =
                EpisodeReader.read(Input.parse(episodeFile, Optional.empty()), catalogue, options);
        FollowUpResult clinic = FollowUpAnalysis.look(forms, read.episodes(), visits, options.asOf(), choice);
        clinic.changes().stream()
                .filter(c -> day.isEmpty()
                        || c.followUp().form().sitting().completedOn().equals(day.get()))
                .forEach(c -> lines.addAll(ChangeWords.of(c)));
    }

    /** A change in words. */
    static final class ChangeWords {
        private ChangeWords() {}

        static List<String> of(Change change) {
            List<String> lines = new ArrayList<>();
            var follow = change.followUp();
            Instrument instrument = follow.form().instrument();
            lines.add("Change of " + instrument.definition() + " "
                    + follow.scale().id() + ", episode "
                    + follow.placement().orElseThrow().episode().id() + ", visit "
                    + follow.visitName().orElse("none") + " (day "
                    + follow.placement().orElseThrow().day().orElseThrow() + ")"
                    + (change.used() ? "" : ", not the sitting that counts in its window"));
            lines.add("  baseline "
                    + change.baseline()
                            .map(b -> b.form().sitting().completedOn() + ": "
                                    + Numbers.format(change.baselineScore().orElseThrow())
                                    + bounds(b.result().bounds()))
                            .orElse("none"));
            lines.add("  follow-up " + follow.form().sitting().completedOn() + ": "
                    + follow.result()
                            .scored()
                            .map(s -> Numbers.format(s.value()))
                            .orElse("no score")
                    + bounds(follow.result().bounds()));
            if (change.improvement().isPresent()) {
                String direction = follow.scale().better().code();
                lines.add("  change " + Numbers.format(change.change().orElseThrow()) + "; " + direction
                        + " is better, so the improvement is "
                        + Numbers.format(change.improvement().getAsDouble())
                        + bounds(change.improvementBounds()));
                for (Threshold t : instrument.thresholds()) {
                    against(t, change).ifPresent(lines::add);
                }
            }
            lines.add("  used: MCID " + used(change.mcid()) + "; MDC " + used(change.mdc()));
            follow.scale().defaults().ifPresent(d -> lines.add("  why these by default: " + d.reason()));
            lines.add("  verdict: " + change.verdict().code()
                    + change.whyNotAssessable().map(w -> " (" + w + ")").orElse("")
                    + change.certain()
                            .map(c -> c ? ", certain" : ", not certain: unanswered items could turn it")
                            .orElse("")
                    + change.couldReach()
                            .filter(c -> !c)
                            .map(c -> "; the baseline left no room for the MCID")
                            .orElse("")
                    + change.mcidMet()
                            .map(m -> "; reaches " + m.met() + " of " + m.published() + " published MCIDs")
                            .orElse(""));
            change.acceptableState()
                    .ifPresent(a ->
                            lines.add("  acceptable state: " + (a ? "yes" : "no") + ", by " + used(change.pass())));
            lines.add("");
            return lines;
        }

        private static String used(Optional<Threshold> threshold) {
            return threshold
                    .map(t -> Numbers.format(t.value().orElseThrow()) + ", " + ChangeColumns.cite(t))
                    .orElse("none known");
        }

        private static String bounds(Optional<Range> bounds) {
            return bounds.filter(b -> b.width() > 0)
                    .map(b -> " (possible " + Numbers.format(b.low()) + " to " + Numbers.format(b.high()) + ")")
                    .orElse("");
        }

        private static Optional<String> against(Threshold t, Change change) {
            boolean ofChange = t.kind() == Threshold.Kind.MCID || t.kind() == Threshold.Kind.MDC;
            if (!ofChange
                    || !t.offered()
                    || t.value().isEmpty()
                    || !t.scale().equals(change.followUp().scale().id())) {
                return Optional.empty();
            }
            double value = t.value().getAsDouble();
            double improvement = change.improvement().orElseThrow();
            String met = Reached.atLeast(improvement, value)
                    ? "reached"
                    : Reached.atLeast(-improvement, value) ? "reached as worsening" : "not reached";
            return Optional.of(
                    "    " + t.kind().code() + " " + Numbers.format(value) + " " + met + ": " + ChangeColumns.cite(t));
        }
    }
}
