package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CommandLineTest {
    private static final String DEMO = "../shared/demo/";

    @TempDir
    private Path folder;

    private static Run run(String... args) {
        return Run.of(List.of(args));
    }

    private String file(String name, String content) throws IOException {
        return Files.writeString(folder.resolve(name), content).toString();
    }

    @Test
    void scoresTheFederalExampleToStandardOutput() throws IOException {
        String file = file(
                "one.csv",
                "patient,completed_on,side,"
                        + String.join(
                                ",",
                                Stream.iterate(1, i -> i + 1)
                                        .limit(11)
                                        .map(i -> "quickdash_" + i)
                                        .toList())
                        + "\nP1,2026-01-02,r,3,4,3,2,2,4,3,4,3,2,3\n");
        Run run = run("score", file, "--as-of", "2026-11-25");
        assertEquals(0, run.status());
        assertEquals(
                "patient,episode,side,completed_on,visit,instrument,scale,score,outcome,reason,items,answered,lowest,highest,"
                        + "better,definition,standard_error,ci_low,ci_high,standing\r\n"
                        + "P1,,right,2026-01-02,,quickdash,total,50,complete,,11,11,50,50,lower,quickdash@1,,,,published\r\n",
                run.out());
        assertTrue(run.err().contains("rows read 1 = scored 1 + nothing to score 0 + rejected 0"));
    }

    @Test
    void tracksTheDemoClinicWithoutProblemsAndTwiceTheSame() throws IOException {
        String[] books = {
            folder.resolve("a.xlsx").toString(), folder.resolve("b.xlsx").toString()
        };
        for (String book : books) {
            Run run = run(
                    "track",
                    DEMO + "responses.csv",
                    "--episodes",
                    DEMO + "episodes.csv",
                    "--out",
                    book,
                    "--as-of",
                    "2026-11-25",
                    "--tables",
                    book + "-tables");
            assertEquals(0, run.status(), run.err());
        }
        assertArrayEquals(Files.readAllBytes(Path.of(books[0])), Files.readAllBytes(Path.of(books[1])));
        assertEquals(
                List.of("change.csv", "datapackage.json", "follow-up.csv", "grip.csv", "problems.csv", "scores.csv"),
                list(Path.of(books[0] + "-tables")));
        assertEquals(4, list(folder).size(), "no temporary file is left");
    }

    /** How long a stage takes is nobody's business in a test; that each is named is. */
    @Test
    void saysWhereTheTimeGoesWhenAsked() {
        String stage = " \\d+\\.\\d\\d s";
        String line = "(?s).*time: read" + stage + ", score" + stage + ", place" + stage + ", write" + stage + "\\R.*";
        for (boolean asked : List.of(true, false)) {
            List<String> words = new ArrayList<>(List.of(
                    "track", DEMO + "responses.csv", "--episodes", DEMO + "episodes.csv", "--as-of", "2026-11-25"));
            words.addAll(
                    List.of("--quiet", "--out", folder.resolve(asked + ".xlsx").toString()));
            if (asked) {
                words.add("--timings");
            }
            Run run = Run.of(words);
            assertEquals(0, run.status(), run.err());
            assertEquals(asked, run.err().matches(line), run.err());
        }
    }

    private static List<String> list(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(f -> String.valueOf(f.getFileName())).sorted().toList();
        }
    }

    @Test
    void namesTwelveDifferentMistakes() {
        Run run = run(
                "check",
                DEMO + "responses-with-mistakes.csv",
                "--episodes",
                DEMO + "episodes.csv",
                "--as-of",
                "2026-11-25");
        assertEquals(1, run.status());
        for (String code : List.of(
                "unknown-column",
                "response-not-allowed",
                "patient-missing",
                "date-missing",
                "date-not-iso",
                "date-in-future",
                "side-not-known",
                "duplicate-sitting",
                "too-many-cells",
                "episode-not-found")) {
            assertTrue(run.err().contains(": " + code), code + " in " + run.err());
        }
    }

    @Test
    void refusesWhatCannotBeReadWithOneClearMessage() throws IOException {
        assertEquals(
                "nowhere.csv: there is no such file. Check the name and the folder." + System.lineSeparator()
                        + "Nothing was written." + System.lineSeparator(),
                run("score", "nowhere.csv").err());
        assertEquals(2, run("score", "nowhere.csv").status());
        assertEquals(2, run("score", folder.toString()).status());
        assertEquals(2, run("score", file("empty.csv", "")).status());
        Run headless = run("score", file("headless.csv", "patinet,completed_on,dash_1\nP1,2026-01-01,2\n"));
        assertEquals(2, headless.status());
        assertEquals(
                "headless.csv row 1: the header lacks the column patient. Is 'patinet' meant? Rename the column. Or map"
                        + " your own headings with --columns MAP.csv; 'check --suggest-columns MAP.csv' begins such a file."
                        + System.lineSeparator() + "Nothing was written." + System.lineSeparator(),
                headless.err());
        assertEquals(
                2, run("score", file("broken.xlsx", "PK\u0003\u0004 no zip")).status());
    }

    @Test
    void neverReplacesAFileUnasked() throws IOException {
        String target = file("scores.csv", "precious");
        Run run = run("score", DEMO + "responses.csv", "--out", target);
        assertEquals(2, run.status());
        assertEquals("precious", Files.readString(Path.of(target)));
        assertEquals(
                0,
                run("score", DEMO + "responses.csv", "--out", target, "--overwrite", "--as-of", "2026-11-25")
                        .status());
        assertFalse(Files.readString(Path.of(target)).contains("precious"));
    }

    @Test
    void verifiesTheInstallation() {
        Run run = run("verify");
        assertEquals(0, run.status(), run.out());
        assertTrue(run.out().contains("\n  published: "));
        assertTrue(run.err().contains("all test cases passed"));
    }

    @Test
    void asksWhatWasMeant() {
        Run run = run("scoer", "x.csv");
        assertEquals(2, run.status());
        assertTrue(run.err().contains("Did you mean: lumbrical score"), run.err());
        assertTrue(run("instruments", "quickdsh")
                .err()
                .startsWith("'quickdsh' is no instrument. Did you mean quickdash?"));
    }

    @Test
    void explainsWithAPencil() {
        Run run = run(
                "explain",
                "quickdash",
                DEMO + "responses.csv",
                "--patient",
                "P001",
                "--on",
                "2024-03-07",
                "--as-of",
                "2026-11-25");
        assertEquals(0, run.status(), run.err());
        assertTrue(run.out().startsWith("Patient P001, 2024-03-07"), run.out());
        // the answers stand in the demo file; the formula is the form's: (45 / 11 - 1) x 25
        assertTrue(
                run.out()
                        .contains(
                                "sum of the answered: 4 + 4 + 4 + 5 + 4 + 4 + 4 + 4 + 4 + 4 + 4 = 45, answered 11 of 11"),
                run.out());
        assertTrue(run.out().contains("\n  score: (45 / 11 - 1) x 25 = 77.272727"), run.out());
        assertTrue(run.out().endsWith("Scores support and never replace clinical judgement." + System.lineSeparator()));
    }

    @Test
    void explainSaysWhatElseThereIs() {
        Run other = run("explain", "dash", DEMO + "responses.csv", "--patient", "P001", "--as-of", "2026-11-25");
        assertEquals(2, other.status());
        assertTrue(other.err().startsWith("No dash of patient P001 in these files. There is: "), other.err());
        Run nobody = run("explain", "dash", DEMO + "responses.csv", "--patient", "P999", "--as-of", "2026-11-25");
        assertEquals(2, nobody.status());
        assertEquals(
                "No dash of patient P999 in these files. No form of this patient is there at all. Check the id."
                        + System.lineSeparator() + "Nothing was written." + System.lineSeparator(),
                nobody.err());
    }
}
