package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The program killed (SIGKILL) at random moments while it writes: the old output or the new one, never half of one, and what was left
 * lying about is gone after the next run. {@code kills} says how often for each output; a few in the normal build.
 */
class KilledRunIT {
    private static final int KILLS = Integer.getInteger("kills", 3);

    @TempDir
    private Path folder;

    private final Random random = new Random(41);

    private Process start(List<String> words) throws IOException {
        List<String> command = new ArrayList<>(List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-Djava.io.tmpdir=" + Files.createDirectories(folder.resolve("temporary")),
                "-Dlumbrical.home=..",
                "-XX:TieredStopAtLevel=1",
                "-jar",
                Path.of("target", "lumbrical.jar").toString()));
        command.addAll(words);
        command.addAll(List.of("--as-of", "2026-11-25", "--overwrite", "--quiet"));
        return new ProcessBuilder(command)
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .redirectOutput(ProcessBuilder.Redirect.DISCARD)
                .start();
    }

    private void finish(List<String> words) throws IOException, InterruptedException {
        assertTrue(start(words).waitFor() < 2);
    }

    /** Bytes of every file below {@code target}, which may be a file; nothing if it is not there. */
    private static TreeMap<String, String> content(Path target) throws IOException {
        TreeMap<String, String> content = new TreeMap<>();
        if (Files.exists(target)) {
            try (Stream<Path> tree = Files.walk(target)) {
                for (Path file : tree.filter(Files::isRegularFile).toList()) {
                    content.put(
                            target.relativize(file).toString(),
                            new String(Files.readAllBytes(file), StandardCharsets.ISO_8859_1));
                }
            }
        }
        return content;
    }

    private List<String> lying() throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(f -> String.valueOf(f.getFileName()))
                    .filter(name -> name.startsWith("."))
                    .toList();
        }
    }

    private void killWhileReplacing(Path target, List<String> small, List<String> large, boolean mayBeGone)
            throws IOException, InterruptedException {
        long before = System.nanoTime();
        finish(large);
        long wholeRun = System.nanoTime() - before;
        TreeMap<String, String> later = content(target);
        finish(small);
        TreeMap<String, String> earlier = content(target);
        assertTrue(!earlier.equals(later));
        int cut = 0;
        for (int i = 0; i < KILLS; i++) {
            Process process = start(large);
            cut += process.waitFor((long) (random.nextDouble() * wholeRun), TimeUnit.NANOSECONDS) ? 0 : 1;
            process.destroyForcibly().waitFor();
            TreeMap<String, String> now = content(target);
            assertTrue(
                    now.equals(earlier) || now.equals(later) || mayBeGone && now.isEmpty(),
                    "half an output after kill " + i + ": " + now.keySet());
            if (!now.equals(earlier)) {
                finish(small);
                assertEquals(earlier, content(target));
            }
        }
        finish(large);
        assertEquals(later, content(target));
        assertEquals(List.of(), lying(), "what killed runs left is removed by the next");
        assertEquals(0, content(folder.resolve("temporary")).size(), "also in the system's temporary folder");
        assertTrue(cut > 0, "no run was cut");
    }

    private String responses(int copies) throws IOException {
        List<String> lines = Files.readAllLines(Path.of("..", "shared", "demo", "responses.csv"));
        Path file = folder.resolve("responses-" + copies + ".csv");
        List<String> many = new ArrayList<>(List.of(lines.get(0)));
        for (int i = 0; i < copies; i++) {
            String more = i == 0 ? "" : "X" + i;
            lines.stream().skip(1).forEach(line -> many.add(line.replaceFirst(",", more + ",")));
        }
        return Files.write(file, many).toString();
    }

    /** Ended politely, as a user does with Ctrl-C: nothing is left behind at once, and a folder is there as well. */
    @Test
    void aRunThatIsEndedLeavesNothingBehind() throws IOException, InterruptedException {
        String episodes = Path.of("..", "shared", "demo", "episodes.csv").toString();
        Path upload = folder.resolve("upload");
        List<List<String>> commands = List.of(
                List.of(
                        "score",
                        responses(40),
                        "--out",
                        folder.resolve("scores.csv").toString()),
                List.of(
                        "track",
                        responses(1),
                        "--episodes",
                        episodes,
                        "--out",
                        folder.resolve("book.xlsx").toString()),
                List.of(
                        "submit",
                        "--accept-disclosure",
                        responses(1),
                        "--episodes",
                        episodes,
                        "--as",
                        "csv",
                        "--out",
                        upload.toString(),
                        "--key-file",
                        folder.resolve("keys.json").toString()));
        for (List<String> words : commands) {
            long before = System.nanoTime();
            finish(words);
            long wholeRun = System.nanoTime() - before;
            TreeMap<String, String> made = content(upload);
            int cut = 0;
            for (int i = 0; i < 2 * KILLS; i++) {
                Process process = start(words);
                cut += process.waitFor((long) (random.nextDouble() * wholeRun), TimeUnit.NANOSECONDS) ? 0 : 1;
                process.destroy();
                process.waitFor();
                assertEquals(List.of(), lying(), words + " ended");
                assertEquals(made, content(upload));
            }
            assertTrue(cut > 0, "no run was cut");
        }
    }

    @Test
    void scoresAreWholeOrOld() throws IOException, InterruptedException {
        Path target = folder.resolve("scores.csv");
        killWhileReplacing(
                target,
                List.of("score", responses(1), "--out", target.toString()),
                List.of("score", responses(40), "--out", target.toString()),
                false);
    }

    @Test
    void aWorkbookIsWholeOrOld() throws IOException, InterruptedException {
        Path target = folder.resolve("book.xlsx");
        String episodes = Path.of("..", "shared", "demo", "episodes.csv").toString();
        killWhileReplacing(
                target,
                List.of("due", responses(1), "--episodes", episodes, "--out", target.toString()),
                List.of("track", responses(1), "--episodes", episodes, "--out", target.toString()),
                false);
    }

    /** A folder cannot be exchanged in one step: a kill between two renames leaves none, as the program promises. */
    @Test
    void aFolderForARegistryIsWholeOrOldOrNone() throws IOException, InterruptedException {
        Path target = folder.resolve("upload");
        String episodes = Path.of("..", "shared", "demo", "episodes.csv").toString();
        killWhileReplacing(
                target,
                List.of(
                        "submit",
                        "--accept-disclosure",
                        responses(1),
                        "--episodes",
                        episodes,
                        "--as",
                        "adam",
                        "--out",
                        target.toString(),
                        "--key-file",
                        folder.resolve("keys.json").toString()),
                List.of(
                        "submit",
                        "--accept-disclosure",
                        responses(1),
                        "--episodes",
                        episodes,
                        "--as",
                        "csv",
                        "--out",
                        target.toString(),
                        "--key-file",
                        folder.resolve("keys.json").toString()),
                true);
    }

    @Test
    void theKeyFileSurvivesAKilledRun() throws IOException, InterruptedException {
        String episodes = Path.of("..", "shared", "demo", "episodes.csv").toString();
        Path keys = folder.resolve("keys.json");
        List<String> words = List.of(
                "submit",
                "--accept-disclosure",
                responses(1),
                "--episodes",
                episodes,
                "--as",
                "adam",
                "--out",
                folder.resolve("upload").toString(),
                "--key-file",
                keys.toString());
        finish(words);
        byte[] first = Files.readAllBytes(keys);
        for (int i = 0; i < KILLS; i++) {
            Process process = start(words);
            process.waitFor(random.nextInt(1500), TimeUnit.MILLISECONDS);
            process.destroyForcibly().waitFor();
            assertArrayEquals(first, Files.readAllBytes(keys));
        }
    }
}
