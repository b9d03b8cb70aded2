package lumbrical.fastpath;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Iterator;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ConcurrentLinkedDeque;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.FutureTask;
import java.util.function.Supplier;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import lumbrical.tabular.UnreadableInputException;

/**
 * One pass over a table. The blocks go round: read here, worked on by a worker, taken here in their order, read into again.
 *
 * @param <B> the blocks
 * @param <R> what a block gives
 */
final class BlockReading<B extends TableBlock, R> {
    private static final int IN_FLIGHT = 4;

    private final Input input;
    private final long bodyStart;
    private final long size;
    private final Supplier<B> newBlock;
    private final Supplier<BlockParser<B>> newParser;
    private final BlockProcessor<B, R> processor;
    private final ProgressListener watch;
    private final Deque<BlockParser<B>> parsers = new ConcurrentLinkedDeque<>();
    private final Deque<B> free = new ArrayDeque<>();
    private final Deque<Pending<B, R>> pending = new ArrayDeque<>();
    private CompletableFuture<Integer> nextRow = CompletableFuture.completedFuture(PlainTable.FIRST_ROW);
    private long takenTo;
    private int takenRows = PlainTable.FIRST_ROW;

    private record Pending<B, R>(B block, FutureTask<R> result) {}

    /**
     * @param bodyStart byte where the first row below the header starts
     * @param size bytes of the file
     * @param watch told how far the reading is, after each block and at the end
     */
    BlockReading(
            Input input,
            long bodyStart,
            long size,
            Supplier<B> newBlock,
            Supplier<BlockParser<B>> newParser,
            BlockProcessor<B, R> processor,
            ProgressListener watch) {
        this.input = input;
        this.bodyStart = bodyStart;
        this.size = size;
        this.newBlock = newBlock;
        this.newParser = newParser;
        this.processor = processor;
        this.watch = watch;
        this.takenTo = bodyStart;
    }

    /**
     * Reads the table.
     *
     * @param threads how many blocks are worked on at once, the caller's thread among them
     * @return the row from which on the other reader must take over; empty = the file is done
     */
    Optional<PlainTable.Remainder> read(int threads) {
        ExecutorService workers = Executors.newFixedThreadPool(Math.max(1, threads - 1), BlockReading::daemon);
        Executor helpers = threads > 1 ? workers : task -> {};
        try (InputStream in = Files.newInputStream(input.path())) {
            in.skipNBytes(bodyStart);
            return run(in, helpers);
        } catch (IOException e) {
            throw new UnreadableInputException(input.place(), "the file cannot be read.");
        } finally {
            workers.shutdownNow();
        }
    }

    private Optional<PlainTable.Remainder> run(InputStream in, Executor helpers) throws IOException {
        B block = newBlock.get();
        int filled = 0;
        boolean more = true;
        boolean plain = true;
        while (more && plain) {
            BlockBytes text = block.text();
            filled += in.readNBytes(text.bytes(), filled, text.capacity() - filled);
            more = filled == text.capacity();
            int end = more ? afterLastRow(text.bytes(), filled) : filled;
            plain = end > 0 || !more; // a row longer than a block is not
            if (plain) {
                B next = Optional.ofNullable(free.poll()).orElseGet(newBlock);
                next.text().startWith(text.bytes(), end, filled);
                submit(block, end, helpers);
                block = next;
                filled -= end;
                plain = take(IN_FLIGHT);
                watch.read(input, takenRows - PlainTable.FIRST_ROW, (double) takenTo / size);
            }
        }
        boolean done = take(0) && plain;
        watch.read(input, takenRows - PlainTable.FIRST_ROW, done ? 1 : (double) takenTo / size);
        return done ? Optional.empty() : Optional.of(new PlainTable.Remainder(takenTo, takenRows));
    }

    private static int afterLastRow(byte[] block, int filled) {
        int end = filled;
        while (end > 0 && block[end - 1] != '\n') {
            end--;
        }
        return end;
    }

    private void submit(B block, int end, Executor helpers) {
        CompletableFuture<Integer> first = nextRow;
        CompletableFuture<Integer> rows = new CompletableFuture<>();
        nextRow = first.thenCombine(rows, Integer::sum);
        FutureTask<R> task = new FutureTask<>(() -> {
            BlockParser<B> parser = Optional.ofNullable(parsers.poll()).orElseGet(newParser);
            try {
                parser.parse(block, end, first);
            } finally {
                rows.complete(block.text().lines()); // whoever waits for it after a failure is not listened to
            }
            parsers.push(parser);
            return processor.process(block);
        });
        pending.add(new Pending<>(block, task));
        helpers.execute(task);
    }

    /** Works on the first block that nobody works on yet, unless the oldest is done. */
    private void help() {
        Iterator<Pending<B, R>> waiting = pending.iterator();
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
            Pending<B, R> oldest = pending.element();
            help();
            R result = await(oldest.result());
            BlockBytes text = oldest.block().text();
            if (!text.plain()) {
                return false;
            }
            pending.remove();
            text.startsAt(takenRows);
            processor.takeInOrder(oldest.block(), result);
            takenRows += text.lines();
            takenTo += text.end();
            free.push(oldest.block());
        }
        return true;
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
}
