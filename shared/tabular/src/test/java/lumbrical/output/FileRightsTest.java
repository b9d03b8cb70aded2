package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Section 1 of the formats: new outputs follow the user's mask, a replaced file keeps its rights, secrets are the owner's. */
class FileRightsTest {
    @TempDir
    private Path folder;

    @BeforeEach
    void onlyWhereTheSystemKeepsRights() {
        assumeTrue(folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
    }

    private static String rights(Path file) throws IOException {
        return PosixFilePermissions.toString(Files.getPosixFilePermissions(file));
    }

    @Test
    void aNewFileHasTheRightsThatTheMaskLeaves() throws IOException {
        Path other = Files.createFile(folder.resolve("by-hand.csv"));
        Path file = folder.resolve("scores.csv");
        OutputFile.at(file.toString(), false).write(out -> {
            try (var left = Files.newDirectoryStream(folder, ".*")) {
                for (Path unfinished : left) {
                    assertEquals("rw-------", rights(unfinished));
                }
            }
            out.write('x');
        });
        assertEquals(rights(other), rights(file));
        assertEquals(2, Files.list(folder).count(), "nothing is left beside the file");
    }

    @Test
    void aReplacedFileKeepsItsRights() throws IOException {
        Path file = Files.createFile(folder.resolve("scores.csv"));
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-rw-r--"));
        OutputFile.at(file.toString(), true).write(out -> out.write('x'));
        assertEquals("rw-rw-r--", rights(file));
    }

    @Test
    void aSecretIsItsOwnersAlone() throws IOException {
        Path file = Files.createFile(folder.resolve("key.json"));
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-rw-r--"));
        OutputFile.at(file.toString(), true).ownerOnly().write(out -> out.write('x'));
        assertEquals("rw-------", rights(file));
    }
}
