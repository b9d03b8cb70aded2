package lumbrical.output;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.List;
import lumbrical.problem.Remedy;

/** A folder to write several files into; created if its parent exists. */
public final class OutputFolder {
    private final Path folder;
    private final boolean overwrite;

    private OutputFolder(Path folder, boolean overwrite) {
        this.folder = folder;
        this.overwrite = overwrite;
    }

    /**
     * The folder to write into, checked before any work is done.
     *
     * @throws OutputRefusedException if it is a file, its parent does not exist, or it may not be written
     */
    public static OutputFolder at(String name, boolean overwrite) {
        Path folder;
        try {
            folder = Path.of(name).toAbsolutePath().normalize();
        } catch (InvalidPathException e) {
            throw new OutputRefusedException(Path.of("output"), "this can be no folder name. Choose another.");
        }
        if (Files.exists(folder) && !Files.isDirectory(folder)) {
            throw new OutputRefusedException(folder, "this is a file. Name a folder.");
        }
        if (folder.getParent() != null && !Files.isDirectory(folder.getParent())) {
            throw new OutputRefusedException(folder, "its parent folder does not exist. Create it, or choose another.");
        }
        if (!OutputFile.mayWrite(Files.exists(folder) || folder.getParent() == null ? folder : folder.getParent())) {
            throw new OutputRefusedException(
                    folder, "you may not write there. Choose another, or ask for the right to.");
        }
        return new OutputFolder(folder, overwrite);
    }

    /** The folder. */
    public Path path() {
        return folder;
    }

    /** @throws OutputRefusedException if one of the files is there and may not be replaced */
    public void refuseExisting(List<String> names) {
        for (String name : names) {
            if (!overwrite && Files.exists(folder.resolve(name))) {
                throw new OutputRefusedException(
                        folder.resolve(name),
                        "the file exists. Choose another folder.",
                        Remedy.of(Remedy.Kind.OVERWRITE));
            }
        }
    }

    /** A file in the folder, which is created if need be. */
    public OutputFile file(String name) {
        try {
            Files.createDirectories(folder);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return OutputFile.at(folder.resolve(name).toString(), overwrite);
    }
}
