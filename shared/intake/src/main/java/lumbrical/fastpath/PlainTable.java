package lumbrical.fastpath;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentLinkedDeque;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.FutureTask;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.ResponseReader;
import lumbrical.intake.SittingRow;
import lumbrical.intake.WideRows;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.questionnaire.FhirFile;
import lumbrical.tabular.CsvReader;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import lumbrical.tabular.TableSink;
import lumbrical.tabular.UnreadableInputException;

/**
 * A wide CSV table in the plain case: UTF-8, header in the first line, no line break in a cell. It is read in blocks of bytes, several at
 * once; what is not plain is left to {@link ResponseReader}, and both give the same.
 */
public final class PlainTable {
    /** Number of the first row below the header. */
    public static final int FIRST_ROW = 2;

    private static final int BLOCK = 1 << 17;
    private static final int IN_FLIGHT = 4;

    private final Input input;
    private final ResponseHeader header;
    private final char delimiter;
    private final ReadOptions options;
    private final int bodyStart;
    private final long size;

    private PlainTable(
            Input input, ResponseHeader header, char delimiter, ReadOptions options, int bodyStart, long size) {
        this.input = input;
        this.header = header;
        this.delimiter = delimiter;
        this.options = options;
        this.bodyStart = bodyStart;
        this.size = size;
    }

    /**
     * The table if it can be read this way, else empty: another reader then takes the whole file.
     *
     * @throws UnreadableInputException if its header cannot be used
     */
    public static Optional<PlainTable> open(Input input, Catalogue catalogue, ReadOptions options) {
        boolean ordinary = options.codes().codes().isEmpty()
                && options.notAnswered().isEmpty()
                && options.dateFormat().isEmpty()
                && options.encoding().isEmpty()
                && input.sheet().isEmpty()
                && Files.isRegularFile(input.path())
                && !FhirFile.isOne(input);
        if (!ordinary) {
            return Optional.empty();
        }
        try (InputStream in = Files.newInputStream(input.path())) {
            byte[] head = in.readNBytes(1 << 16);
            int end = 0;
            while (end < head.length && head[end] != '\n') {
                boolean text = head[end] >= ' '
                        || head[end] == '\t'
                        || head[end] == '\r' && end + 1 < head.length && head[end + 1] == '\n';
                if (!text) {
                    return Optional.empty();
                }
                end++;
            }
            if (end == 0 || end == head.length) {
                return Optional.empty();
            }
            char delimiter = CsvReader.delimiter(new String(head, 0, end, StandardCharsets.US_ASCII));
            int last = end > 0 && head[end - 1] == '\r' ? end - 1 : end;
            Optional<List<String>> cells = new RowText(input, delimiter).split(head, 0, last);
            if (cells.isEmpty() || !ResponseHeader.looksLike(cells.get(), options.columns())) {
                return Optional.empty();
            }
            ResponseHeader header = new ResponseHeader(input, 1, cells.get(), catalogue, options.columns());
            return header.isLong() || !header.formScores().isEmpty()
                    ? Optional.empty()
                    : Optional.of(new PlainTable(input, header, delimiter, options, end + 1, Files.size(input.path())));
        } catch (IOException e) {
            return Optional.empty(); // the other reader finds the words for it
        }
    }

    /** Problems of the header. */
    public List<Problem> headerProblems() {
        return header.problems();
    }

    /** Every heading, in lower case as the file has it. */
    public Set<String> headings() {
        return header.given();
    }

    /** Headings that mean nothing here. */
    public List<String> unusedColumns() {
        return List.copyOf(header.unused());
    }

    /** The instruments whose columns it has; their responses follow each other in a {@link RowBlock}. */
    public List<Instrument> instruments() {
        return header.forms().stream().map(ResponseHeader.Form::instrument).toList();
    }

    /** How many blocks of its size the whole file holds. */
    public double blocksLike(RowBlock block) {
        return (double) size / Math.max(1, block.end());
    }

    /**
     * The part of a file that is not plain.
     *
     * @param offset byte where its first row starts
     * @param row number of that row
     */
    public record Remainder(long offset, int row) {}

    /**
     * What is made of the blocks of a table.
     *
     * @param <R> what a block gives
     */
    public interface BlockProcessor<R> {
        /** What {@code block} gives; called in any thread, for several blocks at once. */
        R process(RowBlock block);

        /** Takes what {@code block} gave; called in the order of the file. The block is used again afterwards. */
        void takeInOrder(RowBlock block, R result);
    }

    private record Pending<R>(RowBlock block, FutureTask<R> result) {}

    /**
     * Reads the table.
     *
     * @param threads how many blocks are worked on at once, the caller's thread among them
     * @param watch told how far the reading is, after each block and at the end
     * @return the row from which on the other reader must take over; empty = the file is done
     */
    public <R> Optional<Remainder> read(int threads, BlockProcessor<R> processor, ProgressListener watch) {
        ExecutorService workers = Executors.newFixedThreadPool(Math.max(1, threads - 1), PlainTable::daemon);
        Executor helpers = threads > 1 ? workers : task -> {};
        try (InputStream in = Files.newInputStream(input.path())) {
            in.skipNBytes(bodyStart);
            return new Reading<>(processor, helpers, in, watch).run();
        } catch (IOException e) {
            throw new UnreadableInputException(input.place(), "the file cannot be read.");
        } finally {
            workers.shutdownNow();
        }
    }

