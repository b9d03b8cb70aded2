package lumbrical.output;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.security.DigestOutputStream;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.Stream;
import lumbrical.problem.Remedy;

/**
 * A folder that appears whole or not at all: filled beside its target under another name, then moved into place. A folder that is
 * replaced must hold the file that marks it as ours, so that nobody's own files are lost.
 */
public final class StagedFolder {
    private static final String ASIDE = "-old";

    private final Path target;
    private final String mark;

    private StagedFolder(Path target, String mark) {
        this.target = target;
        this.mark = mark;
    }

    /**
     * The folder to fill, checked before any work is done. If a run was killed just when it had put the old folder aside, that one is put
     * back first.
     *
     * @param mark name of a file that every folder of this kind holds
     * @throws OutputRefusedException if it is a file, its parent does not exist or may not be written, or it is not empty and may not be replaced
     */
    public static StagedFolder at(String name, boolean overwrite, String mark) {
        Path folder;
        try {
            folder = Path.of(name).toAbsolutePath().normalize();
        } catch (InvalidPathException e) {
            throw new OutputRefusedException(Path.of("output"), "this can be no folder name. Choose another.");
        }
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new OutputRefusedException(folder, "this is a file. Name a folder.");
        }
        Path parent = folder.getParent();
        if (parent == null || !Files.isDirectory(parent)) {
            throw new OutputRefusedException(folder, "its parent folder does not exist. Create it, or choose another.");
        }
        if (!OutputFile.mayWrite(parent)) {
            throw new OutputRefusedException(folder, OutputFile.NOT_YOURS);
        }
        StagedFolder staged = new StagedFolder(folder, mark);
        if (!Files.exists(folder)) {
            staged.putBack();
        }
        if (Files.isDirectory(folder) && !empty(folder)) {
            if (!overwrite) {
                throw new OutputRefusedException(
                        folder, "the folder is not empty. Choose another.", Remedy.of(Remedy.Kind.OVERWRITE));
            }
            if (!Files.isRegularFile(folder.resolve(mark))) {
                throw new OutputRefusedException(
                        folder,
                        "the folder holds other files (there is no " + mark
                                + " in it), and they would be lost. Choose another.");
            }
        }
        return staged;
    }

    private static boolean empty(Path folder) {
        try (Stream<Path> files = Files.list(folder)) {
            return files.findAny().isEmpty();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** The folder. */
    public Path path() {
        return target;
    }

    /** The folder as it stands now, if it holds the mark. */
    public Optional<Path> present() {
        return Files.isRegularFile(target.resolve(mark)) ? Optional.of(target) : Optional.empty();
    }

    /**
     * A file written.
     *
     * @param name relative, with {@code /} between folders
     * @param records how many records it holds
     * @param bytes its size
     * @param sha256 hash of its bytes, in hexadecimal
     */
    public record Written(String name, long records, long bytes, String sha256) {}

    /** The folder while it is filled. */
    public static final class Staging implements DataFiles {
        private final Path folder;
        private final List<Written> written = new ArrayList<>();

        private Staging(Path folder) {
            this.folder = folder;
        }

        /** The files written so far, in order. */
        public List<Written> written() {
            return List.copyOf(written);
        }

        @Override
        public void file(String name, Counted content) {
            Path file = folder.resolve(name);
            try {
                TempOutputs.whole(() -> create(file));
                Counting counting = new Counting(Files.newOutputStream(file, StandardOpenOption.WRITE));
                DigestOutputStream digest = new DigestOutputStream(counting, MessageDigest.getInstance("SHA-256"));
                long records;
                try (OutputStream out = new BufferedOutputStream(digest, 1 << 16)) {
                    records = content.writeTo(out);
                }
                OutputFile.force(file);
                written.add(new Written(
                        name,
                        records,
                        counting.bytes,
                        HexFormat.of().formatHex(digest.getMessageDigest().digest())));
            } catch (IOException e) {
                throw new UncheckedIOException(e);
            } catch (NoSuchAlgorithmException e) {
                throw new IllegalStateException("Every Java platform has SHA-256", e);
            }
        }

        private void create(Path file) throws IOException {
            Files.createDirectories(file.getParent(), OutputFile.attributes(folder, OutputFile.OWNER_ONLY_FOLDER));
            Files.createFile(file, OutputFile.attributes(folder, OutputFile.OWNER_ONLY));
        }
    }

    /** Counts the bytes that pass. */
    private static final class Counting extends OutputStream {
        private final OutputStream out;
        private long bytes;

        Counting(OutputStream out) {
            this.out = out;
        }

        @Override
        public void write(int b) throws IOException {
            out.write(b);
            bytes++;
        }

        @Override
        public void write(byte[] block, int from, int length) throws IOException {
            out.write(block, from, length);
            bytes += length;
        }

        @Override
        public void close() throws IOException {
            out.close();
        }
    }

    /**
     * Fills the folder and moves it into place.
     *
     * @throws UncheckedIOException if that fails; the folder is then as it was
     */
    public void fill(Consumer<Staging> content) {
        TempOutputs.removeLeftBeside(target);
        Path parent = target.getParent();
        try {
            Path unfinished = TempOutputs.begin(() -> Files.createTempDirectory(
                    parent,
                    TempOutputs.ownPrefix(target),
                    OutputFile.attributes(parent, OutputFile.OWNER_ONLY_FOLDER)));
            try {
                content.accept(new Staging(unfinished));
                TempOutputs.whole(() -> moveIntoPlace(unfinished));
            } finally {
                OutputFile.removeTree(unfinished);
                TempOutputs.over(unfinished);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private void moveIntoPlace(Path unfinished) throws IOException {
        Path old = unfinished.resolveSibling(unfinished.getFileName() + ASIDE);
        if (Files.exists(target)) {
            Files.move(target, old);
        }
        try {
            Files.move(unfinished, target);
        } catch (IOException e) {
            if (Files.exists(old)) {
                Files.move(old, target);
            }
            throw e;
        }
        if (Files.exists(old)) {
            OutputFile.removeTree(old);
        }
    }

    private void putBack() {
        try {
            for (Path left : TempOutputs.leftBeside(target)) {
                if (String.valueOf(left.getFileName()).endsWith(ASIDE) && Files.isRegularFile(left.resolve(mark))) {
                    Files.move(left, target);
                    return;
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
