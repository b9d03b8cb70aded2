package org.handoutcomes.batch;

import java.nio.charset.StandardCharsets;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedDeque;
import org.handoutcomes.instrument.Instrument;
import org.handoutcomes.instrument.Side;
import org.handoutcomes.output.ByteRow;
import org.handoutcomes.scoring.ScoreBuffer;
import org.handoutcomes.scoring.ScoringPlan;
import org.handoutcomes.table.RowBlock;
import org.handoutcomes.table.SittingRow;

/** Scores the rows of a block and prints them as the score table does, byte for byte. Safe to share between threads. */
final class BlockPrinter {
    private static final byte[][] SIDES = {ascii(""), ascii("right"), ascii("left"), ascii("both")};

    private final List<ScoringPlan> plans;
    private final int[] offsets;
    private final int[] columns;
    private final long[] instrumentHash;
    private final String[] ids;
    private final byte[][][] rowHead;
    private final byte[][][] rowTail;
    private final OddRows oddRows;
    private final Deque<Worker> workers = new ConcurrentLinkedDeque<>();

    /** What a thread needs while it prints a block; kept for the next one, with the tails printed so far. */
    private record Worker(ScoreBuffer[] buffers, TailCache[] tails) {}

    /** Prints the score rows of a sitting that is not plain, and counts it. */
    interface OddRows {
        /** Appends the rows of {@code row} to {@code printed}. */
        void print(SittingRow row, PrintedBlock printed);
    }

    BlockPrinter(List<ScoringPlan> plans, OddRows oddRows) {
        this.plans = plans;
        this.oddRows = oddRows;
        this.offsets = new int[plans.size()];
        this.columns =
                plans.stream().mapToInt(p -> p.instrument().columns().size()).toArray();
        this.ids = plans.stream().map(p -> p.instrument().id().value()).toArray(String[]::new);
        this.instrumentHash = plans.stream()
                .mapToLong(p -> DoubleWatch.text(p.instrument().id().value(), DoubleWatch.SEED))
                .toArray();
        this.rowHead = new byte[plans.size()][][];
        this.rowTail = new byte[plans.size()][][];
        int offset = 0;
        for (int p = 0; p < plans.size(); p++) {
            Instrument instrument = plans.get(p).instrument();
            offsets[p] = offset;
            offset += instrument.columns().size();
            rowHead[p] = plans.get(p).outputs().stream()
                    .map(o -> ascii(",," + instrument.id() + "," + o.scale().id() + ","))
                    .toArray(byte[][]::new);
            rowTail[p] = plans.get(p).outputs().stream()
                    .map(o -> ascii("," + o.scale().better().code() + "," + instrument.definition()))
                    .toArray(byte[][]::new);
        }
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }

    PrintedBlock print(RowBlock block) {
        PrintedBlock printed = new PrintedBlock(block, plans.size());
        Worker worker = Optional.ofNullable(workers.poll()).orElseGet(this::newWorker);
        for (int row = 0; row < block.rows(); row++) {
            if (block.isPlain(row)) {
                plainRow(block, row, worker.buffers(), worker.tails(), printed);
            } else {
                oddRows.print(block.oddRow(row).orElseThrow(), printed);
            }
        }
        workers.push(worker);
        return printed;
    }

    private Worker newWorker() {
        TailCache[] tails = new TailCache[plans.size()];
        for (int p = 0; p < tails.length; p++) {
            tails[p] = new TailCache(rowHead[p], rowTail[p]);
        }
        return new Worker(plans.stream().map(ScoringPlan::newBuffer).toArray(ScoreBuffer[]::new), tails);
    }

    private void plainRow(RowBlock block, int row, ScoreBuffer[] buffers, TailCache[] tails, PrintedBlock printed) {
        boolean both = block.side(row) == Side.BOTH.ordinal() + 1;
        boolean anyRow = false;
        long sitting = sittingHash(block, row);
        for (int p = 0; p < buffers.length; p++) {
            ScoringPlan plan = plans.get(p);
            ScoreBuffer buffer = buffers[p];
            int offset = block.valuesOffset(row) + offsets[p];
            if (blank(block.values(), offset, columns[p])) {
                printed.countBlankForm();
                continue;
            }
            printed.addHash(DoubleWatch.form(sitting, instrumentHash[p]), ids[p], block.number(row));
            plan.scoreInto(block.values(), offset, both, buffer);
            List<ScoringPlan.Output> outputs = plan.outputs();
            for (int o = 0; o < outputs.size(); o++) {
                ScoringPlan.Output output = outputs.get(o);
                if (buffer.hasRow(output.slot())) {
                    anyRow = true;
                    printed.count(p, o, buffer.outcome(output.slot()));
                    scoreRow(block, row, output, printed.bytes());
                    tails[p].append(o, output.slot(), buffer, printed.bytes());
                }
            }
        }
        printed.countRow(anyRow);
    }

    private static boolean blank(double[] values, int from, int n) {
        for (int i = from; i < from + n; i++) {
            if (!Double.isNaN(values[i])) {
                return false;
            }
        }
        return true;
    }

    private static long sittingHash(RowBlock block, int row) {
        return DoubleWatch.sittingHash(
                DoubleWatch.ascii(block.bytes(), block.patientStart(row), block.patientEnd(row), DoubleWatch.SEED),
                block.epochDay(row),
                0,
                block.side(row),
                block.episodeEnd(row) > block.episodeStart(row),
                h -> DoubleWatch.ascii(block.bytes(), block.episodeStart(row), block.episodeEnd(row), h));
    }

    /** Patient, episode, side and date; the rest of the row is the tail. */
    private static void scoreRow(RowBlock block, int row, ScoringPlan.Output output, ByteRow out) {
        out.append(block.bytes(), block.patientStart(row), block.patientEnd(row));
        out.append(',');
        out.append(block.bytes(), block.episodeStart(row), block.episodeEnd(row));
        out.append(',');
        int side = output.hand().isPresent() ? output.hand().get().ordinal() + 1 : block.side(row);
        out.append(SIDES[side]);
        out.append(',');
        out.append(block.bytes(), block.dateStart(row), block.dateStart(row) + 10);
    }
}
