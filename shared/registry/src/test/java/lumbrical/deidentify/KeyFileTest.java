package lumbrical.deidentify;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class KeyFileTest {
    @TempDir
    private Path folder;

    private KeyFile open() {
        return KeyFile.open(folder.resolve("keys.json").toString(), folder.resolve("upload"));
    }

    private String refusal(Path file) {
        return assertThrows(
                        UnreadableInputException.class, () -> KeyFile.open(file.toString(), folder.resolve("upload")))
                .getMessage();
    }

    @Test
    void theSameKeyFileGivesTheSamePseudonymsAndTakesNewPatients() {
        KeyFile first = open();
        String one = first.subject("P1");
        String right = first.episode("P1", "E1");
        int shift = first.shiftDays("P1");
        first.save();
        KeyFile second = open();
        assertEquals(right, second.episode("P1", "E1"), "asked in another order");
        assertEquals(one, second.subject("P1"));
        assertEquals(shift, second.shiftDays("P1"));
        String two = second.subject("P2");
        second.save();
        assertEquals(two, open().subject("P2"));
        assertNotEquals(one, two);
    }

    /** While one run keeps it no other can, and a lock file that a killed run left does not matter. */
    @Test
    void oneRunAtATimeKeepsAKeyFile() throws IOException {
        String name = folder.resolve("keys.json").toString();
        Path beside = Files.writeString(folder.resolve("keys.json.lock"), "left by a killed run");
        try (KeyFileLock first = KeyFile.keep(name, folder.resolve("upload"))) {
            assertEquals(
                    "keys.json: another run is using this key file. Wait until it has ended, and run the command again.",
                    assertThrows(UnreadableInputException.class, () -> KeyFile.keep(name, folder.resolve("upload")))
                            .getMessage());
            assertTrue(Files.exists(beside), first.toString());
        }
        assertFalse(Files.exists(beside));
        KeyFile.keep(name, folder.resolve("upload")).close();
        assertEquals(
                "keys.json: its folder does not exist. Create the folder, or choose another.",
                assertThrows(
                                UnreadableInputException.class,
                                () -> KeyFile.keep(folder + "/nowhere/keys.json", folder.resolve("upload")))
                        .getMessage());
        assertFalse(Files.exists(folder.resolve("keys.json")));
    }

    @Test
    void pseudonymsAreSixteenConsonantsAndEpisodesAreNumbered() {
        KeyFile keys = open();
        assertTrue(keys.subject("P1").matches("[B-DF-HJ-NP-TV-XZ]{16}"), keys.subject("P1"));
        assertEquals(keys.subject("P1") + "-1", keys.episode("P1", "left hand"));
        assertEquals(keys.subject("P1") + "-2", keys.episode("P1", "right hand"));
    }

    @Test
    void nothingIsWrittenBeforeItIsSaved() {
        open().subject("P1");
        assertFalse(Files.exists(folder.resolve("keys.json")));
    }

    @Test
    void onlyTheOwnerMayReadIt() throws IOException {
        Assumptions.assumeTrue(
                folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
        KeyFile keys = open();
        keys.subject("P1");
        keys.save();
        Path file = folder.resolve("keys.json");
        assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)));
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-r-----"));
        assertEquals(
                "keys.json: others than its owner may read or change this file. Take their rights away (chmod 600) and run the"
                        + " command again.",
                refusal(file));
    }

    @Test
    void aFileThatIsNotOursIsRefusedAndLeftAlone() throws IOException {
        for (String content : new String[] {
            "patient,name\nP1,x\n",
            "{\"format\": \"another\", \"version\": 1}",
            "{\"format\": \"lumbrical key file\", \"version\": 1, \"secret\": \"c2hvcnQ=\", \"patients\": []}",
            "{\"format\": \"lumbrical key file\", \"version\": 1}",
            "",
        }) {
            Path file = Files.writeString(folder.resolve("other.json"), content);
            if (folder.getFileSystem().supportedFileAttributeViews().contains("posix")) {
                Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
            }
            assertTrue(refusal(file).contains("key file"), refusal(file));
            assertEquals(content, Files.readString(file));
        }
    }

    @Test
    void aKeyFileInTheFolderThatIsSentIsRefused() {
        assertEquals(
                "keys.json: the key file lies in the folder that is sent. Whoever has it can tell who is who: keep it"
                        + " elsewhere.",
                refusal(folder.resolve("upload/deep/keys.json")));
    }

    private void link(Path link, Path target) {
        try {
            Files.createSymbolicLink(link, target);
        } catch (IOException | UnsupportedOperationException e) {
            Assumptions.abort("no links on this system");
        }
    }

    @Test
    void aLinkThatLeadsIntoTheFolderIsSeenThrough() throws IOException {
        Path upload = Files.createDirectories(folder.resolve("upload"));
        link(folder.resolve("elsewhere"), upload);
        String inside = "keys.json: the key file lies in the folder that is sent.";
        assertTrue(refusal(folder.resolve("elsewhere/keys.json")).startsWith(inside));
        link(folder.resolve("keys.json"), upload.resolve("keys.json"));
        assertTrue(refusal(folder.resolve("keys.json")).startsWith(inside), "of a file that is not there yet");
        assertTrue(refusal(folder.resolve("elsewhere/../upload/keys.json")).startsWith(inside));
    }

    @Test
    void linksInACircleAreRefusedAndAFolderThatIsNotThereIsNamed() {
        link(folder.resolve("a"), folder.resolve("b"));
        link(folder.resolve("b"), folder.resolve("a"));
        assertEquals(
                "a: it cannot be told where the key file lies. Name it without links, outside the folder that is sent.",
                refusal(folder.resolve("a")));
        assertEquals(
                "keys.json: its folder does not exist. Create the folder, or choose another.",
                refusal(folder.resolve("nowhere/keys.json")));
    }

    @Test
    void aDamagedKeyFileSaysToRestoreACopy() throws IOException {
        String good =
                "{\"format\":\"lumbrical key file\",\"version\":1,\"secret\":\"MDEyMzQ1Njc4OWFiY2RlZg==\",\"patients\":[%s]%s}";
        String patient = "{\"patient\":\"A\",\"pseudonym\":\"SA\",\"episodes\":[]}";
        String other = patient.replace("\"A\"", "\"B\"");
        for (String content : new String[] {
            good.formatted(patient + "," + patient, ""), // a patient twice
            good.formatted(patient + "," + other, ""), // a pseudonym twice
            good.formatted("", ",\"more\":1"),
            good.formatted("", ",\"sent\":[{\"as\":\"csv\",\"records\":[\"scores key SA hash\"]}]"),
            good.formatted("", ",\"sent\":[{\"as\":\"csv\",\"records\":[\"scores key SA hash lost\"]}]"),
        }) {
            Path file = Files.writeString(folder.resolve("damaged.json"), content);
            if (folder.getFileSystem().supportedFileAttributeViews().contains("posix")) {
                Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("rw-------"));
            }
            assertTrue(refusal(file).contains("damaged"), content);
            assertTrue(refusal(file).toLowerCase(java.util.Locale.ROOT).contains("restore a copy"), content);
        }
        Path sound = Files.writeString(
                folder.resolve("damaged.json"),
                good.formatted(patient, ",\"sent\":[{\"as\":\"csv\",\"records\":[\"scores key SA hash amended\"]}]"));
        KeyFile read = KeyFile.open(sound.toString(), folder.resolve("upload"));
        assertEquals("SA", read.subject("A"));
        assertEquals(1, read.sent("csv").records().size());
    }
}
