package lumbrical.tabular;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.BlockingQueue;

/**
 * Splits the next rows of a table while those before them are worked on: splitting takes a quarter of the time of scoring a quoted table.
 * Rows come in their order, and a fault after the rows before it.
 */
final class RowsAhead implements AutoCloseable {
    /** A block is handed over when its cells hold so many characters, so that what waits stays small. */
    private static final int BLOCK_CHARACTERS = 1 << 15;

    private static final int BLOCKS_WAITING = 4;

    private final BlockingQueue<Block> waiting = new ArrayBlockingQueue<>(BLOCKS_WAITING);
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

    /** The next rows; none at the end. */
    Block next() {
        try {
            return waiting.take();
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
