package org.handoutcomes.output;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.Set;

/**
 * What this process is writing and has not moved into place, so that it is removed when a user ends the process. A process that
 * is killed outright removes nothing; the next run does it then.
 */
final class Unfinished {
    private static final int ATTEMPTS = 20;
    private static final Unfinished HERE = new Unfinished();

    private final Set<Path> paths = new LinkedHashSet<>();
    private boolean watched;
    private boolean ended;

    private Unfinished() {}

    /** A step that moves something into place. */
    @FunctionalInterface
    interface Step {
        /** @throws IOException if the system refuses */
        void run() throws IOException;
    }

    /** A file or folder begun. */
    static void begun(Path path) {
        HERE.add(path);
    }

    /** A file or folder that has been moved into place or removed. */
    static void over(Path path) {
        HERE.remove(path);
    }

    /** Does {@code step} whole: the process does not end in the middle of it unless it is killed outright. */
    static void whole(Step step) throws IOException {
        synchronized (HERE) {
            if (HERE.ended) {
                throw new IOException("the run was ended");
            }
            step.run();
        }
    }

    private synchronized void add(Path path) {
        if (!watched) {
            Runtime.getRuntime().addShutdownHook(new Thread(this::removeAll, "remove-unfinished"));
            watched = true;
        }
        paths.add(path);
    }

    private synchronized void remove(Path path) {
        paths.remove(path);
    }

    private synchronized void removeAll() {
        ended = true;
        paths.forEach(Unfinished::removeWhileWritten);
    }

    /** Whoever writes goes on until the process is gone, so a folder may fill again while it is emptied. */
    private static void removeWhileWritten(Path path) {
        for (int attempt = 0; attempt < ATTEMPTS; attempt++) {
            try {
                OutputFile.removeTree(path);
                return;
            } catch (IOException | UncheckedIOException e) {
                // once more; what is left at last is removed by the next run
            }
        }
    }
}
