package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** An installation that has the test cases of one instrument alone, with a wrong one or with none. */
class VerifyCommandTest {
    private static final Path VECTORS = Path.of("..", "test-vectors", "vectors", "sane");

    @TempDir
    private Path home;

    private Run verify(String... more) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int status = Main.run(
                Stream.concat(Stream.of("verify"), Stream.of(more)).toList(),
                new PrintWriter(out),
                new PrintWriter(err),
                home);
        return new Run(status, out.toString(), err.toString());
    }

    private Path install() throws IOException {
        Path own = Files.createDirectories(home.resolve("test-vectors/vectors/sane"));
        try (Stream<Path> files = Files.list(VECTORS)) {
            for (Path file : files.toList()) {
                Files.copy(file, own.resolve(file.getFileName()));
            }
        }
        return own;
    }

    /** Rows of the files as a spreadsheet counts them, without a comment and a header each. */
    private static long rows(Path folder) throws IOException {
        long rows = 0;
        try (Stream<Path> files = Files.list(folder)) {
            for (Path file : files.toList()) {
                rows += Files.readAllLines(file).size() - 2;
            }
        }
        return rows;
    }

    @Test
    void itPassesByTheTestCasesAloneAndTellsWhatIsMissing() throws IOException {
        long rows = rows(install());
        Run run = verify();
        assertEquals(0, run.status(), run.err());
        assertTrue(run.out().startsWith("sane: " + rows + " of " + rows + " rows passed ("), run.out());
        assertTrue(run.out().contains("Where the rules and codes come from:"), run.out());
        assertTrue(run.out().endsWith(rows + " of " + rows + " rows passed" + System.lineSeparator()), run.out());
        assertTrue(run.err().contains("test-vectors/vectors/dash/"), "told, not failed");
        assertTrue(run.err().contains(": missing"), run.err());
        assertFalse(run.err().contains("test-vectors/vectors/sane/"), run.err());
        assertTrue(run.err().endsWith("all test cases passed" + System.lineSeparator()), run.err());
    }

    /** One expected score of 0 becomes 1. */
    @Test
    void aWrongScoreFailsAndTheFileIsTold() throws IOException {
        Path own = install();
        Path ends = own.resolve("ends.csv");
        String text = Files.readString(ends);
        String wrong = text.replaceFirst("complete,,0,", "complete,,1,");
        assertFalse(text.equals(wrong));
        Files.writeString(ends, wrong);
        Run run = verify();
        assertEquals(1, run.status(), run.err());
        assertEquals(
                1,
                run.out()
                        .lines()
                        .filter(l -> l.startsWith("FAILED ") && l.contains("ends.csv"))
                        .count(),
                run.out());
        assertTrue(run.err().contains("test-vectors/vectors/sane/ends.csv: differs from the released file"), run.err());
        assertTrue(run.err().endsWith("test cases failed: 1" + System.lineSeparator()), run.err());
    }

    @Test
    void reportAndRecordAreWrittenToFiles() throws IOException {
        install();
        Path report = home.resolve("report.txt");
        Path record = home.resolve("record.html");
        Run run = verify("--out", report.toString(), "--dossier", record.toString());
        assertEquals(0, run.status(), run.err());
        assertEquals("", run.out());
        assertEquals(verify().out(), Files.readString(report));
        String html = Files.readString(record);
        for (String part : List.of("program: " + Main.VERSION, "Java: " + Runtime.version(), "ends.csv", "SHA-256")) {
            assertTrue(html.contains(part), part);
        }
    }

    @Test
    void anInstallationWithoutTestCasesIsNotWhole() {
        Run run = verify();
        assertEquals(2, run.status());
        assertEquals(
                "The installation has no folder test-vectors/vectors. Get a whole copy of the program."
                        + System.lineSeparator() + "Nothing was written." + System.lineSeparator(),
                run.err());
    }
}
