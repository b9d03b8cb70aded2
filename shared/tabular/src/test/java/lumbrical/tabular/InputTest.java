package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A file to read, and which sheet of it. */
class InputTest {
    @TempDir
    private Path folder;

    @Test
    void aSheetMayBeNamedAfterAHash() {
        Input input = Input.parse("visits.xlsx#Week 6", Optional.of("other"));
        assertEquals(new Input(Path.of("visits.xlsx"), Optional.of("Week 6")), input);
        assertEquals("visits.xlsx#Week 6", input.name());
        assertEquals("visits.xlsx#Week 6", input.place().toString());
    }

    @Test
    void withoutAHashTheSheetIsTheOneNamedElsewhere() {
        assertEquals(
                new Input(Path.of("a/visits.xlsx"), Optional.of("Week 6")),
                Input.parse("a/visits.xlsx", Optional.of("Week 6")));
        assertEquals(
                "visits.xlsx", Input.parse("a/visits.xlsx", Optional.empty()).name(), "without folders");
    }

    @Test
    void aHashAtAnEndNamesNoSheet() {
        assertEquals(new Input(Path.of("visits#"), Optional.empty()), Input.parse("visits#", Optional.empty()));
        assertEquals(new Input(Path.of("#visits"), Optional.empty()), Input.parse("#visits", Optional.empty()));
    }

    @Test
    void aFileWhoseOwnNameHoldsAHashWins() throws IOException {
        Path file = Files.createFile(folder.resolve("ward#3.csv"));
        assertEquals(new Input(file, Optional.empty()), Input.parse(file.toString(), Optional.empty()));
    }

    @Test
    void whatCanBeNoFileNameIsRefused() {
        assertEquals(
                "a?b: this can be no file name. Check the name and run the command again.",
                assertThrows(UnreadableInputException.class, () -> Input.parse("a\0b", Optional.empty()))
                        .getMessage());
    }

    @Test
    void aNameThatCouldChangeAMessageIsShownSafely() {
        assertEquals("a?b.csv", new Input(Path.of("a\u202Eb.csv"), Optional.empty()).name());
    }

    /** The hash of 'abc' is the example of FIPS 180-4; that of nothing is in NIST's test vectors (SHA256ShortMsg, length 0). */
    @Test
    void aFileThatWasReadIsRecordedByTheHashOfItsBytes() throws IOException {
        Path file = Files.writeString(folder.resolve("visits.csv"), "abc");
        assertEquals(
                new InputFile("visits.csv", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
                InputFile.of(new Input(file, Optional.empty())));
        Files.writeString(file, "");
        assertEquals(
                "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
                InputFile.of(new Input(file, Optional.empty())).sha256());
    }

    @Test
    void aFileThatIsGoneCannotBeRecorded() {
        assertEquals(
                "gone.csv: the file cannot be read.",
                assertThrows(
                                UnreadableInputException.class,
                                () -> InputFile.of(new Input(folder.resolve("gone.csv"), Optional.empty())))
                        .getMessage());
    }
}
