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
import java.nio.file.attribute.FileTime;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class OutputFileTest {
    @TempDir
    private Path folder;

    private List<String> names() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(f -> String.valueOf(f.getFileName())).sorted().toList();
        }
    }

    private String at(String name) {
        return folder.resolve(name).toString();
    }

    private static void write(OutputFile file, String text) {
        file.write(out -> out.write(text.getBytes(StandardCharsets.UTF_8)));
    }

    @Test
    void writesTheFileAndNothingElse() throws IOException {
        write(OutputFile.at(at("Ärzte liste.csv"), false), "new");
        assertEquals(List.of("Ärzte liste.csv"), names());
        assertEquals("new", Files.readString(folder.resolve("Ärzte liste.csv")));
    }

    @Test
    void refusesAFileThatExistsUnlessToldToReplaceIt() throws IOException {
        Files.writeString(folder.resolve("scores.csv"), "old");
        OutputRefusedException refused =
                assertThrows(OutputRefusedException.class, () -> OutputFile.at(at("scores.csv"), false));
        assertEquals("scores.csv: the file exists. Choose another name.", refused.getMessage());
        write(OutputFile.at(at("scores.csv"), true), "new");
        assertEquals("new", Files.readString(folder.resolve("scores.csv")));
    }

    @Test
    void refusesAFolderAMissingFolderAndWhatCanBeNoName() throws IOException {
        Files.createDirectory(folder.resolve("sub"));
        assertEquals(
                "sub: this is a folder. Name a file in it.",
                assertThrows(OutputRefusedException.class, () -> OutputFile.at(at("sub"), true))
                        .getMessage());
        assertEquals(
                "x.csv: its folder does not exist. Create the folder, or choose another.",
                assertThrows(OutputRefusedException.class, () -> OutputFile.at(at("none/x.csv"), true))
                        .getMessage());
        assertEquals(
                "output: this can be no file name. Choose another.",
                assertThrows(OutputRefusedException.class, () -> OutputFile.at("a\0b", true))
                        .getMessage());
    }

    @Test
    void aFailureWhileWritingLeavesTheOldFileAndNoOther() throws IOException {
        Files.writeString(folder.resolve("book.xlsx"), "old");
        OutputFile file = OutputFile.at(at("book.xlsx"), true);
        UncheckedIOException failed = assertThrows(
                UncheckedIOException.class,
                () -> file.writeWithScratch((out, scratch) -> {
                    out.write(new byte[100_000]);
                    Files.writeString(scratch.resolve("part"), "half");
                    throw new IOException("no space left on the device");
                }));
        assertEquals("no space left on the device", failed.getCause().getMessage());
        assertEquals(List.of("book.xlsx"), names());
        assertEquals("old", Files.readString(folder.resolve("book.xlsx")));
    }

    @Test
    void removesWhatAKilledRunLeftForTheSameTargetOnly() throws IOException {
        Files.writeString(folder.resolve(".book.xlsx.unfinished-123"), "half");
        Path scratch = Files.createDirectory(folder.resolve(".book.xlsx.unfinished-456"));
        Files.writeString(scratch.resolve("poi-sxssf-sheet.xml"), "rows");
        Files.writeString(folder.resolve(".other.xlsx.unfinished-123"), "half");
        Files.writeString(folder.resolve("book.xlsx.unfinished-1"), "a user's own file");
        write(OutputFile.at(at("book.xlsx"), false), "new");
        assertEquals(List.of(".other.xlsx.unfinished-123", "book.xlsx", "book.xlsx.unfinished-1"), names());
    }

    @Test
    void leavesAloneWhatAnotherRunningProcessWrites() throws IOException {
        Optional<ProcessHandle> running = ProcessHandle.current().parent().filter(ProcessHandle::isAlive);
        Assumptions.assumeTrue(running.isPresent());
        String live = ".book.xlsx.unfinished-" + running.orElseThrow().pid() + "-0";
        Files.writeString(folder.resolve(live), "half");
        Path older = Files.writeString(folder.resolve(live + "1"), "of a process of that number that ended");
        Files.setLastModifiedTime(older, FileTime.fromMillis(0));
        Files.writeString(folder.resolve(".book.xlsx.unfinished-" + endedProcess() + "-0"), "half");
        Files.writeString(
                folder.resolve(
                        ".book.xlsx.unfinished-" + ProcessHandle.current().pid() + "-7"),
                "of an earlier one of our number");
        write(OutputFile.at(at("book.xlsx"), false), "new");
        assertEquals(List.of(live, "book.xlsx"), names());
    }

    private static long endedProcess() throws IOException {
        Process ended = new ProcessBuilder(
                        Path.of(System.getProperty("java.home"), "bin", "java").toString(), "-version")
                .redirectErrorStream(true)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();
        ended.onExit().join();
        return ended.pid();
    }

    @Test
    void aFolderThatMayNotBeWrittenIsRefusedBeforeAnyWork() throws IOException {
        Path mine = Files.createDirectory(folder.resolve("mine"));
        Assumptions.assumeTrue(
                mine.getFileSystem().supportedFileAttributeViews().contains("posix"));
        Files.setPosixFilePermissions(mine, PosixFilePermissions.fromString("r-x------"));
        Assumptions.assumeFalse(Files.isWritable(mine)); // an administrator may write everywhere
        String advice = ": you may not write in its folder. Choose another, or ask for the right to.";
        assertEquals(
                "scores.csv" + advice,
                assertThrows(OutputRefusedException.class, () -> OutputFile.at(at("mine/scores.csv"), true))
                        .getMessage());
        assertEquals(
                "tables: you may not write there. Choose another, or ask for the right to.",
                assertThrows(OutputRefusedException.class, () -> OutputFolder.at(at("mine/tables"), true))
                        .getMessage());
        assertEquals(
                "upload" + advice,
                assertThrows(OutputRefusedException.class, () -> StagedFolder.at(at("mine/upload"), true, "mark"))
                        .getMessage());
    }

    @Test
    void aFolderThatMayNotBeWrittenFailsAndKeepsTheOldFile() throws IOException {
        Assumptions.assumeTrue(
                folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
        Files.writeString(folder.resolve("scores.csv"), "old");
        OutputFile file = OutputFile.at(at("scores.csv"), true);
        Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("r-x------"));
        try {
            Assumptions.assumeFalse(Files.isWritable(folder)); // an administrator may write everywhere
            assertThrows(UncheckedIOException.class, () -> write(file, "new"));
            assertEquals("old", Files.readString(folder.resolve("scores.csv")));
        } finally {
            Files.setPosixFilePermissions(folder, PosixFilePermissions.fromString("rwx------"));
        }
    }

    @Test
    void aFolderForTablesIsCreatedWhenTheFirstFileIsWritten() throws IOException {
        OutputFolder tables = OutputFolder.at(at("tables"), false);
        tables.refuseExisting(List.of("scores.csv"));
        assertFalse(Files.exists(folder.resolve("tables")));
        write(tables.file("scores.csv"), "new");
        assertTrue(Files.exists(folder.resolve("tables/scores.csv")));
        assertEquals(
                "scores.csv: the file exists. Choose another folder.",
                assertThrows(OutputRefusedException.class, () -> OutputFolder.at(at("tables"), false)
                                .refuseExisting(List.of("scores.csv")))
                        .getMessage());
        Files.writeString(folder.resolve("plain"), "");
        assertEquals(
                "plain: this is a file. Name a folder.",
                assertThrows(OutputRefusedException.class, () -> OutputFolder.at(at("plain"), false))
                        .getMessage());
        assertEquals(
                "tables: its parent folder does not exist. Create it, or choose another.",
                assertThrows(OutputRefusedException.class, () -> OutputFolder.at(at("a/b/tables"), false))
                        .getMessage());
    }
}
