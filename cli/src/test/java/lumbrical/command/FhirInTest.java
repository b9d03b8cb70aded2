package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Responses that come as FHIR R4: what is sent comes in again with the same scores, and forms of others are read. */
class FhirInTest {
    private static final Path DEMO = Path.of("..", "shared", "demo");

    @TempDir
    private Path folder;

    private Run run(String... args) {
        List<String> words = new ArrayList<>(List.of(args));
        words.addAll(List.of("--as-of", "2026-11-25"));
        return Run.of(words);
    }

    private Path write(String name, String text) throws IOException {
        return Files.writeString(folder.resolve(name), text);
    }

    // ---- out and in again

    private static List<CSVRecord> records(String csv) throws IOException {
        return CSVFormat.DEFAULT
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get()
                .parse(new java.io.StringReader(csv))
                .getRecords();
    }

    /** Scores as a sorted list of what does not depend on ids and dates. */
    private static List<String> scores(String csv) throws IOException {
        return records(csv).stream()
                .map(r -> Stream.of(
                                "instrument", "scale", "score", "outcome", "reason", "answered", "lowest", "highest")
                        .map(r::get)
                        .collect(Collectors.joining(" ")))
                .sorted()
                .toList();
    }

    private List<String> files(String upload, String ending) throws IOException {
        try (Stream<Path> files = Files.list(folder.resolve(upload).resolve("data"))) {
            return files.map(Path::toString)
                    .filter(f -> f.contains("bundle-") || f.contains("QuestionnaireResponse"))
                    .filter(f -> f.endsWith(ending))
                    .sorted()
                    .toList();
        }
    }

    private void submit(Path responses, Path episodes, String upload, String... more) {
        List<String> words = new ArrayList<>(List.of(
                "submit",
                responses.toString(),
                "--episodes",
                episodes.toString(),
                "--as",
                "fhir",
                "--out",
                folder.resolve(upload).toString(),
                "--throwaway-pseudonyms",
                "--accept-disclosure"));
        words.addAll(List.of(more));
        Run run = run(words.toArray(String[]::new));
        assertTrue(run.status() < 2, run.err());
    }

    private List<String> scoresOf(List<String> files) throws IOException {
        List<String> words = new ArrayList<>(List.of("score"));
        words.addAll(files);
        Run run = run(words.toArray(String[]::new));
        assertTrue(run.status() < 2, run.err());
        return scores(run.out());
    }

    /** The episodes of the demo, with nobody who refuses: what does not leave cannot come back. */
    private Path allShare() throws IOException {
        String episodes = Files.readString(DEMO.resolve("episodes.csv"));
        assertTrue(episodes.contains(",no"), "somebody refuses");
        return write("episodes.csv", episodes.replace(",no\n", ",\n").replace(",no\r\n", ",\r\n"));
    }

    @Test
    void theDemoComesInAgainWithTheSameScores() throws IOException {
        Path responses = DEMO.resolve("responses.csv");
        List<String> expected = scoresOf(List.of(responses.toString()));
        submit(responses, allShare(), "bundles");
        submit(responses, folder.resolve("episodes.csv"), "lines", "--ndjson");
        submit(responses, folder.resolve("episodes.csv"), "packed", "--ndjson", "--gzip");
        assertEquals(788, expected.size());
        assertEquals(expected, scoresOf(files("bundles", ".json")));
        assertEquals(expected, scoresOf(files("lines", ".ndjson")));
        assertEquals(expected, scoresOf(files("packed", ".ndjson.gz")));
    }

    /** Invented: a sitting about both hands, which alone gives the means of both, one hand each, and a response that is not allowed. */
    @Test
    void handsAndRefusedResponsesComeInAgain() throws IOException {
        StringBuilder header = new StringBuilder("patient,completed_on,side");
        StringBuilder answers = new StringBuilder();
        Run columns = Run.of(List.of("instruments", "mhq"));
        for (String line : columns.out().split("\\R")) {
            String name = line.strip().split("[:,]", 2)[0];
            if (line.strip().startsWith("mhq_") && !header.toString().contains("," + name + ",")) {
                header.append(',').append(name);
                answers.append(",2");
            }
        }
        assertTrue(header.toString().contains("_right"), header.toString());
        Path responses = write(
                "responses.csv",
                header + ",nprs_rest\n" + "A,2026-03-01,both" + answers + ",3\n" + "A,2026-04-01,right" + answers
                        + ",11\n");
        Path episodes = write("episodes.csv", "patient,episode,treated_side,index_date\nA,1,right,2026-03-01\n");
        submit(responses, episodes, "up");
        List<String> expected = scoresOf(List.of(responses.toString()));
        assertTrue(expected.stream().anyMatch(s -> s.contains("response-not-allowed")), expected.toString());
        assertEquals(expected, scoresOf(files("up", ".json")));
    }

