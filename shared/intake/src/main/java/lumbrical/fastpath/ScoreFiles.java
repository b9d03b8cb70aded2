package lumbrical.fastpath;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.BiConsumer;
import java.util.function.Consumer;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.batch.ScoringProgressListener;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.ScoreColumns;
import lumbrical.instrument.Instrument;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.SittingRow;
import lumbrical.intake.WideRows;
import lumbrical.output.CsvTableWriter;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;

/**
 * Response files in, the score table out as CSV, streamed. Plain tables are read and printed in blocks by several threads, the rest
 * row by row; the bytes are the same either way.
 */
public final class ScoreFiles {
    private static final int ROOM = 1 << 16;

    private final Catalogue catalogue;
    private final ReadOptions reading;
    private final ScoringOptions scoring;
    private final boolean guard;
    private final int threads;
    private final ProgressListener readWatch;

    /**
     * @param guard whether texts that look like formulas get an apostrophe
     * @param threads how many blocks are worked on at once, the calling thread among them, 1 or more; 0 = never in blocks
     * @param watch told how far the reading is
     */
    public ScoreFiles(
            Catalogue catalogue,
            ReadOptions reading,
            ScoringOptions scoring,
            boolean guard,
            int threads,
            ProgressListener watch) {
        this.catalogue = catalogue;
        this.reading = reading;
        this.scoring = scoring;
        this.guard = guard;
        this.threads = threads;
        this.readWatch = watch;
    }

    /**
     * Scores {@code inputs} one after the other.
     *
     * @throws lumbrical.tabular.UnreadableInputException if a file cannot be read at all
     */
    public ScoringCounts write(List<Input> inputs, OutputStream out, Consumer<Problem> problems) {
        Run run = new Run(out, problems);
        run.header();
        for (Input input : inputs) {
            Optional<PlainTable> plain = threads > 0 ? PlainTable.open(input, catalogue, reading) : Optional.empty();
            if (plain.isPresent()) {
                run.plain(input, plain.get());
            } else {
                run.rowByRow(input);
            }
        }
        run.flush();
        return run.tally();
    }

    private final class Run {
        /** Rows are collected; a block is larger than the room for them and passes. */
        private final OutputStream out;

        private final Consumer<Problem> problems;
        private final DuplicateDetector watch = new DuplicateDetector();
        private final ScoreRowPrinter rowPrinter = new ScoreRowPrinter(guard);
        private final ByteRow rowBytes = new ByteRow(ROOM);
        private final BatchScorer scorer = new BatchScorer(catalogue, reading, scoring);
        private final Map<ScoreResult.Outcome, Long> outcomes = new EnumMap<>(ScoreResult.Outcome.class);
        private final Set<String> unused = new LinkedHashSet<>();
        private final Set<String> headings = new LinkedHashSet<>();
        private long rows;
        private long rejected;
        private long scored;
        private long nothing;
        private long sittings;
        private long blankForms;
        private boolean longLayout;

        Run(OutputStream out, Consumer<Problem> problems) {
            this.out = new BufferedOutputStream(out, ROOM);
            this.problems = problems;
        }

