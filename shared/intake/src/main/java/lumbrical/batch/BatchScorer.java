package lumbrical.batch;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.function.BiPredicate;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Standing;
import lumbrical.intake.FormEntry;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.ResponseReader;
import lumbrical.intake.SittingRow;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;

/** Reads response files and scores every form, sitting by sitting, keeping nothing but counts. */
public final class BatchScorer {
    private final Catalogue catalogue;
    private final ReadOptions reading;
    private final ScoringOptions scoring;
    private final BiPredicate<Sitting, InstrumentId> asked;
    private final Map<String, ScoringPlan> plans = new HashMap<>();
    private final Map<String, RequestedColumns> wholeForms = new HashMap<>();
    private final Set<String> fromMemory = new TreeSet<>();
    private final Map<ScoreResult.Outcome, Long> outcomes = new EnumMap<>(ScoreResult.Outcome.class);
    private long scored;
    private long nothing;
    private long sittings;
    private long blankForms;
    private boolean begun;

    /** Scores what was answered; a blank form gives nothing. */
    public BatchScorer(Catalogue catalogue, ReadOptions reading, ScoringOptions scoring) {
        this(catalogue, reading, scoring, (sitting, instrument) -> false);
    }

    /**
     * As {@link #BatchScorer(Catalogue, ReadOptions, ScoringOptions)}.
     *
     * @param asked whether a form was asked for at a sitting: if it is blank, it gives rows without a score
     */
    public BatchScorer(
            Catalogue catalogue,
            ReadOptions reading,
            ScoringOptions scoring,
            BiPredicate<Sitting, InstrumentId> asked) {
        this.catalogue = catalogue;
        this.reading = reading;
        this.scoring = scoring;
        this.asked = asked;
    }

    /**
     * Scores {@code inputs}. That a form stood before is not told here, for nothing of a row is kept.
     *
     * @param forms takes the forms of each sitting, in input order
     * @param problems takes each problem and note
     * @throws lumbrical.tabular.UnreadableInputException if a file cannot be read at all
     * @throws IllegalStateException if this scorer has scored before: its counts are of one run
     */
    public ScoringCounts score(List<Input> inputs, FormSink forms, Consumer<Problem> problems) {
        return score(inputs, forms, problems, ScoringProgressListener.NONE);
    }

    /**
     * As {@link #score(List, FormSink, Consumer)}.
     *
     * @param watch told when each sitting is scored
     */
    public ScoringCounts score(
            List<Input> inputs, FormSink forms, Consumer<Problem> problems, ScoringProgressListener watch) {
        begin();
        return ended(read(inputs, forms, problems, watch), problems);
    }

    /** Tells what is to be told of a run as a whole. */
    private ScoringCounts ended(ReadSummary read, Consumer<Problem> problems) {
        tellMemory(problems);
        reading.columns().notUsed(read.headings(), List.of()).forEach(problems);
        return tally(read);
    }

    /**
     * Scores a table that lies in no file, such as one of a database: its rows are handed in one by one. That a form stood before is not
     * told here, for nothing of a row is kept.
     *
     * @param table its name in problems
     * @param forms takes the forms of each sitting, in input order
     * @param problems takes each problem and note
     * @throws IllegalStateException if this scorer has scored before: its counts are of one table
     */
    public Rows rows(String table, FormSink forms, Consumer<Problem> problems) {
        begin();
        ResponseReader.Rows rows =
                ResponseReader.rows(table, catalogue, reading, row -> forms.take(row, scoreSitting(row)), problems);
        return new Rows() {
            @Override
            public void row(int number, List<String> cells) {
                rows.row(number, cells);
            }

            @Override
            public ScoringCounts end() {
                return ended(rows.end(), problems);
            }
        };
    }

    private void begin() {
        if (begun) {
            throw new IllegalStateException("A scorer scores once, since its counts are of one run; make another one");
        }
        begun = true;
    }

    /** Takes the rows of a table; the headings come first. */
    public interface Rows {
        /**
         * One row.
         *
         * @param number by which problems name it, from 1
         * @param cells its texts, in the order of the headings; blank = not answered; a null, as a database gives one, counts as blank
         * @throws IllegalArgumentException if the number is less than 1
         * @throws IllegalStateException if the table has ended
         * @throws lumbrical.tabular.UnreadableInputException if it is the header, and names no patient or date, or one item twice
         */
        void row(int number, List<String> cells);

