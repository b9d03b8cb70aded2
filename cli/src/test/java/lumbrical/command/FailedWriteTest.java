package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.Writer;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Output that cannot be written, or must not be: the status says so, and so does one message. */
class FailedWriteTest {
    @TempDir
    private Path folder;

    /** A writer on a disk that is full after so many characters. */
    private static final class Full extends Writer {
        private int room;

        Full(int room) {
            this.room = room;
        }

        @Override
        public void write(char[] text, int from, int length) throws IOException {
            room -= length;
            if (room < 0) {
                throw new IOException("No space left on device");
            }
        }

        @Override
        public void flush() {
            // nothing is held back
        }

        @Override
        public void close() {
            // nothing to close
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "score ../shared/demo/responses.csv",
                "grip ../shared/demo/responses.csv",
                "due ../shared/demo/responses.csv --episodes ../shared/demo/episodes.csv",
                "explain quickdash ../shared/demo/responses.csv --patient P001",
                "instruments quickdash",
                "verify",
                "--help"
            })
    void standardOutputThatTakesOnlyAPartIsAFailure(String words) {
        List<String> args = new ArrayList<>(Arrays.asList(words.split(" ")));
        StringWriter err = new StringWriter();
        int status = Main.run(args, new PrintWriter(new Full(100)), new PrintWriter(err), Path.of(".."));
        assertEquals(3, status, err.toString());
        assertTrue(
                err.toString()
                        .endsWith(
                                "Standard output took only a part (disk full, or the program that reads it has ended)."
                                        + " Do not use that part; run the command again." + System.lineSeparator()),
                err.toString());
    }

    @Test
    void aDeviceIsNeverReplaced() {
        Path device = Path.of("/dev/null");
        Assumptions.assumeTrue(Files.exists(device));
        StringWriter err = new StringWriter();
        int status = Main.run(
                List.of("score", "nowhere.csv", "--out", device.toString(), "--overwrite"),
                new PrintWriter(new StringWriter()),
                new PrintWriter(err),
                Path.of(".."));
        assertEquals(2, status);
        assertEquals(
                List.of("null: this is a device or the like, not a file. Choose another.", "Nothing was written."),
                err.toString().lines().toList());
    }

    @ParameterizedTest
    @CsvSource({
        "--problems and --out, score R --out X --problems ./X",
        "--problems and --out, due R --episodes E --out X --problems X",
        "--problems and --differences, reconcile R R --differences X --problems X",
        "--out and --differences, reconcile R R --differences X --out X"
    })
    void oneFileIsNotWrittenTwice(String which, String words) throws IOException {
        Path target = Files.writeString(folder.resolve("x.csv"), "old");
        List<String> args = new ArrayList<>();
        for (String word : words.split(" ")) {
            args.add(
                    switch (word) {
                        case "R" -> "../shared/demo/responses.csv";
                        case "E" -> "../shared/demo/episodes.csv";
                        case "X" -> target.toString();
                        case "./X" -> folder.resolve("./x.csv").toString();
                        default -> word;
                    });
        }
        assertRefused(args, which + " name the same file. Give each a file of its own.");
        assertEquals("old", Files.readString(target));
    }

    private static void assertRefused(List<String> args, String message) {
        args.addAll(List.of("--overwrite", "--as-of", "2026-11-25"));
        StringWriter err = new StringWriter();
        int status = Main.run(args, new PrintWriter(new StringWriter()), new PrintWriter(err), Path.of(".."));
        assertEquals(2, status, err.toString());
        assertEquals(
                List.of(message, "Nothing was written."), err.toString().lines().toList());
    }

    /** Whatever the name, and with --overwrite too: what is read would be lost. */
    @ParameterizedTest
    @CsvSource({
        "--out, score R --out R",
        "--out, score R --out ./R",
        "--out, score R --out L",
        "--problems, score R --problems R",
        "--out, grip E R --out E",
        "--out, check R --episodes E --out E",
        "--out, score R --columns M --out M",
        "--problems, track R --episodes E --out X --problems E",
        "--out, due R --episodes E --out R",
        "--out, reconcile R E --out E",
        "--differences, reconcile R E --decisions M --differences M",
        "--suggest-columns, check R --suggest-columns R",
        "--key-file, submit R --episodes E --as csv --key-file E --out D"
    })
    void aFileThatIsReadIsNeverWritten(String option, String words) throws IOException {
        List<String> args = new ArrayList<>();
        Files.createSymbolicLink(folder.resolve("L"), folder.resolve("R"));
        for (String name : List.of("R", "E", "M")) {
            Files.writeString(folder.resolve(name), name);
        }
        for (String word : words.split(" ")) {
            boolean file = word.length() == 1 || word.startsWith("./");
            args.add(file ? folder + "/" + word : word);
        }
        assertRefused(args, option + " names a file that is read and would be lost. Name another.");
        for (String name : List.of("R", "E", "M")) {
            assertEquals(name, Files.readString(folder.resolve(name)));
        }
    }

    @Test
    void aTableIsNotWrittenOverWhatIsRead() throws IOException {
        Path read = Files.copy(Path.of("..", "shared", "demo", "responses.csv"), folder.resolve("scores.csv"));
        byte[] before = Files.readAllBytes(read);
        StringWriter err = new StringWriter();
        int status = Main.run(
                List.of(
                        "track",
                        read.toString(),
                        "--episodes",
                        "../shared/demo/episodes.csv",
                        "--out",
                        folder.resolve("x.xlsx").toString(),
                        "--tables",
                        folder.toString(),
                        "--overwrite"),
                new PrintWriter(new StringWriter()),
                new PrintWriter(err),
                Path.of(".."));
        assertEquals(2, status, err.toString());
        assertEquals(
                List.of(
                        "--tables would write over scores.csv, which is read. Name another folder.",
                        "Nothing was written."),
                err.toString().lines().toList());
        assertArrayEquals(before, Files.readAllBytes(read));
    }

    /** A full memory is told as such, without a stack trace, and is a failure: the virtual machine alone would end with status 1. */
    @Test
    void aFullMemoryIsSaid() {
        StringWriter err = new StringWriter();
        Console console = new Console(new PrintWriter(new StringWriter()), new PrintWriter(err, true), Path.of(".."));
        assertEquals(3, new Failures(console, false).handleError(new OutOfMemoryError("Java heap space")));
        assertTrue(err.toString().startsWith("The memory is too small for this run."), err.toString());
        assertEquals(1, err.toString().lines().count(), err.toString());
    }
}
