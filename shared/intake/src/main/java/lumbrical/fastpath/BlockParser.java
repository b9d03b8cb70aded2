package lumbrical.fastpath;

import java.util.concurrent.CompletableFuture;

/**
 * Finds the rows of a block. Not safe to share between threads.
 *
 * @param <B> the blocks
 */
interface BlockParser<B extends TableBlock> {
    /**
     * Parses whole rows.
     *
     * @param block rows from its first byte to {@code end}, each ended by a line feed, or by the end of the file
     * @param firstRow number of the first, known when the blocks before are parsed
     */
    void parse(B block, int end, CompletableFuture<Integer> firstRow);
}
