package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Every table fits what is said of it (Frictionless Table Schema: types string, number, integer, date). The demo clinic is invented. */
class DataPackageTest {
    private static final String DEMO = "../shared/demo/";

    @TempDir
    private Path folder;

    private Path tables;

    @BeforeEach
    void writeTables() {
        tables = folder.resolve("tables");
        List<String> files =
                List.of(DEMO + "responses.csv", "--episodes", DEMO + "episodes.csv", "--as-of", "2026-11-25");
        run("track", files, "--out", folder.resolve("w.xlsx").toString(), "--tables", tables.toString());
        run(
                "cohort",
                files,
                "--anchor",
                "grc",
                "--compare",
                "condition=carpal tunnel syndrome,distal radius fracture",
                "--out",
                folder.resolve("c.xlsx").toString(),
                "--tables",
                folder.resolve("groups").toString());
    }

    private static void run(String command, List<String> files, String... more) {
        List<String> args = new ArrayList<>(List.of(command));
        args.addAll(files);
        args.addAll(List.of(more));
        Run run = Run.of(args);
        assertTrue(run.status() <= 1, run.err());
    }

    /** By file, the type of each column, in order. */
    private static Map<String, Map<String, String>> described(Path folder) throws IOException {
        Map<String, Map<String, String>> files = new LinkedHashMap<>();
        try (JsonParser json = new JsonFactory()
                .createParser(folder.resolve("datapackage.json").toFile())) {
            String path = "";
            String field = "";
            while (json.nextToken() != null) {
                if (json.currentToken() != JsonToken.VALUE_STRING) {
                    continue;
                }
                boolean inField = json.getParsingContext().getParent().inArray()
                        && "fields"
                                .equals(
                                        json.getParsingContext().getParent().getParent() == null
                                                ? ""
                                                : json.getParsingContext()
                                                        .getParent()
                                                        .getParent()
                                                        .getCurrentName());
                String name = String.valueOf(json.currentName());
                if (name.equals("path")) {
                    path = json.getText();
                    files.put(path, new LinkedHashMap<>());
                } else if (inField && name.equals("name")) {
                    field = json.getText();
                } else if (inField && name.equals("type")) {
                    files.get(path).put(field, json.getText());
                }
            }
        }
        return files;
    }

    private static void fits(String type, String cell, String where) {
        switch (type) {
            case "integer" -> assertTrue(cell.matches("-?\\d+"), () -> where + " " + cell);
            case "number" -> assertTrue(Double.isFinite(Double.parseDouble(cell)), () -> where + " " + cell);
            case "date" -> LocalDate.parse(cell);
            default -> assertEquals("string", type, where);
        }
    }

    @Test
    void everyTableFitsItsDescription() throws IOException {
        for (Path of : List.of(tables, folder.resolve("groups"))) {
            Map<String, Map<String, String>> described = described(of);
            try (Stream<Path> files = Files.list(of)) {
                assertEquals(
                        new TreeSet<>(described.keySet()),
                        new TreeSet<>(files.map(f -> f.getFileName().toString())
                                .filter(f -> f.endsWith(".csv"))
                                .toList()));
            }
            for (Map.Entry<String, Map<String, String>> table : described.entrySet()) {
                try (CSVParser csv = CSVParser.parse(
                        Files.readString(of.resolve(table.getKey())),
                        CSVFormat.DEFAULT
                                .builder()
                                .setHeader()
                                .setSkipHeaderRecord(true)
                                .get())) {
                    assertEquals(
                            csv.getHeaderNames(), List.copyOf(table.getValue().keySet()), table.getKey());
                    for (CSVRecord row : csv) {
                        table.getValue().forEach((column, type) -> {
                            if (!row.get(column).isEmpty()) {
                                fits(
                                        type,
                                        row.get(column),
                                        table.getKey() + " " + row.getRecordNumber() + " " + column);
                            }
                        });
                    }
                }
            }
        }
        assertEquals("integer", described(tables).get("scores.csv").get("answered"));
        assertEquals("number", described(tables).get("scores.csv").get("score"));
        assertEquals("date", described(tables).get("change.csv").get("baseline_on"));
    }

    /** The programs of the guide, where the machine has the language; what they count is held against the table. */
    @Test
    void theProgramsOfTheGuideCountTheVerdicts() throws IOException, InterruptedException {
        Map<String, Integer> counts = new LinkedHashMap<>();
        try (CSVParser csv = CSVParser.parse(
                Files.readString(tables.resolve("change.csv")),
                CSVFormat.DEFAULT
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get())) {
            for (CSVRecord row : csv) {
                if (row.get("used").equals("yes")) {
                    counts.merge(
                            row.get("instrument") + " " + row.get("scale") + " " + row.get("verdict"), 1, Integer::sum);
                }
            }
        }
        List<String> expected = counts.entrySet().stream()
                .map(e -> e.getKey() + " " + e.getValue())
                .sorted()
                .toList();
        assertFalse(expected.isEmpty());
        boolean ran = false;
        for (String[] program : new String[][] {{"python3", "python", "-"}, {"Rscript", "r", "-"}}) {
            if (found(program[0])) {
                assertEquals(expected, said(program[0], listing(program[1])), program[0]);
                ran = true;
            }
        }
        Assumptions.assumeTrue(ran, "NOT RUN: neither Python nor R is on this machine");
    }

    private static boolean found(String program) {
        return Stream.of(System.getenv().getOrDefault("PATH", "").split(java.io.File.pathSeparator))
                .anyMatch(folder -> Files.isExecutable(Path.of(folder, program)));
    }

    private static String listing(String language) throws IOException {
        String guide = Files.readString(Path.of("..", "docs", "analysis.md"));
        int from = guide.indexOf("```" + language + "\n") + language.length() + 4;
        return guide.substring(from, guide.indexOf("```", from));
    }

    private List<String> said(String program, String listing) throws IOException, InterruptedException {
        Path script = Files.writeString(folder.resolve("script"), listing);
        Process process = new ProcessBuilder(program, script.toString())
                .directory(folder.toFile())
                .redirectErrorStream(true)
                .start();
        String said = new String(process.getInputStream().readAllBytes(), java.nio.charset.StandardCharsets.UTF_8);
        assertTrue(process.waitFor(1, TimeUnit.MINUTES));
        assertEquals(0, process.exitValue(), said);
        return said.lines().map(String::strip).sorted().toList();
    }
}
