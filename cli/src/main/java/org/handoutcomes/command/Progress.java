package org.handoutcomes.command;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.util.List;
import org.handoutcomes.table.Input;

/** Says how far a long run is, on a terminal only, and only after two seconds. */
final class Progress {
    private static final long FIRST_AFTER_NANOS = 2_000_000_000L;
    private static final long EVERY_NANOS = 500_000_000L;

    private final Console console;
    private final boolean terminal = System.console() != null;
    private final long start = System.nanoTime();
    private final long total;
    private long done;
    private long file;
    private long next = FIRST_AFTER_NANOS;

    Progress(Console console, List<Input> inputs) {
        this.console = console;
        this.total = inputs.stream().mapToLong(Progress::size).sum();
    }

    private static long size(Input input) {
        try {
            return Files.isRegularFile(input.path()) ? Files.size(input.path()) : 0;
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Told how many bytes of the current file are read. */
    void read(long bytes) {
        if (bytes < file) {
            done += file; // the next file has begun
        }
        file = bytes;
        long elapsed = System.nanoTime() - start;
        if (terminal && elapsed > next && total > 0) {
            next = elapsed + EVERY_NANOS;
            long read = done + file;
            long left = Math.round(elapsed / 1e9 / read * (total - read));
            console.err().print("\r" + 100 * read / total + " % read, about " + left + " s left   ");
            console.err().flush();
        }
    }
}