        /**
         * Ends the table: where its rows went.
         *
         * @throws IllegalStateException if it has ended
         */
        ScoringCounts end();
    }

    /** Reads and scores, and adds to the counts. */
    public ReadSummary read(
            List<Input> inputs, FormSink forms, Consumer<Problem> problems, ScoringProgressListener watch) {
        return ResponseReader.read(
                inputs,
                catalogue,
                reading,
                row -> {
                    watch.begins();
                    List<ScoredForm> scoredForms = scoreSitting(row);
                    watch.ends();
                    forms.take(row, scoredForms);
                },
                problems,
                watch);
    }

    /** One note if a rule from memory was used. */
    public void tellMemory(Consumer<Problem> problems) {
        if (!fromMemory.isEmpty()) {
            problems.accept(new Problem(
                            Place.of("definitions"),
                            "",
                            ProblemCode.NOTE_RULE_FROM_MEMORY,
                            "Rules from memory were used for " + String.join(", ", fromMemory)
                                    + ". Check them against the manual before you rely on these scores.")
                    .mendedBy(Remedy.of(Remedy.Kind.PUBLISHED_ONLY)));
        }
    }

    /** The counts so far. */
    public ScoringCounts tally(ReadSummary read) {
        return new ScoringCounts(read, scored, nothing, sittings, blankForms, outcomes);
    }

    /** The scored forms of a sitting, which it counts. */
    public List<ScoredForm> scoreSitting(SittingRow row) {
        sittings++;
        List<ScoredForm> forms = new ArrayList<>(row.forms().size());
        boolean anyScore = false;
        for (FormEntry entry : row.forms()) {
            List<ScoreResult> results = plan(entry.instrument())
                    .score(entry.responses(), row.sitting().side(), named(row, entry));
            if (entry.responses().blank()) {
                blankForms++;
            } else {
                noteMemory(entry.instrument(), results);
            }
            results.forEach(r -> outcomes.merge(r.outcome(), 1L, Long::sum));
            anyScore |= !results.isEmpty();
            forms.add(new ScoredForm(row.sitting(), entry.instrument(), entry.responses(), results));
        }
        int rows =
                Math.max(1, row.forms().stream().mapToInt(FormEntry::rows).max().orElse(1));
        if (row.forms().stream().anyMatch(f -> f.named() != RequestedColumns.NOTHING)) {
            countLong(row, forms);
        } else if (anyScore) {
            scored += rows;
        } else {
            nothing += rows;
        }
        return forms;
    }

    /** In the long layout a row is a response: it counts as scored if its form gave a score row. */
    private void countLong(SittingRow row, List<ScoredForm> forms) {
        for (int i = 0; i < forms.size(); i++) {
            if (forms.get(i).results().isEmpty()) {
                nothing += row.forms().get(i).rows();
            } else {
                scored += row.forms().get(i).rows();
            }
        }
    }

    private RequestedColumns named(SittingRow row, FormEntry entry) {
        if (!entry.named().isEmpty() || !entry.responses().blank()) {
            return entry.named();
        }
        return asked.test(row.sitting(), entry.instrument().id())
                ? wholeForms.computeIfAbsent(
                        entry.instrument().id().value(), id -> RequestedColumns.form(entry.instrument()))
                : RequestedColumns.NOTHING;
    }

    /** The plan by which an instrument is scored. */
    public ScoringPlan plan(Instrument instrument) {
        return plans.computeIfAbsent(instrument.id().value(), id -> ScoringPlan.of(instrument, scoring));
    }

    private void noteMemory(Instrument instrument, List<ScoreResult> results) {
        if (!fromMemory.contains(instrument.id().value())) {
            results.stream()
                    .filter(r -> r.scored().isPresent())
                    .forEach(r -> noteMemory(instrument, instrument.requireScale(r.scale()), r.outcome()));
        }
    }

    /** Remembers the instrument if a scale with that outcome rests on a rule from memory. */
    public void noteMemory(Instrument instrument, Scale scale, ScoreResult.Outcome outcome) {
        boolean missing = outcome == ScoreResult.Outcome.WITH_MISSING;
        if (ScoreStanding.of(instrument, scale, missing) == Standing.FROM_MEMORY) {
            fromMemory.add(instrument.id().value());
        }
    }
}