    @Test
    void formsWithoutADateAreKnownByTheirIdentifierAndNotPlacedInTime() throws IOException {
        String form =
                """
                {"resourceType":"QuestionnaireResponse","identifier":{"system":"https://lumbrical.example/fhir/id/form","value":"%s"},\
                "questionnaire":"https://lumbrical.example/fhir/Questionnaire/nprs|1","status":"completed",\
                "subject":{"reference":"Patient/A"},"item":[{"linkId":"rest","answer":[{"valueInteger":%d}]}]}
                """;
        Path lines = write("forms.ndjson", form.formatted("K1", 3) + form.formatted("K2", 9));
        Path episodes = write(
                "episodes.csv", "patient,episode,treated_side,index_date,birth_year\nA,1,right,2026-03-01,1960\n");
        Run run = run("score", lines.toString());
        assertEquals(0, run.status(), run.err());
        assertEquals(2, records(run.out()).size());
        assertEquals("", records(run.out()).get(0).get("completed_on"));
        assertFalse(run.err().contains("duplicate-sitting"), run.err());
        assertEquals(1, run.err().split("note-date-is-relative", -1).length - 1, run.err());
        Run track = run(
                "track",
                lines.toString(),
                "--episodes",
                episodes.toString(),
                "--out",
                folder.resolve("book.xlsx").toString(),
                "--tables",
                folder.resolve("tables").toString());
        assertTrue(track.status() < 2, track.err());
        List<CSVRecord> scores =
                records(Files.readString(folder.resolve("tables").resolve("scores.csv")));
        assertEquals(2, scores.size());
        assertEquals("", scores.get(0).get("completed_on") + scores.get(0).get("visit"));
        assertEquals("1", scores.get(0).get("episode"));
        for (String command : List.of("check", "due", "cohort", "page", "grip")) {
            List<String> words = new ArrayList<>(List.of(command, lines.toString()));
            if (!command.equals("grip")) {
                words.addAll(List.of("--episodes", episodes.toString()));
            }
            if (command.equals("cohort") || command.equals("page")) {
                String ending = command.equals("page") ? "page.html" : "cohort.xlsx";
                words.addAll(List.of("--out", folder.resolve(ending).toString()));
            }
            Run other = run(words.toArray(String[]::new));
            assertTrue(other.status() < 2, command + ": " + other.err());
            assertFalse((other.out() + other.err()).contains("999999999"), command + ": " + other.out());
        }
        assertFalse(Files.readString(folder.resolve("page.html")).contains("999999999"));
        Run explain = run("explain", "nprs", lines.toString(), "--patient", "A");
        assertTrue(explain.out().contains("Patient A, day not known"), explain.out() + explain.err());
    }

    // ---- forms of others, and files made to do harm: what a form means is tested where it is read

    private static final String HEAD = "{\"resourceType\":\"QuestionnaireResponse\",\"status\":\"completed\","
            + "\"authored\":\"2026-03-01\",\"subject\":{\"reference\":\"Patient/A\"},"
            + "\"questionnaire\":\"https://lumbrical.example/fhir/Questionnaire/nprs|1\",";
    private static final String GOOD = HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":3}]}]}";

    @Test
    void aMapOfLinkIdsIsTakenAndItsRowsThatNoFormHasAreTold() throws IOException {
        Path form = write(
                "form.json",
                GOOD.replace("lumbrical.example/fhir/Questionnaire/nprs|1", "other.example/Q")
                        .replace("\"rest\"", "\"Q1\""));
        Path map = write("map.csv", "heading,column\nQ1,nprs_rest\nQ2,nprs_worst\n");
        Run run = run("score", form.toString(), "--columns", map.toString());
        assertEquals(0, run.status(), run.err());
        assertEquals("3", records(run.out()).get(0).get("score"));
        assertTrue(run.err().contains("map.csv row 3, column heading: note-mapping-not-used"), run.err());
        Run without = run("score", form.toString());
        assertEquals(1, without.status());
        assertTrue(without.err().contains("form.json: no-instrument-found."), without.err());
        assertTrue(without.err().contains("--columns"), without.err());
    }

    @Test
    void twoEntriesOfTheSameFormsAgree() throws IOException {
        Path first = write("first.json", GOOD);
        Path second = write("second.json", GOOD.replace(":3}", ":4}"));
        Run same = run("reconcile", first.toString(), first.toString());
        assertEquals(0, same.status(), same.err());
        assertFalse(same.out().contains("nprs_rest"), same.out());
        Run differs = run("reconcile", first.toString(), second.toString());
        assertEquals(1, differs.status(), differs.err());
        assertTrue(differs.out().contains("nprs_rest"), differs.out() + differs.err());
    }

    @Test
    void aFileThatIsNotReadStopsTheRunInWords() throws IOException {
        for (String text :
                List.of("", "{}", GOOD.substring(0, 90), "[" + GOOD + "]", HEAD + "\"x\":" + "[".repeat(100_000))) {
            Path file = write("forms.json", text);
            Run run = run("score", file.toString());
            assertEquals(2, run.status(), run.err());
            assertEquals("", run.out());
            assertTrue(run.err().startsWith("forms.json: "), run.err());
            assertFalse(run.err().contains("Exception") || run.err().contains("\tat "), run.err());
        }
    }

