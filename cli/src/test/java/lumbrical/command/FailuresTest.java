package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import picocli.CommandLine;

/** What a user is told when the machine or the program fails: status 3, and what to do. */
class FailuresTest {
    private final StringWriter err = new StringWriter();

    private Failures failures(boolean debug) {
        return new Failures(
                new Console(new PrintWriter(new StringWriter()), new PrintWriter(err, true), Path.of("")), debug);
    }

    private int thrown(Exception e, boolean debug) {
        CommandLine line = Main.described();
        return failures(debug).handleExecutionException(e, line, line.parseArgs());
    }

    private String said() {
        return err.toString().strip();
    }

    private static IOException failure(String kind) {
        return switch (kind) {
            case "full" -> new FileSystemException("/somewhere/secret.csv", null, "No space left on device");
            case "rights" -> new AccessDeniedException("/somewhere/secret.csv");
            case "message" -> new IOException("Stream closed");
            default -> new IOException();
        };
    }

    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource({
        "full, No space left on device",
        "rights, the system refused (AccessDeniedException)",
        "message, Stream closed",
        "none, the system refused (IOException)"
    })
    void anOutputThatCannotBeWrittenIsAFailureWithItsReason(String kind, String reason) {
        assertEquals(3, thrown(new UncheckedIOException(failure(kind)), false));
        assertEquals(
                "The output could not be written: " + reason
                        + ". Free space or check the rights, and run the command again. Every file is whole: the old one or the"
                        + " new.",
                said());
    }

    /** Its message may hold a cell of the clinic's files; the kind of fault does not. */
    @Test
    void aFaultOfTheProgramTellsItsKindAndNothingOfTheData() {
        assertEquals(3, thrown(new IllegalStateException("what a cell held"), false));
        assertEquals(
                "The program failed (IllegalStateException). Every file is whole: the old one or the new. Run the command again"
                        + " with --debug and report what it prints.",
                said());
    }

    @Test
    void withDebugTheTraceIsShown() {
        assertEquals(3, thrown(new IllegalStateException("here"), true));
        assertTrue(said().startsWith("java.lang.IllegalStateException: here"), said());
        assertTrue(said().contains("\tat lumbrical.command.FailuresTest."), said());
    }

    @Test
    void tooLittleMemorySaysHowToGiveMore() {
        assertEquals(3, failures(false).handleError(new OutOfMemoryError("Java heap space")));
        assertTrue(said().startsWith("The memory is too small for this run."), said());
        assertTrue(said().contains("LUMBRICAL_JAVA_OPTS=-Xmx4g"), said());
        assertFalse(said().contains("heap"), said());
    }

    @Test
    void anotherErrorIsAFaultOfTheProgram() {
        assertEquals(3, failures(true).handleError(new StackOverflowError()));
        assertTrue(said().contains("\tat lumbrical."), said());
        assertTrue(said().contains("The program failed (StackOverflowError)."), said());
    }
}
