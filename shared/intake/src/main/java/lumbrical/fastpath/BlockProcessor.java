package lumbrical.fastpath;

/**
 * What is made of the blocks of a table.
 *
 * @param <B> the blocks
 * @param <R> what a block gives
 */
interface BlockProcessor<B extends TableBlock, R> {
    /** What {@code block} gives; called in any thread, for several blocks at once. */
    R process(B block);

    /** Takes what {@code block} gave; called in the order of the file. The block is used again afterwards. */
    void takeInOrder(B block, R result);
}
