package lumbrical.clinic;

import java.time.LocalDate;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import lumbrical.batch.BatchScorer;
import lumbrical.catalogue.Catalogue;
import lumbrical.condition.ConditionMatch;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.EpisodeForms;
import lumbrical.followup.EpisodeSink;
import lumbrical.followup.FollowUpAnalysis;
import lumbrical.followup.FollowUpOnDemand;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Schedule;
import lumbrical.instrument.InstrumentId;
import lumbrical.intake.ConditionMapReader;
import lumbrical.intake.EpisodeReader;
import lumbrical.intake.FormEntry;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.ResponseReader;
import lumbrical.intake.ScheduleReader;
import lumbrical.intake.SittingRow;
import lumbrical.intake.ThresholdSelectionReader;
import lumbrical.plausibility.Plausibility;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;
import lumbrical.tabular.InputFile;
import lumbrical.tabular.UnreadableInputException;
import lumbrical.threshold.ThresholdChoice;

/** The whole way from a clinic's files to what is known of its patients: reads, scores, places in time, judges change. */
public final class ClinicAnalysis {
    private final ClinicFiles files;
    private final Catalogue catalogue;
    private final ClinicProgressListener progress;
    private final List<Problem> ofResponses = new ArrayList<>();
    private final List<Problem> others = new ArrayList<>();
    private final List<SittingRow> unanswered = new ArrayList<>();

    private ClinicAnalysis(ClinicFiles files, Catalogue catalogue, ClinicProgressListener progress) {
        this.files = files;
        this.catalogue = catalogue;
        this.progress = progress;
    }

    /**
     * What the files say. A clinic's ordinary mess comes back as problems.
     *
     * @throws UnreadableInputException if a file cannot be read at all, or a choice of thresholds, a map of conditions or a schedule has
     *     a fault
     * @throws ClinicTooLargeException if it cannot be held in memory
     */
    public static ClinicResult analyse(ClinicFiles files, Catalogue catalogue) {
        return analyse(files, catalogue, ClinicProgressListener.NONE);
    }

    /**
     * As {@link #analyse(ClinicFiles, Catalogue)}.
     *
     * @param progress told how far it is
     */
    public static ClinicResult analyse(ClinicFiles files, Catalogue catalogue, ClinicProgressListener progress) {
        return new ClinicAnalysis(files, catalogue, progress)
                .analyse((forms, episodes, schedule, asOf, choice, uses) -> {
                    MemoryNeed.check(forms, Runtime.getRuntime().maxMemory());
                    FollowUpResult held = FollowUpAnalysis.analyse(forms, episodes, schedule, asOf, choice);
                    held.episodes().forEach(uses::accept);
                    return held;
                });
    }

    /**
     * As {@link #analyse(ClinicFiles, Catalogue)}, for a clinic that is too large to be held whole: the episodes go to {@code sink},
     * without their functional-task profiles, and {@link ClinicResult#followUp()} has its counts and problems alone.
     *
     * @param progress told how far it is
     */
    public static ClinicResult analyse(
            ClinicFiles files, Catalogue catalogue, ClinicProgressListener progress, EpisodeSink sink) {
        return new ClinicAnalysis(files, catalogue, progress)
                .analyse((forms, episodes, schedule, asOf, choice, uses) ->
                        FollowUpAnalysis.analyse(forms, episodes, schedule, asOf, choice, uses.before(sink)));
    }

    /**
     * As {@link #analyse(ClinicFiles, Catalogue)}, for a clinic that is too large to be held whole and whose episodes are needed again and
     * again: each is judged whenever its turn comes.
     *
     * @param progress told how far it is
     */
    public static ClinicOnDemand onDemand(ClinicFiles files, Catalogue catalogue, ClinicProgressListener progress) {
        List<FollowUpOnDemand> made = new ArrayList<>(1);
        ClinicResult result = new ClinicAnalysis(files, catalogue, progress)
                .analyse((forms, episodes, schedule, asOf, choice, uses) -> {
                    made.add(FollowUpAnalysis.onDemand(forms, episodes, schedule, asOf, choice, uses));
                    return made.get(0).summary();
                });
        return new ClinicOnDemand(result, made.get(0));
    }

    /** How scores are put in time. */
    private interface Placing {
        /** @param uses must be told of each episode */
        FollowUpResult place(
                List<ScoredForm> forms,
                List<Episode> episodes,
                Schedule schedule,
                LocalDate asOf,
                ThresholdChoice choice,
                ThresholdUses uses);
    }

