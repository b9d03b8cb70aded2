package lumbrical.fastpath;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedDeque;
import java.util.function.BiConsumer;
import java.util.stream.Stream;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Side;
import lumbrical.intake.SittingRow;
import lumbrical.scoring.ScoreBuffer;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;

/** Scores the rows of a block and prints them as the score table does, byte for byte. Safe to share between threads. */
final class BlockPrinter implements BlockProcessor<RowBlock, PrintedBlock> {
    /** What stands between episode and date for each side, and between patient and date where there is no episode. */
    private static final byte[][] SIDES = sides(",");

    private static final byte[][] NO_EPISODE_AND_SIDES = sides(",,");

    private final ScoringPlan[] plans;
    private final ScoringPlan.Output[][] outputs;
    private final int[] firstOutput;
    private final int[] offsets;
    private final int[] columns;
    private final long[] instrumentHash;
    private final byte[][][] rowHead;
    private final byte[][][] rowTail;
    private final byte[][][][] standings;
    private final boolean guard;
    private final IrregularRows irregularRows;
    private final BiConsumer<RowBlock, PrintedBlock> printedBlocks;
    private final Deque<Worker> workers = new ConcurrentLinkedDeque<>();
    private final Deque<PrintedBlock> free = new ConcurrentLinkedDeque<>();

    /** What a thread needs while it prints a block; kept for the next one, with the tails printed so far. */
    private record Worker(ScoreBuffer[] buffers, TailCache[] tails, ScoreRowPrinter irregular) {}

    /** Prints the score rows of a sitting that is not plain, and counts it. */
    interface IrregularRows {
        /** Appends the score rows of {@code row}, which stands in {@code line} of its block, to {@code printed}. */
        void print(SittingRow row, int line, ScoreRowPrinter printer, PrintedBlock printed);
    }

