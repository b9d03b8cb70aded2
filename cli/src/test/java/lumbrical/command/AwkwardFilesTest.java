package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.Reader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every awkward file with what is expected of it beside it, in {@code expected.csv}. */
class AwkwardFilesTest {
    private static final Path FILES = Path.of("src", "test", "resources", "awkward");
    private static final Pattern FATE =
            Pattern.compile("rows read (\\d+) = scored (\\d+) \\+ nothing to score (\\d+) \\+ rejected (\\d+)");

    @TempDir
    private Path folder;

    /** What one file must give. */
    record Expected(
            String file,
            String options,
            int status,
            List<String> rows,
            List<String> problems,
            String says,
            String why) {
        @Override
        public String toString() {
            return file + ": " + why;
        }
    }

    static List<Expected> expected() throws IOException {
        List<Expected> all = new ArrayList<>();
        try (Reader reader = Files.newBufferedReader(FILES.resolve("expected.csv"));
                CSVParser rows = CSVFormat.RFC4180
                        .builder()
                        .setCommentMarker('#')
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get()
                        .parse(reader)) {
            for (CSVRecord row : rows) {
                if (!row.get("command").equals("none")) {
                    all.add(new Expected(
                            row.get("file"),
                            row.get("options"),
                            Integer.parseInt(row.get("status")),
                            List.of(row.get("rows"), row.get("scored"), row.get("nothing"), row.get("rejected")),
                            row.get("problems").isEmpty()
                                    ? List.of()
                                    : Stream.of(row.get("problems").split(" "))
                                            .sorted()
                                            .toList(),
                            row.get("says"),
                            row.get("why")));
                }
            }
        }
        return all;
    }

    private Run run(String command, Expected expected, Path problems) {
        List<String> args =
                new ArrayList<>(List.of(command, FILES.resolve(expected.file()).toString(), "--as-of", "2026-11-25"));
        if (!expected.options().isEmpty()) {
            for (String word : expected.options().split(" ")) {
                args.add(word.startsWith("@") ? FILES.resolve(word.substring(1)).toString() : word);
            }
        }
        args.addAll(List.of("--problems", problems.toString()));
        return Run.of(args);
    }

    /** Problems and notes as row:column:code; those of another file than the responses with an @ before them. */
    private static List<String> problems(Path file, String responses) throws IOException {
        List<String> found = new ArrayList<>();
        try (Reader reader = Files.newBufferedReader(file);
                CSVParser rows = CSVFormat.RFC4180
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get()
                        .parse(reader)) {
            for (CSVRecord row : rows) {
                if (row.get("file").equals("definitions")) {
                    continue; // says which rules are from memory, whatever the file
                }
                String mark = row.get("file").equals(responses) ? "" : "@";
                found.add(mark + row.get("row") + ":" + row.get("column") + ":" + row.get("problem"));
                assertFalse(row.get("advice").isBlank());
            }
        }
        return found.stream().sorted().toList();
    }

    @Test
    void thereAreAtLeastSixtyAwkwardFiles() throws IOException {
        List<String> named = expected().stream().map(Expected::file).toList();
        assertTrue(named.size() >= 60, "only " + named.size());
        assertEquals(named.size(), named.stream().distinct().count());
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("expected")
    void givesWhatIsExpected(Expected expected) throws IOException {
        Path problems = folder.resolve("problems.csv");
        Run run = run("check", expected, problems);
        assertEquals(expected.status(), run.status(), run.err());
        assertTrue(run.err().contains(expected.says()), run.err());
        assertFalse(run.err().contains("Exception") || run.err().contains("\tat "), run.err());
        if (expected.status() == 2) {
            assertEquals(List.of("", "", "", ""), expected.rows());
            assertTrue(run.err().endsWith("Nothing was written." + System.lineSeparator()), run.err());
            return;
        }
        assertEquals(expected.problems(), problems(problems, expected.file()));
        assertEquals(expected.rows(), fate(run));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("expected")
    void scoresWithTheSameFateForEveryRow(Expected expected) {
        if (expected.options().contains("--episodes")) {
            return; // score knows no episodes
        }
        Run run = run("score", expected, folder.resolve("problems.csv"));
        assertEquals(expected.status(), run.status(), run.err());
        if (expected.status() != 2) {
            List<String> fate = fate(run);
            assertEquals(expected.rows(), fate);
            boolean anyScore = !fate.get(1).equals("0");
            assertEquals(anyScore, run.out().lines().count() > 1, run.out());
        }
    }

    private static List<String> fate(Run run) {
        Matcher fate = FATE.matcher(run.err());
        assertTrue(fate.find(), run.err());
        List<String> counts = List.of(fate.group(1), fate.group(2), fate.group(3), fate.group(4));
        int[] n = counts.stream().mapToInt(Integer::parseInt).toArray();
        assertEquals(n[0], Arrays.stream(n).sum() - n[0], "rows in = rows out by fate");
        return counts;
    }
}
