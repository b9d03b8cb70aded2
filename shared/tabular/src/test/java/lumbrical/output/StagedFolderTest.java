package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class StagedFolderTest {
    @TempDir
    private Path folder;

    private StagedFolder at(String name, boolean overwrite) {
        return StagedFolder.at(folder.resolve(name).toString(), overwrite, "mark.json");
    }

    private static void put(StagedFolder.Staging staging, String name, String text) {
        staging.file(name, out -> {
            out.write(text.getBytes(StandardCharsets.UTF_8));
            return 1;
        });
    }

    private void fill(String text, boolean overwrite) {
        at("up", overwrite).fill(staging -> {
            put(staging, "data/a.csv", text);
            put(staging, "mark.json", "{}");
        });
    }

    private List<String> names() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(f -> String.valueOf(f.getFileName())).sorted().toList();
        }
    }

    /** The hash of 'abc' is the example of FIPS 180-4. */
    @Test
    void tellsNameSizeAndHashOfWhatWasWritten() {
        at("up", false).fill(staging -> {
            put(staging, "data/a.csv", "abc");
            assertEquals(
                    List.of(new StagedFolder.Written(
                            "data/a.csv", 1, 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")),
                    staging.written());
        });
    }

    @Test
    void replacesAFolderOfItsOwnWhole() throws IOException {
        fill("old", false);
        Files.writeString(folder.resolve("up/data/more.csv"), "left from before");
        fill("new", true);
        assertEquals("new", Files.readString(folder.resolve("up/data/a.csv")));
        assertFalse(Files.exists(folder.resolve("up/data/more.csv")));
        assertEquals(List.of("up"), names());
    }

    @Test
    void aFailureLeavesTheOldFolderAndNoOther() throws IOException {
        fill("old", false);
        assertThrows(UncheckedIOException.class, () -> at("up", true).fill(staging -> {
            put(staging, "data/a.csv", "new");
            staging.file("data/b.csv", out -> {
                out.write(new byte[100_000]);
                throw new IOException("No space left on device");
            });
        }));
        assertEquals("old", Files.readString(folder.resolve("up/data/a.csv")));
        assertEquals(List.of("up"), names());
    }

    @Test
    void refusesWhatIsNotItsOwn() throws IOException {
        Files.writeString(folder.resolve("file"), "");
        Files.createDirectories(folder.resolve("mine"));
        Files.writeString(folder.resolve("mine/thesis"), "");
        fill("old", false);
        assertRefused("file", true, "this is a file. Name a folder.");
        assertRefused("nowhere/deep", true, "its parent folder does not exist. Create it, or choose another.");
        assertRefused("mine", false, "the folder is not empty. Choose another.");
        assertRefused(
                "mine",
                true,
                "the folder holds other files (there is no mark.json in it), and they would be lost. Choose another.");
        assertRefused("up", false, "the folder is not empty. Choose another.");
        assertThrows(OutputRefusedException.class, () -> StagedFolder.at("\0", true, "mark.json"));
    }

    private void assertRefused(String name, boolean overwrite, String why) {
        String message = assertThrows(OutputRefusedException.class, () -> at(name, overwrite))
                .getMessage();
        assertTrue(message.endsWith(why), message);
    }

    @Test
    void removesWhatAKilledRunLeftForTheSameFolderOnly() throws IOException {
        Files.createDirectories(folder.resolve(".up.unfinished-1/data"));
        Files.createDirectories(folder.resolve(".up.unfinished-1-old"));
        Files.createDirectories(folder.resolve(".other.unfinished-1"));
        fill("new", false);
        assertEquals(List.of(".other.unfinished-1", "up"), names());
    }

    /** A run that is killed between its two renames: the old folder stands aside, the new one is whole under its other name. */
    @Test
    void aFolderThatAKilledRunPutAsideIsPutBack() throws IOException {
        fill("old", false);
        Files.move(folder.resolve("up"), folder.resolve(".up.unfinished-1-old"));
        Files.createDirectories(folder.resolve(".up.unfinished-1"));
        assertRefused("up", false, "the folder is not empty. Choose another.");
        assertEquals("old", Files.readString(folder.resolve("up/data/a.csv")));
        assertThrows(UncheckedIOException.class, () -> at("up", true).fill(staging -> {
            throw new UncheckedIOException(new IOException("No space left on device"));
        }));
        assertEquals("old", Files.readString(folder.resolve("up/data/a.csv")));
        assertEquals(List.of("up"), names());
    }

    @Test
    void aFolderAsideIsLeftWhereANewOneStands() throws IOException {
        fill("new", false);
        Files.createDirectories(folder.resolve(".up.unfinished-1-old"));
        Files.writeString(folder.resolve(".up.unfinished-1-old/mark.json"), "{}");
        assertEquals("new", Files.readString(at("up", true).path().resolve("data/a.csv")));
    }

    @Test
    void onlyTheOwnerMayReadIt() throws IOException {
        Assumptions.assumeTrue(
                folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
        fill("new", false);
        assertEquals(
                "rwx------", PosixFilePermissions.toString(Files.getPosixFilePermissions(folder.resolve("up/data"))));
        assertEquals(
                "rw-------",
                PosixFilePermissions.toString(Files.getPosixFilePermissions(folder.resolve("up/data/a.csv"))));
    }
}
