package lumbrical.tabular;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import org.jspecify.annotations.Nullable;

/**
 * Splits the next rows of a table while those before them are worked on: splitting takes a quarter of the time of scoring a quoted table.
 * Rows come in their order, and a fault after the rows before it.
 */
final class RowsAhead implements AutoCloseable {
    /** A block is handed over when its cells hold so many characters, so that what waits stays small. */
    private static final int BLOCK_CHARACTERS = 1 << 15;

    private static final int BLOCKS_WAITING = 4;

    /** After so many milliseconds without a block it is looked whether the splitting goes on. */
    private static final long LOOK_AGAIN = 100;

    private final BlockingQueue<Block> waiting = new ArrayBlockingQueue<>(BLOCKS_WAITING);
    private final AtomicReference<@Nullable Error> failed = new AtomicReference<>();
    private final Thread thread;

    /**
     * Rows that follow each other.
     *
     * @param rows their cells
     * @param share of the file read when the block was full
     * @param fault why no rows follow; empty = more follow, or the table ends if there are no rows
     */
    record Block(List<List<String>> rows, double share, Optional<RuntimeException> fault) {}

    /** Gives the cells of the next row. */
    interface Source {
        Optional<List<String>> next();

        /** Which share of the file has been read. */
        double share();
    }

    RowsAhead(Source source) {
        thread = new Thread(() -> split(source), "rows-ahead");
        thread.setDaemon(true);
        thread.start();
    }

    /**
     * The next rows; none at the end.
     *
     * @throws Error the one by which the splitting failed, such as a memory that is full
     */
    Block next() {
        try {
            Optional<Block> block = Optional.empty();
            while (block.isEmpty()) {
                boolean ended = !thread.isAlive(); // before looking, since its last block may come in between
                block = Optional.ofNullable(waiting.poll(LOOK_AGAIN, TimeUnit.MILLISECONDS));
                if (ended && block.isEmpty()) {
                    throw Optional.ofNullable(failed.get()).orElseGet(() -> new AssertionError("The rows have no end"));
                }
            }
            return block.get();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("Interrupted while reading", e);
        }
    }

    private void split(Source source) {
        try {
            List<List<String>> rows = new ArrayList<>();
            Optional<RuntimeException> fault = Optional.empty();
            boolean more = true;
            while (more) {
                int characters = 0;
                try {
                    while (more && characters < BLOCK_CHARACTERS) {
                        Optional<List<String>> row = source.next();
                        row.ifPresent(rows::add);
                        characters += row.map(RowsAhead::characters).orElse(0);
                        more = row.isPresent();
                    }
                } catch (RuntimeException e) {
                    fault = Optional.of(e);
                    more = false;
                }
                boolean none = rows.isEmpty();
                waiting.put(new Block(rows, source.share(), fault));
                rows = new ArrayList<>();
                if (!more && !none && fault.isEmpty()) {
                    waiting.put(new Block(List.of(), 1, fault));
                }
            }
        } catch (InterruptedException e) {
            // Nobody takes rows any more.
            Thread.currentThread().interrupt();
        } catch (Error e) {
            failed.set(e); // told by who takes the rows, who would wait for ever
        }
    }

    private static int characters(List<String> cells) {
        int characters = cells.size();
        for (String cell : cells) {
            characters += cell.length();
        }
        return characters;
    }

    /** Stops the splitting, at the end or before it. */
    @Override
    public void close() {
        thread.interrupt();
        try {
            thread.join();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
        }
    }
}