        void flush() {
            try {
                out.flush();
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        void header() {
            StringBuilder line = new StringBuilder();
            new CsvTableWriter<>(ScoreColumns.TABLE, line, guard).flush();
            byte[] bytes = line.toString().getBytes(StandardCharsets.UTF_8);
            write(bytes, bytes.length);
        }

        private void write(byte[] bytes, int length) {
            try {
                out.write(bytes, 0, length);
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            }
        }

        void rowByRow(Input input) {
            ReadSummary read =
                    scorer.read(List.of(input), this::sitting, problems, ScoringProgressListener.of(readWatch));
            add(read);
        }

        private void add(ReadSummary read) {
            rows += read.rows();
            rejected += read.rejected();
            unused.addAll(read.unusedColumns());
            headings.addAll(read.headings());
            longLayout |= read.longLayout();
        }

        private void sitting(SittingRow row, List<ScoredForm> forms) {
            rowBytes.clear();
            forms.forEach(form -> rowPrinter.print(form, rowBytes));
            write(rowBytes.bytes(), rowBytes.length());
            for (ScoredForm form : forms) {
                if (!form.responses().blank() && watch.seenBefore(hash(row.sitting(), form.instrument()))) {
                    tellDouble(row.sitting().place(), form.instrument().id().value());
                }
            }
        }

        private static long hash(Sitting sitting, Instrument instrument) {
            return DuplicateDetector.form(
                    DuplicateDetector.sittingHash(sitting),
                    DuplicateDetector.text(instrument.id().value(), DuplicateDetector.SEED));
        }

        private void tellDouble(Place place, String instrument) {
            problems.accept(new Problem(
                    place,
                    "",
                    ProblemCode.DUPLICATE_SITTING,
                    instrument + " stood for this patient, date, side and episode before. Both are scored."
                            + " Remove one of the two."));
        }

        void plain(Input input, PlainTable table) {
            long before = rows;
            table.headerProblems().forEach(problems);
            unused.addAll(table.unusedColumns());
            headings.addAll(table.headings());
            if (table.isLong()) {
                plainLong(table);
            } else {
                plainWide(input, table);
            }
            if (rows == before) {
                problems.accept(WideRows.noRows(input.name()));
            }
        }

        private void plainWide(Input input, PlainTable table) {
            Optional<PlainTable.Remainder> end = new PlainPart(input, table).run();
            end.ifPresent(rest -> {
                ReadSummary read =
                        table.readRest(rest, row -> sitting(row, scorer.scoreSitting(row)), problems, readWatch);
                rows += read.rows();
                rejected += read.rejected();
            });
        }

        private void plainLong(PlainTable table) {
            longLayout = true;
            LongGathering gathering = table.gathering(problems);
            table.readLong(threads, gathering, readWatch)
                    .ifPresent(rest -> table.readRest(rest, gathering::take, readWatch));
            gathering.handOn(row -> sitting(row, scorer.scoreSitting(row)));
            rows += gathering.rows();
            rejected += gathering.rejected();
        }

        /** The part of a wide file that is read in blocks. */
        private final class PlainPart implements BlockPrinter.IrregularRows, BiConsumer<RowBlock, PrintedBlock> {
            private final Input input;
            private final PlainTable table;
            private final List<ScoringPlan> plans;
            private final int[] firstOutputs;
            private final long[] counts;

            PlainPart(Input input, PlainTable table) {
                this.input = input;
                this.table = table;
                this.plans = table.instruments().stream().map(scorer::plan).toList();
                this.firstOutputs = BlockPrinter.firstOutputs(plans);
                this.counts = new long[firstOutputs[plans.size()] * ScoreResult.Outcome.values().length];
            }

            Optional<PlainTable.Remainder> run() {
                Optional<PlainTable.Remainder> end =
                        table.read(threads, new BlockPrinter(plans, guard, this, this), readWatch);
                int at = 0;
                for (ScoringPlan plan : plans) {
                    for (ScoringPlan.Output output : plan.outputs()) {
                        for (ScoreResult.Outcome outcome : ScoreResult.Outcome.values()) {
                            add(plan, output, outcome, counts[at++]);
                        }
                    }
                }
                return end;
            }

            private void add(ScoringPlan plan, ScoringPlan.Output output, ScoreResult.Outcome outcome, long count) {
                outcomes.merge(outcome, count, Long::sum);
                if (count > 0 && outcome != ScoreResult.Outcome.NOT_SCORED) {
                    scorer.noteMemory(plan.instrument(), output.scale(), outcome);
                }
            }

            /** Runs in a worker, so it touches nothing but its arguments. */
            @Override
            public void print(SittingRow row, int line, ScoreRowPrinter printer, PrintedBlock printed) {
                boolean any = false;
                for (int p = 0; p < row.forms().size(); p++) {
                    Sitting sitting = row.sitting();
                    ScoringPlan plan = plans.get(p);
                    var entry = row.forms().get(p);
                    List<ScoreResult> results = plan.score(entry.responses(), sitting.side());
                    ScoredForm form = new ScoredForm(sitting, entry.instrument(), entry.responses(), results);
                    if (entry.responses().blank()) {
                        printed.countBlankForm();
                    } else {
                        printed.addHash(hash(sitting, entry.instrument()), p, line);
                    }
                    for (ScoreResult result : results) {
                        any = true;
                        printed.count(firstOutputs[p] + outputOf(plan, result), result.outcome());
                    }
                    printer.print(form, printed.bytes());
                }
                printed.countRow(any);
            }

            private static int outputOf(ScoringPlan plan, ScoreResult result) {
                List<ScoringPlan.Output> outputs = plan.outputs();
                for (int o = 0; o < outputs.size(); o++) {
                    if (outputs.get(o).scale().id().equals(result.scale())
                            && outputs.get(o).hand().equals(result.hand())) {
                        return o;
                    }
                }
                throw new IllegalStateException("A result of no output");
            }

            @Override
            public void accept(RowBlock block, PrintedBlock printed) {
                write(printed.bytes().bytes(), printed.bytes().length());
                tellInOrder(block, printed);
                rows += block.rows() + block.rejected();
                rejected += block.rejected();
                sittings += block.rows();
                scored += printed.scored();
                nothing += printed.nothing();
                blankForms += printed.blankForms();
                printed.addOutcomes(counts);
            }

            /** Problems of the rows, and forms that stood before, in the order of the rows. */
            private void tellInOrder(RowBlock block, PrintedBlock printed) {
                if (block.firstRow() == PlainTable.FIRST_ROW) {
                    watch.expect((long) (printed.hashCount() * table.blocksLike(block)));
                }
                watch.bringNear(printed);
                List<Problem> found = block.problems();
                int waiting = found.size();
                int next = 0;
                int at = watch.recordToDouble(printed, 0);
                while (at < printed.hashCount()) {
                    int row = block.firstRow() + printed.hashLine(at);
                    while (next < waiting && found.get(next).place().row().orElse(0) <= row) {
                        problems.accept(found.get(next++));
                    }
                    tellDouble(
                            Place.of(input.name(), row),
                            plans.get(printed.hashPlan(at)).instrument().id().value());
                    at = watch.recordToDouble(printed, at + 1);
                }
                found.subList(next, waiting).forEach(problems);
            }
        }

        ScoringCounts tally() {
            scorer.tellMemory(problems);
            reading.columns().notUsed(headings, List.of()).forEach(problems);
            ScoringCounts rowTally = scorer.tally(new ReadSummary(0, 0, false, List.of(), List.of(), List.of()));
            for (ScoreResult.Outcome outcome : ScoreResult.Outcome.values()) {
                outcomes.merge(outcome, rowTally.outcomes().getOrDefault(outcome, 0L), Long::sum);
            }
            return new ScoringCounts(
                    new ReadSummary(rows, rejected, longLayout, List.copyOf(unused), List.copyOf(headings), List.of()),
                    scored + rowTally.scored(),
                    nothing + rowTally.nothing(),
                    sittings + rowTally.sittings(),
                    blankForms + rowTally.blankForms(),
                    outcomes);
        }
    }
}
