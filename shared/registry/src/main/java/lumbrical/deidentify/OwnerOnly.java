package lumbrical.deidentify;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermission;
import java.util.EnumSet;
import java.util.Set;
import lumbrical.problem.Place;
import lumbrical.tabular.UnreadableInputException;

/** Refuses secrets that others may read, on systems that can tell. */
final class OwnerOnly {
    private static final Set<PosixFilePermission> OTHERS = EnumSet.of(
            PosixFilePermission.GROUP_READ,
            PosixFilePermission.GROUP_WRITE,
            PosixFilePermission.OTHERS_READ,
            PosixFilePermission.OTHERS_WRITE);

    private OwnerOnly() {}

    /** @throws UnreadableInputException if others than the owner may read or write the file */
    static void require(Path path, Place place) {
        if (!path.getFileSystem().supportedFileAttributeViews().contains("posix")) {
            return;
        }
        try {
            Set<PosixFilePermission> rights = EnumSet.copyOf(OTHERS);
            rights.retainAll(Files.getPosixFilePermissions(path));
            if (!rights.isEmpty()) {
                throw new UnreadableInputException(
                        place,
                        "others than its owner may read or change this file. Take their rights away (chmod 600) and run the"
                                + " command again.");
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