    private ClinicResult analyse(Placing placing) {
        Schedule schedule = files.schedule()
                .map(s -> ScheduleReader.read(s, files.reading().encoding(), catalogue))
                .orElse(Schedule.DEFAULT);
        ConditionVocabulary vocabulary = files.conditions()
                .map(c -> ConditionMapReader.read(c, files.reading().encoding(), catalogue.conditions()))
                .orElseGet(catalogue::conditions);
        ThresholdChoice choice = files.thresholds()
                .map(t -> ThresholdSelectionReader.read(t, files.reading().encoding(), catalogue, vocabulary))
                .orElseGet(() -> ThresholdChoice.defaults(vocabulary));
        Optional<EpisodeReader.Episodes> table =
                files.episodes().map(e -> EpisodeReader.read(e, catalogue, files.reading()));
        List<Episode> episodes = table.map(EpisodeReader.Episodes::episodes).orElse(List.of());
        Deque<SittingRow> rows = new ArrayDeque<>();
        ReadSummary read = ResponseReader.read(
                files.responses(), catalogue, files.reading(), rows::add, ofResponses::add, progress);
        AskedForms asked = new AskedForms(rows, new EpisodeForms(episodes, schedule));
        BatchScorer scorer = new BatchScorer(catalogue, files.reading(), files.scoring(), asked::asks);
        progress.begins();
        List<ScoredForm> forms = score(rows, scorer);
        progress.ends();
        scorer.tellMemory(ofResponses::add);
        List<String> ofEpisodes = table.map(EpisodeReader.Episodes::headings).orElse(List.of());
        ofResponses.addAll(files.reading().columns().notUsed(read.headings(), ofEpisodes));
        table.ifPresent(t -> others.addAll(t.problems()));
        List<Problem> plausibility = Plausibility.notes(forms);
        ThresholdUses uses = new ThresholdUses();
        FollowUpResult followUp =
                placing.place(forms, episodes, schedule, files.reading().asOf(), choice, uses);
        followUp.problems().stream()
                .filter(p -> table.isPresent() || p.code() == ProblemCode.DUPLICATE_SITTING)
                .forEach(others::add);
        others.addAll(plausibility);
        noteConditions(episodes, vocabulary);
        noteThresholds(uses, choice);
        progress.placed();
        List<InputFile> all = new ArrayList<>(read.files());
        table.ifPresent(t -> all.add(t.file()));
        files.tables()
                .skip(files.episodes().isPresent() ? 1 : 0)
                .map(InputFile::of)
                .forEach(all::add);
        return new ClinicResult(
                followUp,
                scorer.tally(read),
                choice,
                all,
                table.map(EpisodeReader.Episodes::unusedColumns).orElse(List.of()),
                unanswered,
                ofResponses,
                others);
    }

    private List<ScoredForm> score(Deque<SittingRow> rows, BatchScorer scorer) {
        List<ScoredForm> forms = new ArrayList<>(rows.size());
        for (SittingRow row = rows.poll(); row != null; row = rows.poll()) {
            List<ScoredForm> scored = scorer.scoreSitting(row);
            if (scored.stream().allMatch(f -> f.responses().blank())) {
                unanswered.add(row);
            }
            scored.stream()
                    .filter(f -> !f.responses().blank() || !f.results().isEmpty())
                    .forEach(forms::add);
        }
        return forms;
    }

    /** Which blank forms an episode asks for; one that lies in another row of the same sitting is not missing. */
    private static final class AskedForms {
        private final EpisodeForms episodeForms;
        private final Map<Sitting.Key, Set<InstrumentId>> there = new HashMap<>();

        AskedForms(Iterable<SittingRow> rows, EpisodeForms episodeForms) {
            this.episodeForms = episodeForms;
            if (episodeForms.askForNone()) {
                return;
            }
            for (SittingRow row : rows) {
                Set<InstrumentId> forms = of(row.sitting());
                for (FormEntry form : row.forms()) {
                    if (!form.responses().blank()) {
                        forms.add(form.instrument().id());
                    }
                }
            }
        }

        /** Asked once a sitting, however many rows leave it blank. */
        boolean asks(Sitting sitting, InstrumentId instrument) {
            return episodeForms.of(sitting).contains(instrument) && of(sitting).add(instrument);
        }

        private Set<InstrumentId> of(Sitting sitting) {
            return there.computeIfAbsent(sitting.key(), k -> new HashSet<>(4));
        }
    }

    private void noteConditions(List<Episode> episodes, ConditionVocabulary vocabulary) {
        Set<EpisodeCondition> said = new HashSet<>();
        for (Episode episode : episodes) {
            episode.condition().filter(text -> !text.isBlank()).ifPresent(text -> {
                ConditionMatch match = vocabulary.match(text);
                if (match.found().isEmpty() && said.add(vocabulary.resolve(Optional.of(text)))) {
                    others.add(new Problem(
                                    episode.place().in("condition"),
                                    "",
                                    ProblemCode.NOTE_CONDITION_NOT_KNOWN,
                                    "This is not one of the known conditions. Its episodes form a group of their own and get"
                                            + " the general thresholds." + ConditionMapReader.hint(match))
                            .mendedBy(Remedy.of(Remedy.Kind.MAP_CONDITIONS)));
                }
            });
        }
    }

    /** Which thresholds the episodes could use. */
    private static final class ThresholdUses implements EpisodeSink {
        private final Set<EpisodeCondition> conditions = new LinkedHashSet<>();
        private final Set<ThresholdChoice.Use> uses = new LinkedHashSet<>();

        @Override
        public void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
            // what counts comes with each episode
        }

        @Override
        public void accept(EpisodeFollowUp episode) {
            conditions.add(episode.condition());
            episode.series()
                    .forEach(s ->
                            uses.add(new ThresholdChoice.Use(s.instrument().id().value(), episode.condition())));
        }

        /** Takes each episode, then hands it on. */
        EpisodeSink before(EpisodeSink next) {
            return new EpisodeSink() {
                @Override
                public void begins(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
                    next.begins(episodes, schedule, asOf, choice);
                }

                @Override
                public void accept(EpisodeFollowUp episode) {
                    ThresholdUses.this.accept(episode);
                    next.accept(episode);
                }
            };
        }
    }

    private void noteThresholds(ThresholdUses used, ThresholdChoice choice) {
        Optional<Input> file = files.thresholds();
        if (file.isEmpty()) {
            return;
        }
        List<ThresholdChoice.Fault> strange = choice.strangeConditions(List.copyOf(used.conditions));
        if (!strange.isEmpty()) {
            throw ThresholdSelectionReader.faults(file.get(), strange);
        }
        choice.unusedRows(used.uses)
                .forEach(row -> others.add(new Problem(
                        Place.of(row.where()),
                        "",
                        ProblemCode.NOTE_THRESHOLD_NOT_USED,
                        "No episode uses this row: none has a " + row.instrument()
                                + (row.condition().isBlank() ? "" : " and the condition " + row.condition()) + ".")));
    }
}
