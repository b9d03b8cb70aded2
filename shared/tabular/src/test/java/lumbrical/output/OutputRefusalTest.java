package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lumbrical.problem.Remedy;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What may not be written is refused before any work, with what would let it be written; the rest is written whole. */
class OutputRefusalTest {
    @TempDir
    private Path folder;

    private String at(String name) {
        return folder.resolve(name).toString();
    }

    private static OutputRefusedException refusal(Runnable asking) {
        return assertThrows(OutputRefusedException.class, asking::run);
    }

    @Test
    void aFileThatExistsMayBeReplacedIfTheUserSaysSo() throws IOException {
        Files.createFile(folder.resolve("scores.csv"));
        assertEquals(
                List.of(Remedy.of(Remedy.Kind.OVERWRITE)),
                refusal(() -> OutputFile.at(at("scores.csv"), false)).remedies());
        assertEquals(
                List.of(),
                refusal(() -> OutputFile.at(at("none/scores.csv"), false)).remedies());
        OutputFile.at(at("scores.csv"), true);
    }

    @Test
    void theRootOfTheSystemIsNoFile() {
        Path root = folder.getRoot();
        assertEquals(
                "null: this is a folder. Name a file in it.",
                refusal(() -> OutputFile.at(root.toString(), true)).getMessage());
    }

    @Test
    void aDeviceIsNoFile() {
        Path device = Path.of("/dev/null");
        assumeTrue(Files.exists(device) && !Files.isRegularFile(device));
        assertEquals(
                "null: this is a device or the like, not a file. Choose another.",
                refusal(() -> OutputFile.at(device.toString(), true)).getMessage());
    }

    @Test
    void aFolderForTablesMayHoldTheFilesIfTheUserSaysSo() throws IOException {
        Files.createFile(Files.createDirectory(folder.resolve("tables")).resolve("scores.csv"));
        OutputRefusedException refused =
                refusal(() -> OutputFolder.at(at("tables"), false).refuseExisting(List.of("change.csv", "scores.csv")));
        assertEquals("scores.csv: the file exists. Choose another folder.", refused.getMessage());
        assertEquals(List.of(Remedy.of(Remedy.Kind.OVERWRITE)), refused.remedies());
        OutputFolder.at(at("tables"), true).refuseExisting(List.of("scores.csv"));
        assertEquals(
                folder.resolve("tables"),
                OutputFolder.at(at("sub/../tables"), true).path());
        assertEquals(
                "output: this can be no folder name. Choose another.",
                refusal(() -> OutputFolder.at("a\0b", true)).getMessage());
    }

    @Test
    void aFolderThatCannotBeMadeIsAFailureOfTheMachine() throws IOException {
        OutputFolder tables = OutputFolder.at(at("tables"), false);
        Files.createFile(folder.resolve("tables")); // somebody was faster
        assertThrows(UncheckedIOException.class, () -> tables.file("scores.csv"));
    }

    @Test
    void aStagedFolderIsKnownByItsMark() throws IOException {
        StagedFolder staged = StagedFolder.at(at("up"), false, "mark.json");
        assertEquals(folder.resolve("up"), staged.path());
        assertEquals(Optional.empty(), staged.present());
        Files.createFile(Files.createDirectory(folder.resolve("up")).resolve("mark.json"));
        assertEquals(Optional.of(folder.resolve("up")), staged.present());
        assertEquals(
                List.of(Remedy.of(Remedy.Kind.OVERWRITE)),
                refusal(() -> StagedFolder.at(at("up"), false, "mark.json")).remedies());
    }

    @Test
    void aFileInAStagedFolderIsCountedByteByByteToo() {
        StagedFolder.at(at("up"), false, "mark.json").fill(staging -> {
            staging.file("one", out -> {
                for (int i = 0; i < 3; i++) {
                    out.write("abc".charAt(i));
                }
                return 3;
            });
            // the example of FIPS 180-4
            assertEquals(
                    List.of(new StagedFolder.Written(
                            "one", 3, 3, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad")),
                    staging.written());
        });
    }

    @Test
    void aTableIsWrittenWithItsHeader() throws IOException {
        OutputTable<String> table =
                new OutputTable<>("One", List.of(OutputColumn.text("cell", "Anything", Value::text)));
        OutputFile file = OutputFile.at(at("t.csv"), false);
        file.writeTable(table, List.of("\u00E4", "=1"), true);
        assertEquals("cell\r\n\u00E4\r\n'=1\r\n", Files.readString(file.target()));
    }

    @Test
    void whatAKilledRunLeftMayBeRemovedBeforeAnythingIsWritten() throws IOException {
        Path left = Files.writeString(folder.resolve(".t.csv.unfinished-x-0"), "half");
        OutputFile.at(at("t.csv"), false).removeLeftovers();
        assertFalse(Files.exists(left));
    }

    @Test
    void nothingElseOfThisProcessIsEnding() {
        assertFalse(OutputFile.runEnded());
    }
}
