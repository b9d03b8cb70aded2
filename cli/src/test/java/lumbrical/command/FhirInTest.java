package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
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

    // ---- forms of others

    /** Invented. Q1 to Q11 of a form of another house: nested groups, codings with weights, decimals, a time zone over midnight. */
    private static final String OTHERS =
            """
            \uFEFF{"entry":[
             {"resource":{"item":[{"linkId":"g","item":[%s]}],"authored":"2026-03-01T23:30:00-11:00","status":"completed",
              "subject":{"identifier":{"system":"urn:x","value":"007"},"display":"Somebody"},
              "questionnaire":"https://other.example/Questionnaire/hand|2","resourceType":"QuestionnaireResponse"}},
             {"resource":{"resourceType":"Patient","id":"x","item":5}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"entered-in-error","authored":"2026-03-02",
              "subject":{"reference":"Patient/008"},"item":[{"linkId":"Q1","answer":[{"valueInteger":1}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"in-progress","authored":"2026-03-02",
              "subject":{"reference":"https://s.example/fhir/Patient/008/_history/2"},
              "source":{"reference":"RelatedPerson/1","display":"Somebody"},
              "item":[{"linkId":"Q1","answer":[{"valueInteger":1},{"valueInteger":2}]},{"linkId":"which","answer":[{"valueString":"left"}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"completed",
              "subject":{"reference":"Patient/009"},"item":[{"linkId":"Q1","answer":[{"valueInteger":1}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"completed","authored":"2026-03-02",
              "subject":{"reference":"#p"},"item":[{"linkId":"Q1","answer":[{"valueQuantity":{"value":3,"unit":"cm"}}]}]}},
             {"resource":{"resourceType":"QuestionnaireResponse","status":"completed","authored":"2026-03-02",
              "questionnaire":"https://other.example/Questionnaire/mood","subject":{"reference":"Patient/009"},
              "item":[{"linkId":"m1","answer":[{"valueInteger":1}]}]}}
            ],"link":[{"relation":"next","url":"https://s.example/fhir?page=2"}],"resourceType":"Bundle","type":"searchset"}
            """;

    private static final String WEIGHT =
            "\"extension\":[{\"url\":\"http://hl7.org/fhir/StructureDefinition/ordinalValue\",\"valueDecimal\":%d}]";

    private static String others() {
        List<String> items = new ArrayList<>();
        for (int i = 1; i <= 11; i++) {
            String answer =
                    switch (i % 4) {
                        case 0 -> "\"valueDecimal\":3.0";
                        case 1 -> "\"valueCoding\":{\"system\":\"urn:x\",\"code\":\"3\",\"display\":\"some\"}";
                        case 2 -> "\"valueCoding\":{\"code\":\"LA-9\"," + WEIGHT.formatted(3) + "}";
                        default -> "\"valueString\":\" 3 \"";
                    };
            items.add("{\"answer\":[{" + answer + "}],\"linkId\":\"Q" + i + "\"}");
        }
        return OTHERS.formatted(String.join(",", items));
    }

    private Path map() throws IOException {
        StringBuilder map = new StringBuilder("heading,column\nwhich,side\n");
        for (int i = 1; i <= 11; i++) {
            map.append("Q").append(i).append(",quickdash_").append(i).append('\n');
        }
        return write("map.csv", map.toString());
    }

    /** Eleven answers of 3 score 50: (33 / 11 - 1) x 25. Source: Beaton 2005, J Bone Joint Surg Am 87:1038-1046, the published formula. */
    @Test
    void formsOfAnotherHouseAreReadByTheirLinkIds() throws IOException {
        Path bundle = write("bundle.json", others());
        Run run = run("score", bundle.toString(), "--columns", map().toString());
        assertEquals(1, run.status(), run.err());
        List<CSVRecord> rows = records(run.out());
        assertEquals(2, rows.size(), run.out());
        assertEquals("007", rows.get(0).get("patient"));
        assertEquals("2026-03-01", rows.get(0).get("completed_on"), "the day as written");
        assertEquals("50", rows.get(0).get("score"));
        assertEquals("complete", rows.get(0).get("outcome"));
        assertEquals("008", rows.get(1).get("patient"));
        assertEquals("left", rows.get(1).get("side"));
        assertEquals("response-not-allowed", rows.get(1).get("reason"));
        for (String told : List.of(
                "bundle.json row 3, column status: note-form-entered-in-error (entered-in-error).",
                "bundle.json row 4, column status: note-form-not-finished (in-progress).",
                "bundle.json row 4, column Q1: response-not-allowed (1, 2).",
                "bundle.json row 5, column completed_on: date-missing.",
                "bundle.json row 6, column patient: patient-missing.",
                "bundle.json row 6, column Q1: response-not-allowed (3 cm).",
                "bundle.json: note-more-pages.",
                "questionnaire https://other.example/Questionnaire/mood")) {
            assertTrue(run.err().contains(told), told + "\n" + run.err());
        }
        assertTrue(run.err().contains("rows read 5 = scored 2 + nothing to score 0 + rejected 3"), run.err());
        assertFalse((run.out() + run.err()).contains("Somebody"), "a display may be a name");
    }

    @Test
    void aMappedCanonicalMakesItsLinkIdsKnown() throws IOException {
        Path form = write(
                "form.json",
                "{\"resourceType\":\"QuestionnaireResponse\",\"questionnaire\":\"https://other.example/Q/pain|7\",\"status\":\"completed\","
                        + "\"authored\":\"2026-03-01\",\"subject\":{\"reference\":\"Patient/A\"},"
                        + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueDecimal\":4e0}]},{\"linkId\":\"rset\",\"answer\":[{\"valueDecimal\":4}]}]}");
        Path map = write("map.csv", "heading,column\nhttps://other.example/Q/pain,nprs\n");
        Run run = run("score", form.toString(), "--columns", map.toString());
        assertEquals("4", records(run.out()).get(0).get("score"), run.out() + run.err());
        assertTrue(
                run.err()
                        .contains(
                                "column rset: unknown-column. This item is not known and not used. Did you mean rest?"),
                run.err());
        assertFalse(run.err().contains("note-mapping-not-used"), run.err());
        Run without = run("score", form.toString());
        assertEquals(1, without.status());
        assertTrue(without.err().contains("form.json: no-instrument-found."), without.err());
    }

    @Test
    void anItemThatNoFormHasIsTold() throws IOException {
        Path bundle = write("bundle.json", others().replace("\"Q11\"", "\"Q12\""));
        Run run = run("score", bundle.toString(), "--columns", map().toString());
        assertTrue(
                run.err().contains("bundle.json: note-item-never-asked. The file has no column quickdash_11"),
                run.err());
        assertTrue(run.err().contains("note-mapping-not-used"), run.err());
    }

    @Test
    void twoEntriesOfTheSameFormsAgree() throws IOException {
        Path bundle = write("first.json", others());
        Path second = write("second.json", others().replace("\"valueDecimal\":3.0", "\"valueDecimal\":2"));
        String map = map().toString();
        Run same = run("reconcile", bundle.toString(), bundle.toString(), "--columns", map);
        assertNotEquals(3, same.status(), same.err());
        assertTrue(same.status() < 2, same.err());
        Run differs = run("reconcile", bundle.toString(), second.toString(), "--columns", map);
        assertTrue(differs.out().contains("quickdash_4"), differs.out() + differs.err());
        assertFalse(same.out().contains("quickdash_4"), same.out());
    }

    // ---- made to do harm

    private static final String HEAD = "{\"resourceType\":\"QuestionnaireResponse\",\"status\":\"completed\","
            + "\"authored\":\"2026-03-01\",\"subject\":{\"reference\":\"Patient/A\"},"
            + "\"questionnaire\":\"https://lumbrical.example/fhir/Questionnaire/nprs|1\",";
    private static final String GOOD = HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":3}]}]}";

    private void refused(String name, byte[] bytes, String why) throws IOException {
        Path file = Files.write(folder.resolve(name), bytes);
        Run run = run("score", file.toString());
        assertEquals(2, run.status(), why + ": " + run.err());
        assertEquals("", run.out());
        assertTrue(run.err().contains(name), run.err());
        assertTrue(run.err().contains(why), run.err());
        assertFalse(run.err().contains("Exception") || run.err().contains("\tat "), run.err());
    }

    private void refused(String name, String text, String why) throws IOException {
        refused(name, text.getBytes(StandardCharsets.UTF_8), why);
    }

    @Test
    void whatIsNoFhirIsRefusedInWords() throws IOException {
        refused("empty.json", "", "the file is empty");
        refused("blank.ndjson", " \n\n ", "the file is empty");
        refused("cut.json", GOOD.substring(0, GOOD.length() - 9), "the file ends in the middle of a resource");
        refused(
                "cut.ndjson",
                GOOD.substring(0, 60),
                "no line of the file can be read (line 1: the line ends in the middle");
        refused("text.json", "patient,completed_on\nA,2026-01-01\n", "the file is no JSON (line 1");
        refused("tail.json", GOOD + " and more", "the file is no JSON");
        refused("list.json", "[" + GOOD + "]", "holds JSON that is no FHIR resource");
        refused("number.json", "7", "holds JSON that is no FHIR resource");
        refused("other.json", "{\"a\":1}", "holds no FHIR resource");
        refused("names.json", "{'resourceType':'Bundle'}", "the file is no JSON");
        refused(
                "nan.json",
                HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueDecimal\":NaN}]}]}",
                "the file is no JSON");
        refused("comma.json", GOOD.replace("}]}]}", "}],}]}"), "the file is no JSON");
        refused("twice.json", GOOD.replace("\"status\"", "\"status\":\"amended\",\"status\""), "holds one name twice");
        refused(
                "latin.json",
                GOOD.replace("Patient/A", "Patient/\u00E9").getBytes(StandardCharsets.ISO_8859_1),
                "no JSON");
    }

    @Test
    void whatIsTooMuchIsRefusedInWords() throws IOException {
        String deep = "longer or nested deeper than any form needs";
        refused("deep.json", HEAD + "\"x\":" + "[".repeat(100_000), deep);
        refused("groups.json", HEAD + "\"item\":" + "[{\"linkId\":\"g\",\"item\":".repeat(5_000), deep);
        refused("long.json", GOOD.replace("Patient/A", "Patient/" + "A".repeat(40_000)), deep);
        refused("digits.json", GOOD.replace(":3}", ":" + "3".repeat(5_000) + "}"), deep);
        refused("name.json", "{\"" + "n".repeat(60_000) + "\":1}", deep);
        String many = "{\"linkId\":\"x\"},".repeat(5_001);
        refused("items.json", HEAD + "\"item\":[" + many + "{\"linkId\":\"x\"}]}", "a form of more than 5000 items");
        String ticks = "{\"valueInteger\":1},".repeat(200) + "{\"valueInteger\":1}";
        refused(
                "answers.json",
                HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[" + ticks + "]}]}",
                "an item of more than 100 answers");
    }

    @Test
    void aPackedFileIsReadAndADamagedOrBloatedOneRefused() throws IOException {
        Path packed = folder.resolve("forms.ndjson.gz");
        try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(packed))) {
            out.write((GOOD + "\n").getBytes(StandardCharsets.UTF_8));
        }
        Run run = run("score", packed.toString());
        assertEquals(0, run.status(), run.err());
        assertEquals("3", records(run.out()).get(0).get("score"));
        byte[] bytes = Files.readAllBytes(packed);
        refused(
                "half.gz",
                java.util.Arrays.copyOf(bytes, bytes.length / 2),
                "the packed file (gzip) is damaged or cut off");
        refused(
                "none.gz",
                new byte[] {0x1F, (byte) 0x8B, 8, 0, 1, 2, 3},
                "the packed file (gzip) is damaged or cut off");
        Path bomb = folder.resolve("bomb.gz");
        try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(bomb))) {
            byte[] spaces = " ".repeat(1 << 20).getBytes(StandardCharsets.UTF_8);
            for (int i = 0; i < 64; i++) {
                out.write(spaces);
            }
        }
        refused("bomb2.gz", Files.readAllBytes(bomb), "unpacks to far more than forms do");
    }

    /** What is wrong in one form alone costs that form, with its place, and not the file. */
    @Test
    void aFormOfWrongKindsIsRejectedAndTheNextIsRead() throws IOException {
        List<String> bad = List.of(
                HEAD + "\"item\":[5,{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":3}]}]}",
                HEAD + "\"item\":{\"linkId\":\"rest\"}}",
                HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":{\"valueInteger\":3}}]}",
                HEAD + "\"item\":[{\"linkId\":7,\"answer\":[{\"valueInteger\":3}]}]}",
                HEAD + "\"item\":[{\"answer\":[{\"valueInteger\":3}]}]}",
                HEAD + "\"item\":[{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":[3]}]}]}",
                HEAD + "\"identifier\":[{\"value\":\"x\"}],\"item\":[]}",
                GOOD.replace("\"2026-03-01\"", "20260301"),
                GOOD.replace("{\"reference\":\"Patient/A\"}", "\"Patient/A\""));
        Path lines = write("forms.ndjson", String.join("\n", bad) + "\n" + GOOD + "\n");
        Run run = run(
                "score", lines.toString(), "--problems", folder.resolve("p.csv").toString());
        assertEquals(1, run.status(), run.err());
        assertEquals(1, records(run.out()).size(), run.out());
        List<CSVRecord> problems = records(Files.readString(folder.resolve("p.csv")));
        assertEquals(
                Stream.iterate(1, i -> i + 1)
                        .limit(bad.size())
                        .map(String::valueOf)
                        .toList(),
                problems.stream()
                        .filter(p -> p.get("problem").equals("form-not-readable"))
                        .map(p -> p.get("row"))
                        .toList(),
                run.err());
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

    /** Read without harm: values that no item allows, ids that look like formulas, a group's Group. */
    @Test
    void oddValuesAreProblemsOfTheirRow() throws IOException {
        List<String> odd = List.of(
                GOOD.replace(":3}", ":1e400000}"),
                GOOD.replace(":3}", ":\"\\uFFFE formula not calculated\"}"),
                GOOD.replace("valueInteger\":3", "valueAttachment\":{\"data\":\"" + "QUJD".repeat(50) + "\"}"),
                GOOD.replace("valueInteger\":3", "valueBoolean\":true"),
                GOOD.replace("Patient/A", "Group/A"),
                GOOD.replace("2026-03-01", "2026-03"),
                GOOD.replace("\"completed\"", "\"done\""),
                GOOD.replace(
                        "{\"linkId\":\"rest\"",
                        "{\"linkId\":\"rest\",\"answer\":[{\"valueInteger\":5}]},{\"linkId\":\"rest\""));
        Path lines = write("forms.ndjson", String.join("\n", odd) + "\n" + GOOD.replace("Patient/A", "Patient/=1+1"));
        Run run = run(
                "score", lines.toString(), "--problems", folder.resolve("p.csv").toString());
        assertEquals(1, run.status(), run.err());
        assertEquals(
                List.of(
                        "1 response-not-allowed",
                        "2 response-not-allowed",
                        "3 response-not-allowed",
                        "4 response-not-allowed",
                        "5 patient-missing",
                        "6 date-not-iso",
                        "7 value-not-allowed",
                        "8 response-not-allowed"),
                records(Files.readString(folder.resolve("p.csv"))).stream()
                        .filter(p -> !p.get("problem").startsWith("note-")
                                && !p.get("problem").equals("duplicate-sitting"))
                        .map(p -> p.get("row") + " " + p.get("problem"))
                        .toList(),
                run.err());
        assertTrue(run.out().contains("'=1+1"), run.out());
    }
}
