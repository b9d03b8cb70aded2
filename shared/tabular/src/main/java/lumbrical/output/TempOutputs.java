package lumbrical.output;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.DirectoryStream;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What this process is writing and has not moved into place, so that it is removed when a user ends the process. A process that
 * is killed outright removes nothing; the next run does it then.
 */
final class TempOutputs {
    private static final int ATTEMPTS = 20;
    private static final Pattern PROCESS = Pattern.compile("(\\d{1,18})-\\d");
    private static final TempOutputs HERE = new TempOutputs();

    private final Set<Path> paths = new LinkedHashSet<>();
    private boolean watched;
    private boolean ended;

    private TempOutputs() {}

    /** A step that makes something or moves it into place. */
    @FunctionalInterface
    interface Step {
        /** @throws IOException if the system refuses */
        void run() throws IOException;
    }

    /** Makes a file or folder. */
    @FunctionalInterface
    interface Making {
        /** @throws IOException if the system refuses */
        Path make() throws IOException;
    }

    /** The file or folder that {@code making} makes, noted from its first moment on. */
    static Path begin(Making making) throws IOException {
        return HERE.add(making);
    }

    /** A file or folder that has been moved into place or removed. */
    static void over(Path path) {
        HERE.remove(path);
    }

    /** How the names begin of what is written beside {@code target} before it is moved into place. */
    static String prefix(Path target) {
        return "." + target.getFileName() + ".unfinished-";
    }

    /** As {@link #prefix}, of what this process writes. */
    static String ownPrefix(Path target) {
        return prefix(target) + ProcessHandle.current().pid() + "-";
    }

    /** What killed runs left beside {@code target}, by name. */
    static List<Path> leftBeside(Path target) throws IOException {
        List<Path> left = new ArrayList<>();
        Path folder = target.resolveSibling("");
        try (DirectoryStream<Path> beside = Files.newDirectoryStream(
                folder, entry -> String.valueOf(entry.getFileName()).startsWith(prefix(target)))) {
            for (Path entry : beside) {
                if (!isBeingWritten(entry, prefix(target))) {
                    left.add(entry);
                }
            }
        }
        left.sort(null);
        return left;
    }

    /** Whether another process of this machine, whose number is in the name, goes on writing: it runs, and began before this was made. */
    private static boolean isBeingWritten(Path entry, String prefix) throws IOException {
        Matcher process = PROCESS.matcher(String.valueOf(entry.getFileName()).substring(prefix.length()));
        if (!process.lookingAt()) {
            return false;
        }
        long number = Long.parseLong(process.group(1));
        Optional<ProcessHandle> other = ProcessHandle.of(number)
                .filter(p -> p.isAlive() && number != ProcessHandle.current().pid());
        try {
            Instant made = Files.getLastModifiedTime(entry).toInstant();
            return other.filter(p -> p.info().startInstant().stream().noneMatch(made::isBefore))
                    .isPresent();
        } catch (NoSuchFileException e) {
            return true; // just moved into place
        }
    }

    /** Removes what killed runs left beside {@code target}. */
    static void removeLeftBeside(Path target) {
        try {
            for (Path left : leftBeside(target)) {
                OutputFile.removeTree(left);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /**
     * Does {@code step} whole, or not at all once the process is being ended: what was removed by then must not come back. The
     * process does not end in the middle of it unless it is killed outright.
     */
    static void whole(Step step) throws IOException {
        synchronized (HERE) {
            HERE.refuseOnceEnded();
            step.run();
        }
    }

    /** Whether the process is being ended, and what it was writing removed. */
    static boolean ended() {
        synchronized (HERE) {
            return HERE.ended;
        }
    }

    private synchronized Path add(Making making) throws IOException {
        refuseOnceEnded();
        if (!watched) {
            try {
                Runtime.getRuntime().addShutdownHook(new Thread(this::removeAll, "remove-unfinished"));
            } catch (IllegalStateException e) {
                throw new IOException("the run was ended", e);
            }
            watched = true;
        }
        Path path = making.make();
        paths.add(path);
        return path;
    }

    private void refuseOnceEnded() throws IOException {
        if (ended) {
            throw new IOException("the run was ended");
        }
    }

    private synchronized void remove(Path path) {
        paths.remove(path);
    }

    private synchronized void removeAll() {
        ended = true;
        paths.forEach(TempOutputs::removeWhileWritten);
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