    /** What is wrong in one form alone costs that form, with its place, and not the file; an id like a formula is guarded. */
    @Test
    void aFormOfWrongKindsIsRejectedAndTheNextIsRead() throws IOException {
        Path lines = write(
                "forms.ndjson",
                GOOD.replace("\"2026-03-01\"", "20260301") + "\n" + GOOD.replace("Patient/A", "Patient/=1+1"));
        Run run = run(
                "score", lines.toString(), "--problems", folder.resolve("p.csv").toString());
        assertEquals(1, run.status(), run.err());
        assertEquals(1, records(run.out()).size(), run.out());
        assertEquals("'=1+1", records(run.out()).get(0).get("patient"));
        List<CSVRecord> problems = records(Files.readString(folder.resolve("p.csv")));
        assertEquals(
                List.of("1 form-not-readable"),
                problems.stream()
                        .filter(p -> !p.get("problem").startsWith("note-"))
                        .map(p -> p.get("row") + " " + p.get("problem"))
                        .toList());
    }

    /** Of a file of lines a broken one is a rejected row with its place; the others are scored, and the counts add up. Lines invented. */
    @Test
    void aBrokenLineCostsItselfAlone() throws IOException {
        List<String> broken = List.of(
                GOOD.substring(0, GOOD.length() - 9),
                "patient,completed_on",
                GOOD + " and more",
                GOOD + GOOD,
                "[" + GOOD + "]",
                "{\"a\":1}",
                GOOD.replace("\"status\"", "\"status\":\"amended\",\"status\""),
                HEAD + "\"x\":" + "[".repeat(100_000),
                GOOD.replace("Patient/A", "Patient/" + "A".repeat(40_000)),
                HEAD + "\"item\":[" + "{\"linkId\":\"x\"},".repeat(5_001) + "{\"linkId\":\"x\"}]}");
        List<String> why = List.of(
                "the line ends in the middle of a resource (character",
                "the line is no JSON (character",
                "the line is no JSON (character",
                "it holds more than one resource",
                "it holds JSON that is no FHIR resource",
                "it holds no FHIR resource",
                "an object of the line holds one name twice (character",
                "something in the line is longer or nested deeper than any form needs",
                "something in the line is longer or nested deeper than any form needs",
                "it holds a form of more than 5000 items");
        String good = GOOD.replace("Patient/A", "Patient/B");
        String lines = GOOD + "\r\n\n" + String.join("\n", broken) + "\n" + good;
        List<Path> files = new ArrayList<>(List.of(write("forms.ndjson", lines), write("forms.txt", lines)));
        files.add(folder.resolve("forms.ndjson.gz"));
        try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(files.get(2)))) {
            out.write(lines.getBytes(StandardCharsets.UTF_8));
        }
        for (Path file : files) {
            Path problems = folder.resolve("problems.csv");
            Run run = run("score", file.toString(), "--problems", problems.toString(), "--overwrite");
            assertEquals(1, run.status(), run.err());
            assertEquals(
                    List.of("A 3", "B 3"),
                    records(run.out()).stream()
                            .map(r -> r.get("patient") + " " + r.get("score"))
                            .toList());
            assertTrue(run.err().contains("rows read 12 = scored 2 + nothing to score 0 + rejected 10"), run.err());
            List<CSVRecord> told = records(Files.readString(problems)).stream()
                    .filter(p -> p.get("problem").equals("form-not-readable"))
                    .toList();
            assertEquals(broken.size(), told.size(), run.err());
            for (int i = 0; i < broken.size(); i++) {
                assertEquals(file.getFileName().toString(), told.get(i).get("file"));
                assertEquals(
                        String.valueOf(i + 3),
                        told.get(i).get("row"),
                        told.get(i).toString());
                assertTrue(
                        told.get(i).get("advice").startsWith("The line is rejected: " + why.get(i)),
                        told.get(i).get("advice"));
                assertFalse(told.get(i).toString().contains("completed"), "nothing of the line is shown");
            }
        }
    }

    /** The upload's own account: what is rejected by line stands among what is not sent. */
    @Test
    void aBrokenLineStandsInTheAccountOfAnUpload() throws IOException {
        Path lines = write("forms.ndjson", GOOD + "\n" + GOOD.substring(0, 70) + "\n");
        Path episodes = write("episodes.csv", "patient,episode,treated_side,index_date\nA,1,right,2026-03-01\n");
        submit(lines, episodes, "up");
        List<CSVRecord> rejected = records(Files.readString(folder.resolve("up").resolve("rejected.csv")));
        assertEquals(1, rejected.size());
        assertTrue(rejected.get(0).toString().contains("form-not-readable"), rejected.toString());
    }
}
