package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The demo's mistakes are called what shared/demo/mistakes.md says. */
class DemoMistakesTest {
    private static final Path DEMO = Path.of("..", "shared", "demo");

    @Test
    void everyMistakeIsCalledWhatTheListSays(@TempDir Path folder) throws IOException {
        Path problems = folder.resolve("problems.csv");
        int status = Main.run(
                List.of(
                        "check",
                        DEMO.resolve("responses-with-mistakes.csv").toString(),
                        "--episodes",
                        DEMO.resolve("episodes.csv").toString(),
                        "--as-of",
                        "2026-11-25",
                        "--problems",
                        problems.toString()),
                new PrintWriter(new StringWriter()),
                new PrintWriter(new StringWriter()),
                Path.of(".."));
        assertEquals(1, status);
        List<String> found = new ArrayList<>();
        try (CSVParser csv = CSVParser.parse(
                Files.readString(problems),
                CSVFormat.RFC4180
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get())) {
            csv.forEach(r -> {
                if (!r.get("problem").startsWith("note-")) {
                    found.add(r.get("row") + " " + r.get("column") + " " + r.get("problem"));
                }
            });
        }
        List<String> listed = Files.readAllLines(DEMO.resolve("mistakes.md")).stream()
                .filter(line -> line.matches("\\| \\d+ .*"))
                .map(line -> line.split("\\|"))
                .map(c -> c[1].strip() + " " + c[2].strip() + " " + c[3].strip().replace("`", ""))
                .toList();
        assertTrue(listed.size() >= 12);
        assertEquals(listed.stream().sorted().toList(), found.stream().sorted().toList());
    }
}