    /** One pass over the table. The blocks go round: read here, worked on by a worker, taken here in their order, read into again. */
    private final class Reading<R> {
        private final BlockProcessor<R> processor;
        private final Executor helpers;
        private final InputStream in;
        private final ProgressListener watch;
        private final Deque<PlainRowParser> parsers = new ConcurrentLinkedDeque<>();
        private final Deque<RowBlock> free = new ArrayDeque<>();
        private final Deque<Pending<R>> pending = new ArrayDeque<>();
        private CompletableFuture<Integer> nextRow = CompletableFuture.completedFuture(FIRST_ROW);
        private long takenTo = bodyStart;
        private int takenRows = FIRST_ROW;

        Reading(BlockProcessor<R> processor, Executor helpers, InputStream in, ProgressListener watch) {
            this.processor = processor;
            this.helpers = helpers;
            this.in = in;
            this.watch = watch;
        }

        Optional<Remainder> run() throws IOException {
            RowBlock block = new RowBlock(header.values(), BLOCK);
            int filled = 0;
            boolean more = true;
            boolean plain = true;
            while (more && plain) {
                filled += in.readNBytes(block.bytes(), filled, block.capacity() - filled);
                more = filled == block.capacity();
                int end = more ? afterLastRow(block.bytes(), filled) : filled;
                plain = end > 0 || !more; // a row longer than a block is not
                if (plain) {
                    RowBlock next =
                            Optional.ofNullable(free.poll()).orElseGet(() -> new RowBlock(header.values(), BLOCK));
                    next.startWith(block.bytes(), end, filled);
                    submit(block, end);
                    block = next;
                    filled -= end;
                    plain = take(IN_FLIGHT);
                    watch.read(input, takenRows - FIRST_ROW, (double) takenTo / size);
                }
            }
            boolean done = take(0) && plain;
            watch.read(input, takenRows - FIRST_ROW, done ? 1 : (double) takenTo / size);
            return done ? Optional.empty() : Optional.of(new Remainder(takenTo, takenRows));
        }

        private void submit(RowBlock block, int end) {
            CompletableFuture<Integer> first = nextRow;
            CompletableFuture<Integer> rows = new CompletableFuture<>();
            nextRow = first.thenCombine(rows, Integer::sum);
            FutureTask<R> task = new FutureTask<>(() -> {
                PlainRowParser parser = Optional.ofNullable(parsers.poll())
                        .orElseGet(() -> new PlainRowParser(input, header, delimiter, options));
                try {
                    parser.parse(block, end, first);
                } finally {
                    rows.complete(block.lines()); // whoever waits for it after a failure is not listened to
                }
                parsers.push(parser);
                return processor.process(block);
            });
            pending.add(new Pending<>(block, task));
            helpers.execute(task);
        }

        /** Works on the first block that nobody works on yet, unless the oldest is done. */
        private void help() {
            Iterator<Pending<R>> waiting = pending.iterator();
            boolean worked = pending.element().result().isDone();
            while (!worked && waiting.hasNext()) {
                FutureTask<R> task = waiting.next().result();
                task.run();
                worked = task.isDone();
            }
        }

        /** Takes results until {@code left} are pending; false if a block is not plain: from it on nothing is taken. */
        private boolean take(int left) {
            while (pending.size() > left) {
                Pending<R> oldest = pending.element();
                help();
                R result = await(oldest.result());
                if (!oldest.block().plain()) {
                    return false;
                }
                pending.remove();
                oldest.block().startsAt(takenRows);
                processor.takeInOrder(oldest.block(), result);
                takenRows += oldest.block().lines();
                takenTo += oldest.block().end();
                free.push(oldest.block());
            }
            return true;
        }
    }

    private static Thread daemon(Runnable work) {
        Thread thread = new Thread(work, "rows");
        thread.setDaemon(true);
        return thread;
    }

    private static <R> R await(FutureTask<R> result) {
        try {
            return result.get();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("Interrupted", e);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof RuntimeException known) {
                throw known;
            }
            if (e.getCause() instanceof Error known) {
                throw known; // the memory is full
            }
            throw new IllegalStateException(e.getCause());
        }
    }

    private static int afterLastRow(byte[] block, int filled) {
        int end = filled;
        while (end > 0 && block[end - 1] != '\n') {
            end--;
        }
        return end;
    }

    /** Reads the part that is not plain, row by row, as every reader does. */
    public ReadSummary readRest(
            Remainder rest, Consumer<SittingRow> rows, Consumer<Problem> problems, ProgressListener watch) {
        WideRows wide = new WideRows(options, problems);
        long[] counts = new long[2];
        String file = input.name();
        CsvReader.readFrom(input, rest.offset(), rest.row(), delimiter, new TableSink() {
            private WideRows.RowEnd end = WideRows.RowEnd.AT_LINE_BREAK;

            @Override
            public void row(int number, List<String> cells) {
                if (!WideRows.blank(cells)) {
                    counts[0]++;
                    wide.row(header, Place.of(file, number), cells, end).ifPresentOrElse(rows, () -> counts[1]++);
                }
            }

            @Override
            public void remark(Remark remark, int row, int column) {
                if (remark == Remark.ENDS_WITHOUT_LINE_BREAK) {
                    end = WideRows.RowEnd.AT_END_OF_FILE;
                }
            }

            @Override
            public void at(double share) {
                watch.read(input, rest.row() - FIRST_ROW + counts[0], share);
            }
        });
        return new ReadSummary(counts[0], counts[1], false, List.of(), List.of(), List.of());
    }
}
