package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicLong;
import lumbrical.tabular.Input;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a terminal shows of a long run, by a clock that the test turns. */
class ProgressTest {
    private static final long SECOND = 1_000_000_000L;

    @TempDir
    private Path folder;

    private final AtomicLong now = new AtomicLong(7 * SECOND);
    private final StringWriter err = new StringWriter();

    private Input file(String name, int bytes) throws IOException {
        return new Input(Files.write(folder.resolve(name), new byte[bytes]), Optional.empty());
    }

    private Progress progress(boolean terminal, Input... inputs) {
        Console console = new Console(new PrintWriter(new StringWriter()), new PrintWriter(err, true), Path.of(".."));
        return new Progress(console, List.of(inputs), terminal, now::get);
    }

    private String said() {
        String text = err.toString().strip();
        err.getBuffer().setLength(0);
        return text;
    }

    @Test
    void saysRowsBytesAndTimeLeftAfterTwoSecondsAndNotTooOften() throws IOException {
        Input small = file("small.csv", 100);
        Input large = file("large.csv", 300);
        Progress progress = progress(true, small, large);
        now.addAndGet(SECOND);
        progress.read(small, 10, 1);
        assertEquals("", said());
        now.addAndGet(SECOND);
        progress.read(large, 1_000, 1.0 / 3);
        assertEquals("1,010 rows, 50 % of the bytes read, about 2 s left", said());
        now.addAndGet(SECOND / 10);
        progress.read(large, 1_100, 0.4);
        assertEquals("", said());
        now.addAndGet(SECOND);
        progress.stage("writing the workbook");
        assertEquals("writing the workbook", said());
        progress.end();
        assertTrue(err.toString().isBlank() && err.toString().endsWith("\r"), "the line is cleared");
    }

    @Test
    void isSilentWhereNobodyLooks() throws IOException {
        Input large = file("large.csv", 300);
        Progress progress = progress(false, large);
        now.addAndGet(9 * SECOND);
        progress.read(large, 1_000, 0.5);
        progress.stage("writing the workbook");
        progress.end();
        assertEquals("", err.toString());
    }

    @Test
    void leavesNothingOnTheLineOfAShortRun() throws IOException {
        Progress progress = progress(true, file("small.csv", 100));
        progress.end();
        assertEquals("", err.toString());
    }
}
