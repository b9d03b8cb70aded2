package lumbrical.output;

import java.io.IOException;
import java.io.OutputStream;

/** Takes the files of a folder that is being filled. */
@FunctionalInterface
public interface DataFiles {
    /** Content that says how many records it wrote. */
    @FunctionalInterface
    interface Counted {
        /**
         * Writes the content.
         *
         * @return how many records it holds
         * @throws IOException if the disk is full or the like
         */
        long writeTo(OutputStream out) throws IOException;
    }

    /**
     * Writes a file.
     *
     * @param name relative, with {@code /} between folders
     */
    void file(String name, Counted content);
}
