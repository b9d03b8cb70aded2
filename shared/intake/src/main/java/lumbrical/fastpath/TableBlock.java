package lumbrical.fastpath;

/** Some rows of a table and what a parser found in them. A block is filled again and again. */
interface TableBlock {
    /** Its rows as they stand in the file. */
    BlockBytes text();
}
