package lumbrical.output;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.AtomicMoveNotSupportedException;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.Comparator;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lumbrical.problem.Remedy;

/**
 * A file that appears whole or not at all: written beside its target under another name, flushed to the disk, then moved into
 * place. A killed run leaves the old file or none; what it left beside is removed by the next run for the same target.
 */
public final class OutputFile {
    static final String NOT_YOURS = "you may not write in its folder. Choose another, or ask for the right to.";
    static final String OWNER_ONLY = "rw-------";
    static final String OWNER_ONLY_FOLDER = "rwx------";

    private final Path target;
    private final boolean ownerOnly;

    private OutputFile(Path target, boolean ownerOnly) {
        this.target = target;
        this.ownerOnly = ownerOnly;
    }

    /** This file, but only its owner may read it, whatever the user's mask leaves. */
    public OutputFile ownerOnly() {
        return new OutputFile(target, true);
    }

    /** Writes the content. */
    @FunctionalInterface
    public interface Content {
        /** @throws IOException if the disk is full or the like */
        void writeTo(OutputStream out) throws IOException;
    }

    /**
     * The file to write, checked before any work is done.
     *
     * @throws OutputRefusedException if it exists and {@code overwrite} is off, if it is a folder or a device, or if its folder does not exist or may not be written
     */
    public static OutputFile at(String name, boolean overwrite) {
        Path target;
        try {
            target = Path.of(name).toAbsolutePath().normalize();
        } catch (InvalidPathException e) {
            throw new OutputRefusedException(Path.of("output"), "this can be no file name. Choose another.");
        }
        if (target.getFileName() == null || Files.isDirectory(target)) {
            throw new OutputRefusedException(target, "this is a folder. Name a file in it.");
        }
        if (target.getParent() == null || !Files.isDirectory(target.getParent())) {
            throw new OutputRefusedException(
                    target, "its folder does not exist. Create the folder, or choose another.");
        }
        if (!mayWrite(target.getParent())) {
            throw new OutputRefusedException(target, NOT_YOURS);
        }
        if (Files.exists(target) && !Files.isRegularFile(target)) {
            throw new OutputRefusedException(target, "this is a device or the like, not a file. Choose another.");
        }
        if (Files.exists(target) && !overwrite) {
            throw new OutputRefusedException(
                    target, "the file exists. Choose another name.", Remedy.of(Remedy.Kind.OVERWRITE));
        }
        return new OutputFile(target, false);
    }

    /**
     * Whether a user is ending this process (Ctrl-C), so that a failure to write is no fault of the disk: the unfinished files of all
     * outputs have been removed.
     */
    public static boolean runEnded() {
        return TempOutputs.ended();
    }

    /** The file. */
    public Path target() {
        return target;
    }

    /** Removes what a killed run left for this target. */
    public void removeLeftovers() {
        TempOutputs.removeLeftBeside(target);
    }

    /** Whether the user may write in a folder. Elsewhere than under POSIX Java may say no of a network folder where yes is right (from memory). */
    static boolean mayWrite(Path folder) {
        return Files.isWritable(folder)
                || !folder.getFileSystem().supportedFileAttributeViews().contains("posix");
    }

    static void removeTree(Path path) throws IOException {
        if (Files.notExists(path)) {
            return;
        }
        try (Stream<Path> tree = Files.walk(path)) {
            for (Path each : tree.sorted(Comparator.reverseOrder()).toList()) {
                Files.deleteIfExists(each);
            }
        }
    }

    /** Writes the content with the help of temporary files. */
    @FunctionalInterface
    public interface ScratchContent {
        /** @throws IOException if the disk is full or the like */
        void writeTo(OutputStream out, Path scratch) throws IOException;
    }

    /** Writes the file as {@link #write} does; temporary files go into a folder beside it that is removed afterwards. */
    public void writeWithScratch(ScratchContent content) {
        write(out -> {
            Path scratch = TempOutputs.begin(
                    () -> Files.createTempDirectory(target.getParent(), TempOutputs.ownPrefix(target)));
            try {
                content.writeTo(out, scratch);
            } finally {
                removeTree(scratch);
                TempOutputs.over(scratch);
            }
        });
    }

    /**
     * Writes the file and moves it into place.
     *
     * @throws UncheckedIOException if that fails; the target is then as it was
     */
    public void write(Content content) {
        removeLeftovers();
        try {
            Path unfinished = TempOutputs.begin(this::createUnfinished);
            try {
                try (OutputStream out = Files.newOutputStream(unfinished, StandardOpenOption.WRITE)) {
                    content.writeTo(out);
                }
                force(unfinished);
                if (!ownerOnly) {
                    FileRights.give(unfinished, target);
                }
                TempOutputs.whole(() -> moveIntoPlace(unfinished));
            } finally {
                Files.deleteIfExists(unfinished);
                TempOutputs.over(unfinished);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Writes text, as {@link #write} does. */
    public void writeText(Consumer<Writer> content) {
        write(out -> {
            Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8), 1 << 16);
            content.accept(writer);
            writer.flush();
        });
    }

    /** Writes a table as CSV, as {@link #write} does. */
    public <R> void writeTable(OutputTable<R> table, Iterable<R> rows, boolean guard) {
        writeText(out -> {
            CsvTableWriter<R> csv = new CsvTableWriter<>(table, out, guard);
            rows.forEach(csv::write);
            csv.flush();
        });
    }

    /** An empty file beside the target. Named by the process and a number: a random name would take long to start up. */
    private Path createUnfinished() throws IOException {
        for (int number = 0; ; number++) {
            try {
                Path unfinished = target.resolveSibling(TempOutputs.ownPrefix(target) + number);
                return Files.createFile(unfinished, attributes(target.getParent(), OWNER_ONLY));
            } catch (FileAlreadyExistsException e) {
                // another thread of this process writes the same file: the next number
            }
        }
    }

    private void moveIntoPlace(Path unfinished) throws IOException {
        try {
            Files.move(unfinished, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } catch (AtomicMoveNotSupportedException e) {
            Files.move(unfinished, target, StandardCopyOption.REPLACE_EXISTING);
        }
    }

    static void force(Path file) throws IOException {
        try (FileChannel channel = FileChannel.open(file, StandardOpenOption.WRITE)) {
            channel.force(true);
        }
    }

    /** Owner-only rights where the system has them. */
    static FileAttribute<?>[] attributes(Path folder, String rights) {
        return folder.getFileSystem().supportedFileAttributeViews().contains("posix")
                ? new FileAttribute<?>[] {PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(rights))}
                : new FileAttribute<?>[0];
    }
}