    BlockPrinter(
            List<ScoringPlan> plans,
            boolean guard,
            IrregularRows irregularRows,
            BiConsumer<RowBlock, PrintedBlock> printedBlocks) {
        this.guard = guard;
        this.plans = plans.toArray(ScoringPlan[]::new);
        this.outputs = plans.stream()
                .map(p -> p.outputs().toArray(ScoringPlan.Output[]::new))
                .toArray(ScoringPlan.Output[][]::new);
        this.firstOutput = firstOutputs(plans);
        this.irregularRows = irregularRows;
        this.printedBlocks = printedBlocks;
        this.offsets = new int[plans.size()];
        this.columns =
                plans.stream().mapToInt(p -> p.instrument().columns().size()).toArray();
        this.instrumentHash = plans.stream()
                .mapToLong(p -> DuplicateDetector.text(p.instrument().id().value(), DuplicateDetector.SEED))
                .toArray();
        this.rowHead = new byte[plans.size()][][];
        this.rowTail = new byte[plans.size()][][];
        this.standings = plans.stream()
                .map(p -> p.outputs().stream()
                        .map(o -> standings(p.instrument(), o))
                        .toArray(byte[][][]::new))
                .toArray(byte[][][][]::new);
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

    /** For each outcome, the standing of such a score and the end of the line. */
    private static byte[][] standings(Instrument instrument, ScoringPlan.Output output) {
        return Arrays.stream(ScoreResult.Outcome.values())
                .map(outcome -> outcome == ScoreResult.Outcome.NOT_SCORED
                        ? ""
                        : ScoreStanding.of(
                                        instrument,
                                        output.scale(),
                                        output.hand(),
                                        outcome == ScoreResult.Outcome.WITH_MISSING)
                                .code())
                .map(standing -> ascii(standing + "\r\n"))
                .toArray(byte[][]::new);
    }

    private static byte[][] sides(String before) {
        return Stream.concat(Stream.of(""), Arrays.stream(Side.values()).map(Side::code))
                .map(side -> ascii(before + side + ","))
                .toArray(byte[][]::new);
    }

    private static byte[] ascii(String text) {
        return text.getBytes(StandardCharsets.US_ASCII);
    }

    /** Position of each plan's first output among those of all plans, and at the end their number. */
    static int[] firstOutputs(List<ScoringPlan> plans) {
        int[] first = new int[plans.size() + 1];
        for (int p = 0; p < plans.size(); p++) {
            first[p + 1] = first[p] + plans.get(p).outputs().size();
        }
        return first;
    }

    @Override
    public PrintedBlock process(RowBlock block) {
        PrintedBlock printed =
                Optional.ofNullable(free.poll()).orElseGet(() -> new PrintedBlock(firstOutput[plans.length]));
        printed.clear();
        Worker worker = Optional.ofNullable(workers.poll()).orElseGet(this::newWorker);
        int rows = block.rows();
        for (int row = 0; row < rows; row++) {
            if (block.isPlain(row)) {
                plainRow(block, row, worker, printed);
            } else {
                irregularRows.print(block.oddRow(row).orElseThrow(), block.line(row), worker.irregular(), printed);
            }
        }
        workers.push(worker);
        return printed;
    }

    @Override
    public void takeInOrder(RowBlock block, PrintedBlock printed) {
        printedBlocks.accept(block, printed);
        free.push(printed);
    }

    private Worker newWorker() {
        TailCache[] tails = new TailCache[plans.length];
        for (int p = 0; p < tails.length; p++) {
            tails[p] = new TailCache(rowHead[p], rowTail[p], standings[p]);
        }
        return new Worker(
                Arrays.stream(plans).map(ScoringPlan::newBuffer).toArray(ScoreBuffer[]::new),
                tails,
                new ScoreRowPrinter(guard));
    }

    private void plainRow(RowBlock block, int row, Worker worker, PrintedBlock printed) {
        boolean both = block.side(row) == Side.BOTH.ordinal() + 1;
        boolean anyRow = false;
        long sitting = sittingHash(block, row);
        for (int p = 0; p < columns.length; p++) {
            ScoreBuffer buffer = worker.buffers()[p];
            int offset = block.valuesOffset(row) + offsets[p];
            if (blank(block.values(), offset, columns[p])) {
                printed.countBlankForm();
                continue;
            }
            printed.addHash(DuplicateDetector.form(sitting, instrumentHash[p]), p, block.line(row));
            plans[p].scoreAllowedInto(block.values(), offset, both, buffer);
            ScoringPlan.Output[] given = outputs[p];
            for (int o = 0; o < given.length; o++) {
                ScoringPlan.Output output = given[o];
                if (buffer.hasRow(output.slot())) {
                    anyRow = true;
                    printed.count(firstOutput[p] + o, buffer.outcome(output.slot()));
                    scoreRow(block, row, output, printed.bytes());
                    worker.tails()[p].append(o, output.slot(), buffer, printed.bytes());
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
        byte[] bytes = block.bytes();
        long patient =
                DuplicateDetector.bytes(bytes, block.patientStart(row), block.patientEnd(row), DuplicateDetector.SEED);
        long sitting = DuplicateDetector.sittingHash(patient, block.epochDay(row), 0, block.side(row));
        return DuplicateDetector.bytes(bytes, block.episodeStart(row), block.episodeEnd(row), sitting);
    }

    /** Patient, episode, side and date; the rest of the row is the tail. */
    private static void scoreRow(RowBlock block, int row, ScoringPlan.Output output, ByteRow out) {
        byte[] bytes = block.bytes();
        out.append(bytes, block.patientStart(row), block.patientEnd(row));
        int side = output.hand().isPresent() ? output.hand().get().ordinal() + 1 : block.side(row);
        int episode = block.episodeStart(row);
        if (episode == block.episodeEnd(row)) {
            out.append(NO_EPISODE_AND_SIDES[side]);
        } else {
            out.append(',');
            out.append(bytes, episode, block.episodeEnd(row));
            out.append(SIDES[side]);
        }
        out.append(bytes, block.dateStart(row), block.dateStart(row) + 10);
    }
}
