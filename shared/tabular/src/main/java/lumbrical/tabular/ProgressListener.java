package lumbrical.tabular;

/** Told how far the reading of a file is, now and then and at its end. */
@FunctionalInterface
public interface ProgressListener {
    /** Nobody wants to know. */
    ProgressListener NOBODY = (input, rows, share) -> {};

    /**
     * How far it is.
     *
     * @param rows rows of the file read so far
     * @param share share of its bytes read so far, 0 to 1
     */
    void read(Input input, long rows, double share);
}
