package lumbrical.output;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.util.Set;

/** Who may read a finished file, on systems that keep such rights. */
final class FileRights {
    private FileRights() {}

    /** Gives {@code finished} the rights of the file it replaces, else those that the user's mask leaves to a new file. */
    static void give(Path finished, Path target) throws IOException {
        if (!finished.getFileSystem().supportedFileAttributeViews().contains("posix")) {
            return;
        }
        Files.setPosixFilePermissions(
                finished, Files.isRegularFile(target) ? Files.getPosixFilePermissions(target) : ofNewFile(finished));
    }

    /** The mask itself cannot be asked for; an empty file made without further ado shows what it leaves. */
    private static Set<PosixFilePermission> ofNewFile(Path beside) throws IOException {
        Path probe = beside.resolveSibling(beside.getFileName() + "-rights");
        try {
            return Files.getPosixFilePermissions(Files.createFile(probe));
        } finally {
            Files.deleteIfExists(probe);
        }
    }
}
