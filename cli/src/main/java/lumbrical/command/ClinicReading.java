package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ScheduleReader;
import lumbrical.intake.SittingRow;
import lumbrical.intake.ThresholdSelectionReader;
import lumbrical.plausibility.Plausibility;
import lumbrical.problem.Problem;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import lumbrical.tabular.InputFile;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.workbook.RunRecord;

/** Options and reading of every command that looks at episodes. */
final class ClinicReading {
    private final Word.Text episodes = Word.Text.read("--episodes", "E", "The table of episodes (needed).");
    private final Word.Text schedule = Word.Text.read("--schedule", "S", "The visits (default: a common schedule).");
    private final Word.Text thresholds = Word.Text.read(
            "--thresholds", "CHOICE.csv", "Your choice of thresholds: instrument,scale,condition,threshold_id.");
    private final Word.Texts carry =
            Word.Texts.of("--carry", "COLUMN", "Columns of the episodes to take along, separated by commas.");

    Stream<Word> words() {
        return Stream.of(episodes, schedule, thresholds, carry);
    }

    /** All that was read and found. */
    record Read(
            Catalogue catalogue,
            FollowUpResult clinic,
            ScoringCounts tally,
            ThresholdChoice choice,
            List<InputFile> files,
            List<String> unusedEpisodeColumns,
            List<String> options) {
        /** Where an output comes from. */
        RunRecord provenance() {
            return new RunRecord(Main.VERSION, files, options, tally.reconciliation());
        }
    }

    /** The table of episodes. */
    Input episodes() {
        return episodes.value()
                .filter(name -> !name.isEmpty())
                .map(name -> Input.parse(name, Optional.empty()))
                .orElseThrow(() -> new UsageException(
                        "--episodes is missing. Name the table of episodes, such as --episodes episodes.csv."));
    }

    Read read(List<String> files, ReadingOptions reading, ProblemList problems, Timings timings) {
        return read(files, reading, List.of(), row -> {}, problems, problems, timings);
    }

    /**
     * Reads all that a command needs to look at a clinic.
     *
     * @param alsoCarry columns of the episodes to take along besides those that the user asked for
     * @param unanswered takes each sitting without any answer
     * @param ofResponses takes what is told of the responses
     * @param problems takes everything else that is told
     * @param timings told how far it is, and where the time goes
     */
    Read read(
            List<String> files,
            ReadingOptions reading,
            List<String> alsoCarry,
            Consumer<SittingRow> unanswered,
            Consumer<Problem> ofResponses,
            Consumer<Problem> problems,
            Timings timings) {
        Input table = episodes();
        Catalogue catalogue = reading.catalogue();
        List<String> taken = new ArrayList<>(carry.values());
        taken.addAll(alsoCarry);
        ReadOptions options = reading.reading(taken);
        Schedule visits = schedule.value()
                .map(s -> ScheduleReader.read(Input.parse(s, Optional.empty()), catalogue))
                .orElse(Schedule.DEFAULT);
        ThresholdChoice choice = thresholds
                .value()
                .map(f -> ThresholdSelectionReader.read(Input.parse(f, Optional.empty()), catalogue))
                .orElse(ThresholdChoice.DEFAULTS);
        EpisodeReader.Episodes read = EpisodeReader.read(table, catalogue, options);
        List<ScoredForm> forms = new ArrayList<>();
        ScoringCounts tally = new BatchScorer(
                        catalogue, options, reading.scoring(), BatchScorer.expectedOf(read.episodes()))
                .score(
                        reading.inputs(files),
                        (row, scored) -> {
                            if (scored.stream().allMatch(f -> f.responses().blank())) {
                                unanswered.accept(row);
                            }
                            scored.stream()
                                    .filter(f -> !f.responses().blank()
                                            || !f.results().isEmpty())
                                    .forEach(forms::add);
                        },
                        ofResponses,
                        timings);
        timings.done(Timings.Stage.READ);
        read.problems().forEach(problems);
        FollowUpResult clinic = FollowUpAnalysis.look(forms, read.episodes(), visits, options.asOf(), choice);
        clinic.problems().forEach(problems);
        Plausibility.notes(forms).forEach(problems);
        timings.done(Timings.Stage.PLACE);
        List<InputFile> all = new ArrayList<>(tally.read().files());
        all.add(read.file());
        schedule.value().ifPresent(s -> all.add(InputFile.of(Input.parse(s, Optional.empty()))));
        thresholds.value().ifPresent(s -> all.add(InputFile.of(Input.parse(s, Optional.empty()))));
        List<String> words = new ArrayList<>(reading.shaping());
        if (!carry.values().isEmpty()) {
            words.add("--carry " + String.join(",", carry.values()));
        }
        return new Read(catalogue, clinic, tally, choice, all, read.unusedColumns(), words);
    }
}
