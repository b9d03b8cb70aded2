package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class SubmitTest {
    private static final String DEMO = "../shared/demo/";
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,sex,birth_year,condition,share,family_name
            MARKER~ONE,EP~1,right,2023-02-03,female,1931,MARKER~CONDITION,yes,MARKER~FAMILY
            MARKER~TWO,EP~2,left,2023-04-05,male,1990,wrist,no,MARKER~FAMILY
            """;
    private static final String RESPONSES =
            """
            patient,completed_on,side,remark,sane_1
            MARKER~ONE,2023-02-01,right,MARKER~REMARK,40
            MARKER~ONE,2023-05-06,right,MARKER~REMARK,80
            MARKER~ONE,2023-05-07,right,MARKER~REMARK,
            MARKER~TWO,2023-04-01,left,MARKER~REMARK,50
            MARKER~THREE,2023-04-01,left,MARKER~REMARK,50
            MARKER~ONE,2027-01-01,right,MARKER~REMARK,50
            ,2023-04-01,left,MARKER~REMARK,50
            """;

    @TempDir
    private Path folder;

    private static Run run(List<String> args) {
        return Run.of(args);
    }

    private Run submit(String as, String target, String... more) {
        return Run.submit(folder, as, target, more);
    }

    private void write(String responses, String episodes) throws IOException {
        Files.writeString(folder.resolve("responses.csv"), responses);
        Files.writeString(folder.resolve("episodes.csv"), episodes);
    }

    private Map<String, byte[]> files(String target) throws IOException {
        Map<String, byte[]> files = new TreeMap<>();
        Path root = folder.resolve(target);
        try (Stream<Path> tree = Files.walk(root)) {
            for (Path file : tree.filter(Files::isRegularFile).toList()) {
                files.put(root.relativize(file).toString().replace('\\', '/'), Files.readAllBytes(file));
            }
        }
        return files;
    }

    private String text(String target, String name) throws IOException {
        return Files.readString(folder.resolve(target).resolve(name));
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void noIdDateOrFreeTextOfTheInputIsInAnyByte(String as) throws IOException {
        write(RESPONSES, EPISODES);
        Run run = submit(as, "up", "--key-file", folder.resolve("keys.json").toString());
        assertEquals(1, run.status(), run.err());
        Map<String, byte[]> files = files("up");
        assertTrue(
                files.keySet().stream().filter(n -> n.startsWith("data/")).count() >= (as.equals("fhir") ? 1 : 2),
                files.keySet().toString());
        assertTrue(files.keySet().containsAll(List.of("dictionary.csv", "manifest.json", "rejected.csv")));
        files.forEach((name, bytes) -> {
            String content = new String(bytes, StandardCharsets.UTF_8);
            for (String secret : List.of(
                    "MARKER~",
                    "EP~",
                    "2023-02-03",
                    "2023-02-01",
                    "2023-05-06",
                    "2023-05-07",
                    "2023-04-0",
                    "2027-01-01",
                    "1931")) {
                assertFalse(content.contains(secret), name + " holds " + secret);
            }
        });
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void theDemoClinicIsSentTwiceTheSameAndCanBeChecked(String as) throws IOException {
        for (String target : List.of("a", "b")) {
            Run run = run(List.of(
                    "submit",
                    DEMO + "responses.csv",
                    "--episodes",
                    DEMO + "episodes.csv",
                    "--as",
                    as,
                    "--profile",
                    "../shared/profiles/demo-registry.json",
                    "--key-file",
                    folder.resolve("keys.json").toString(),
                    "--out",
                    folder.resolve(target).toString(),
                    "--accept-disclosure",
                    "--as-of",
                    "2026-11-25"));
            assertEquals(0, run.status(), run.err());
            assertTrue(
                    run.err().contains("sittings 298 = sent 296 + rejected 2: not-shared 2; forms sent 711"),
                    run.err());
        }
        Map<String, byte[]> first = files("a");
        Map<String, byte[]> second = files("b");
        assertEquals(first.keySet(), second.keySet());
        first.forEach((name, bytes) -> assertArrayEquals(bytes, second.get(name), name));
        Run check = run(List.of("submit", "--check", folder.resolve("a").toString()));
        assertEquals(0, check.status(), check.err());
        Path some = folder.resolve("a/rejected.csv");
        Files.writeString(some, Files.readString(some).replace("reason", "reasoN"));
        Files.writeString(folder.resolve("a/data/more.csv"), "x");
        Run changed = run(List.of("submit", "--check", folder.resolve("a").toString()));
        assertEquals(1, changed.status());
        assertEquals(
                "rejected.csv: the file has been changed." + System.lineSeparator()
                        + "data/more.csv: this file is not in the manifest." + System.lineSeparator()
                        + "2 differences from the manifest. Do not send this folder; write it again."
                        + System.lineSeparator(),
                changed.err());
    }

    @Test
    void everySittingIsSentOrRejectedWithItsReason() throws IOException {
        write(RESPONSES, EPISODES);
        Run run = submit("csv", "up");
        assertTrue(
                run.err()
                        .contains(
                                "sittings 7 = sent 2 + rejected 5: date-in-future 1, episode-not-found 1, not-shared 1,"
                                        + " nothing-answered 1, patient-missing 1; forms sent 2"),
                run.err());
        // row 8 has no patient: it may be of the one who refuses
        assertEquals(
                """
                input,row,column,instrument,reason\r
                1,4,,,nothing-answered\r
                1,6,episode,sane,episode-not-found\r
                1,7,completed_on,sane,date-in-future\r
                """,
                text("up", "rejected.csv"));
    }

    /** Worked by hand: day -2 lies in week -1, day 92 = 13 x 7 + 1 in week 13; 1931 gives 92 years, which is sent as 90+. */
    @Test
    void csvHoldsWeeksAndBandsOfAgeByDefault() throws IOException {
        write(RESPONSES, EPISODES);
        submit("csv", "up");
        List<String> scores = text("up", "data/scores.csv").lines().toList();
        assertTrue(scores.get(0).contains(",form,week,visit,"), scores.get(0));
        assertTrue(scores.get(1).contains(",-1,baseline,sane,right,total,40,complete,"), scores.get(1));
        assertTrue(scores.get(2).contains(",13,3 months,sane,right,total,80,complete,"), scores.get(2));
        List<String> changes = text("up", "data/change.csv").lines().toList();
        assertTrue(changes.get(0).contains(",baseline_form,baseline_week,baseline,"), changes.get(0));
        assertTrue(changes.get(1).contains(",-1,40,40,40,40,40,"), changes.get(1));
        assertEquals(
                "site,study,subject,episode,treated_side,sex,age_band,dominant_side,closed_reason",
                text("up", "data/episodes.csv").lines().findFirst().orElseThrow());
        assertTrue(text("up", "data/episodes.csv")
                .lines()
                .skip(1)
                .findFirst()
                .orElseThrow()
                .endsWith(",right,female,90+,,"));
        assertFalse(text("up", "data/scores.csv").contains("2023"));
    }

    private String days() throws IOException {
        return Files.writeString(
                        folder.resolve("days.json"),
                        "{\"id\":\"days\",\"version\":\"1\",\"study\":\"S\",\"dates\":\"days-from-index\",\"columns\":["
                                + "{\"name\":\"sex\",\"values\":[\"female\",\"male\"]},{\"name\":\"age\"},"
                                + "{\"name\":\"closed_reason\"},{\"name\":\"closed_day\"},{\"name\":\"closed_week\"}]}")
                .toString();
    }

    /** Worked by hand: day 92 after 2023-02-03 is 2023-05-06; 80 - 40 = 40; 1931 gives 92 years, which is sent as 90. */
    @Test
    void csvHoldsDaysYearsAndCappedAgesWhereTheProfileNamesThem() throws IOException {
        write(RESPONSES, EPISODES);
        submit("csv", "up", "--profile", days());
        List<String> scores = text("up", "data/scores.csv").lines().toList();
        assertEquals(3, scores.size());
        assertTrue(scores.get(1).contains(",2023,-2,baseline,sane,right,total,40,complete,"), scores.get(1));
        assertTrue(scores.get(2).contains(",2023,92,3 months,sane,right,total,80,complete,"), scores.get(2));
        List<String> changes = text("up", "data/change.csv").lines().toList();
        assertTrue(changes.get(1).contains(",2023,-2,40,40,40,40,40,"), changes.get(1));
        List<String> episodes = text("up", "data/episodes.csv").lines().toList();
        assertEquals(2, episodes.size());
        assertTrue(episodes.get(1).endsWith(",right,2023,0,female,90,,,"), episodes.get(1));
    }

    @Test
    void aTrialRunShowsColumnsMaskedAndWritesNothing() throws IOException {
        write(RESPONSES, EPISODES);
        Run run = submit(
                "csv",
                "up",
                "--dry-run",
                "--key-file",
                folder.resolve("keys.json").toString());
        assertFalse(Files.exists(folder.resolve("up")));
        assertFalse(Files.exists(folder.resolve("keys.json")));
        for (String line : List.of(
                "responses,remark,no,not on the profile's list,",
                "episodes,family_name,no,not on the profile's list,",
                "episodes,condition,no,not on the profile's list,",
                "episodes,birth_year,yes,\"age at the index date by tens, ages over 89 as 90+\",9**",
                "episodes,sex,yes,values on the profile's list; any other is left blank,f*****")) {
            assertTrue(run.out().contains(line + "\r\n"), run.out());
        }
        assertFalse(run.out().contains("MARKER"), run.out());
    }

    private long lines(String target, String name, String ending) throws IOException {
        return text(target, name).lines().filter(l -> l.endsWith(ending)).count();
    }

    /** The form, its score and its change are three resources. */
    @Test
    void aCorrectedFormIsAmendedAndStaysSo() throws IOException {
        write(RESPONSES, EPISODES);
        submit("fhir", "up");
        assertFalse(text("up", "data/bundle-00001.json").contains("amended"));
        submit("fhir", "up", "--overwrite");
        assertFalse(text("up", "data/bundle-00001.json").contains("amended"), "the same again");
        write(RESPONSES.replace(",80", ",70"), EPISODES);
        Run corrected = submit("fhir", "up", "--overwrite");
        assertTrue(
                corrected.err().contains("amended since they were sent: Observation 2, QuestionnaireResponse 1"),
                corrected.err());
        assertEquals(3, text("up", "data/bundle-00001.json").split("\"status\":\"amended\"", -1).length - 1);
        Map<String, byte[]> once = files("up");
        Run again = submit("fhir", "up", "--overwrite");
        assertFalse(again.err().contains("amended since"), again.err());
        Map<String, byte[]> twice = files("up");
        once.forEach((name, bytes) -> assertArrayEquals(bytes, twice.get(name), name));
        assertEquals(3, lines("up", "sent.csv", ",amended"));
    }

    /** Where the key file does not know what was sent, the folder sent last tells it. */
    @Test
    void theFolderSentLastStandsInForTheKeyFile() throws IOException {
        write(RESPONSES, EPISODES);
        Path keys = folder.resolve("keys.json");
        submit("csv", "other");
        byte[] withoutFhir = Files.readAllBytes(keys);
        submit("fhir", "up");
        Files.write(keys, withoutFhir);
        write(RESPONSES.replace(",80", ",70"), EPISODES);
        Run run = submit("fhir", "up2", "--previous", folder.resolve("up").toString());
        assertTrue(run.err().contains("amended since they were sent: Observation 2"), run.err());
        Files.write(keys, withoutFhir);
        assertFalse(submit("fhir", "up3").err().contains("amended since"));
    }

    @Test
    void whatIsNoLongerSentIsWithdrawnInTheOrderInWhichItCanBe() throws IOException {
        write(RESPONSES, EPISODES);
        submit("fhir", "up");
        assertFalse(Files.exists(folder.resolve("up/data/withdrawn-00001.json")));
        write(RESPONSES, EPISODES.replace("MARKER~CONDITION,yes", "MARKER~CONDITION,no"));
        Run refused = submit("fhir", "up", "--overwrite");
        assertTrue(
                refused.err()
                        .contains("withdrawn since they were sent: EpisodeOfCare 1, Observation 3, Patient 1,"
                                + " QuestionnaireResponse 2"),
                refused.err());
        List<String> deleted = java.util.regex.Pattern.compile("\"method\":\"DELETE\",\"url\":\"([A-Za-z]+)[^\"]*\"")
                .matcher(text("up", "data/withdrawn-00001.json"))
                .results()
                .map(m -> m.group(1))
                .toList();
        assertEquals(
                List.of(
                        "Observation",
                        "Observation",
                        "Observation",
                        "QuestionnaireResponse",
                        "QuestionnaireResponse",
                        "EpisodeOfCare",
                        "Patient"),
                deleted);
        Map<String, byte[]> once = files("up");
        submit("fhir", "up", "--overwrite");
        Map<String, byte[]> twice = files("up");
        once.forEach((name, bytes) -> assertArrayEquals(bytes, twice.get(name), name));
        write(RESPONSES, EPISODES);
        submit("fhir", "up", "--overwrite");
        assertFalse(Files.exists(folder.resolve("up/data/withdrawn-00001.json")), "sent again after all");
        assertEquals(7, lines("up", "sent.csv", ",returned"));
        assertEquals(
                5,
                (text("up", "data/bundle-00001.json") + text("up", "data/bundle-00002.json"))
                                .split("\"status\":\"amended\"", -1)
                                .length
                        - 1,
                "two forms, two scores and a change");
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "sdtm", "adam"})
    void tablesListKeysOfWhatIsWithdrawn(String as) throws IOException {
        write(RESPONSES, EPISODES);
        submit(as, "up");
        assertFalse(Files.exists(folder.resolve("up/data/withdrawn.csv")));
        String before = text("up", "sent.csv");
        write(RESPONSES, EPISODES.replace("MARKER~CONDITION,yes", "MARKER~CONDITION,no"));
        Run refused = submit(as, "up", "--overwrite");
        assertTrue(
                refused.err()
                        .contains(
                                as.equals("csv")
                                        ? "withdrawn since they were sent: change 1, episodes 1, responses 2, scores 2"
                                        : "withdrawn since they were sent: episodes 1, forms 2, subjects 1"),
                refused.err());
        List<String> rows = text("up", "data/withdrawn.csv").lines().skip(1).toList();
        assertEquals(as.equals("csv") ? 6 : 4, rows.size());
        rows.forEach(row -> {
            String key = row.substring(row.lastIndexOf(',') + 1);
            assertTrue(before.contains("," + key + ","), row);
        });
        assertEquals(as.equals("csv"), !Files.exists(folder.resolve("up/data/withdrawn.json")));
        if (!as.equals("csv")) {
            String json = text("up", "data/withdrawn.json");
            assertTrue(json.contains("\"WITHDRWN\"") && json.contains("(Ours)"), json);
        }
        files("up").forEach((name, bytes) -> {
            String content = new String(bytes, StandardCharsets.UTF_8);
            assertFalse(content.contains("MARKER~"), name);
        });
    }

    @Test
    void filesOfDataAreCompressedOnRequest() throws IOException {
        write(RESPONSES, EPISODES);
        submit("fhir", "plain", "--ndjson");
        assertEquals(1, submit("fhir", "up", "--ndjson", "--gzip").status());
        for (String name : files("plain").keySet()) {
            if (name.startsWith("data/")) {
                try (java.io.InputStream in = new java.util.zip.GZIPInputStream(
                        Files.newInputStream(folder.resolve("up").resolve(name + ".gz")))) {
                    assertArrayEquals(files("plain").get(name), in.readAllBytes(), name);
                }
            }
        }
        assertEquals(
                0,
                run(List.of("submit", "--check", folder.resolve("up").toString()))
                        .status());
    }

    /** A bulk import takes a type of resource a file, one a line; Bundles are the other form, and the manifest says so. */
    @Test
    void linesAreWrittenInsteadOfBundles() throws IOException {
        write(RESPONSES, EPISODES);
        assertEquals(1, submit("fhir", "bundles").status());
        assertEquals(1, submit("fhir", "lines", "--ndjson").status());
        assertTrue(files("bundles").containsKey("data/bundle-00001.json"));
        assertFalse(files("bundles").keySet().stream().anyMatch(n -> n.endsWith(".ndjson")));
        assertFalse(files("lines").keySet().stream().anyMatch(n -> n.contains("bundle")));
        List<String> types = List.of("Patient", "EpisodeOfCare", "QuestionnaireResponse", "Observation");
        for (String type : types) {
            List<String> lines =
                    text("lines", "data/" + type + ".ndjson").lines().toList();
            assertEquals(
                    text("bundles", "data/bundle-00001.json").split("\"resourceType\":\"" + type + "\"", -1).length - 1,
                    lines.size(),
                    type);
            lines.forEach(line ->
                    assertTrue(line.startsWith("{\"resourceType\":\"" + type + "\",") && line.endsWith("}"), line));
        }
        assertTrue(text("lines", "manifest.json").contains("One resource a line, for a bulk import by id."));
        assertTrue(text("bundles", "manifest.json").contains("Each Bundle is one transaction."));
    }

    /** Made on first use and kept: the same names in the next upload, other names with another file. */
    @Test
    void theKeyFileGivesTheSameNamesAndIsOfItsOwnerAlone() throws IOException {
        write(RESPONSES, EPISODES);
        Path keys = folder.resolve("mine.json");
        assertEquals(1, submit("csv", "first", "--key-file", keys.toString()).status());
        if (folder.getFileSystem().supportedFileAttributeViews().contains("posix")) {
            assertEquals(
                    "rw-------",
                    java.nio.file.attribute.PosixFilePermissions.toString(Files.getPosixFilePermissions(keys)));
        }
        byte[] kept = Files.readAllBytes(keys);
        assertEquals(1, submit("csv", "second", "--key-file", keys.toString()).status());
        assertArrayEquals(kept, Files.readAllBytes(keys), "nothing is new");
        assertEquals(text("first", "data/episodes.csv"), text("second", "data/episodes.csv"));
        assertEquals(text("first", "data/responses.csv"), text("second", "data/responses.csv"));
        submit("csv", "third", "--key-file", folder.resolve("other.json").toString());
        String subject =
                text("first", "data/episodes.csv").lines().toList().get(1).split(",")[2];
        assertTrue(new String(kept, StandardCharsets.UTF_8).contains(subject));
        assertFalse(text("third", "data/episodes.csv").contains(subject));
    }

    @Test
    void codesOfOtherSystemsAreAddedAndNoneIsGuessed() throws IOException {
        write(RESPONSES, EPISODES);
        submit("fhir", "plain");
        assertFalse(text("plain", "data/bundle-00001.json").contains("loinc"));
        Path map = Files.writeString(
                folder.resolve("codes.csv"),
                "our_code,system,code\nsane-total,loinc,00000-0\nsane_1,loinc,00000-1\nsane,loinc,00000-2\n");
        assertEquals(1, submit("fhir", "up", "--terminology", map.toString()).status());
        assertTrue(text("up", "data/bundle-00001.json")
                .contains("{\"system\":\"http://loinc.org\",\"code\":\"00000-0\"}"));
        for (String code : List.of("00000-1", "00000-2")) {
            assertTrue(text("up", "data/bundle-00001.json")
                    .contains("\"code\":[{\"system\":\"http://loinc.org\",\"code\":\"" + code + "\"}]"));
        }
        Files.writeString(map, "our_code,system,code\nsane-total,icd,X\n");
        Run unknown = submit("fhir", "up3", "--terminology", map.toString());
        assertEquals(2, unknown.status());
        assertEquals(
                "codes.csv row 2, column system: the system is not known. Write loinc or snomed; codes of other systems are"
                        + " not added." + System.lineSeparator() + "Nothing was written." + System.lineSeparator(),
                unknown.err());
        assertFalse(Files.exists(folder.resolve("up3")));
    }

    @Test
    void anEpisodeWithoutIndexDateIsRefusedWhereDaysAreWanted() throws IOException {
        write(RESPONSES, EPISODES.replace("2023-02-03", ""));
        Run run = submit("csv", "up");
        assertEquals(2, run.status());
        assertEquals(
                "episodes.csv row 2, column index_date: the episode has forms but no usable index date. Days from the index"
                        + " date cannot be given. Fill it in, set share to no, or use a profile with shifted dates."
                        + System.lineSeparator() + "Nothing was written." + System.lineSeparator(),
                run.err());
        assertFalse(Files.exists(folder.resolve("up")));
        Path shifted = Files.writeString(
                folder.resolve("p.json"),
                "{\"id\":\"s\",\"version\":\"1\",\"study\":\"S\",\"dates\":\"shifted\",\"columns\":[{\"name\":\"age\"}]}");
        assertEquals(1, submit("csv", "up", "--profile", shifted.toString()).status());
        assertFalse(text("up", "data/scores.csv").contains("2023-02-01"));
    }

    @Test
    void shiftsKeepTheDaysBetweenSittings() throws IOException {
        write(RESPONSES, EPISODES);
        Path shifted = Files.writeString(
                folder.resolve("p.json"),
                "{\"id\":\"s\",\"version\":\"1\",\"study\":\"S\",\"dates\":\"shifted\",\"columns\":[]}");
        submit("adam", "up", "--profile", shifted.toString());
        List<String> rows = text("up", "data/adhand.csv").lines().toList();
        int at = List.of(rows.get(0).split(",")).indexOf("ADT");
        java.time.LocalDate first = java.time.LocalDate.parse(rows.get(1).split(",")[at]);
        java.time.LocalDate second = java.time.LocalDate.parse(rows.get(2).split(",")[at]);
        assertEquals(94, java.time.temporal.ChronoUnit.DAYS.between(first, second));
        assertTrue(first.isBefore(java.time.LocalDate.parse("2023-02-01")));
    }

    @Test
    void someoneElsesFolderIsNeverReplaced() throws IOException {
        write(RESPONSES, EPISODES);
        Files.createDirectories(folder.resolve("mine"));
        Files.writeString(folder.resolve("mine/thesis.txt"), "precious");
        assertEquals(2, submit("csv", "mine").status());
        Run run = submit("csv", "mine", "--overwrite");
        assertEquals(2, run.status());
        assertTrue(run.err().contains("the folder holds other files"), run.err());
        assertEquals("precious", Files.readString(folder.resolve("mine/thesis.txt")));
    }

    @Test
    void asksForWhatIsMissing() throws IOException {
        write(RESPONSES, EPISODES);
        assertEquals(
                "--as xml: write fhir, sdtm, adam or csv.",
                submit("xml", "up").err().lines().findFirst().orElseThrow());
        Run noEpisodes = run(
                List.of("submit", folder.resolve("responses.csv").toString(), "--as", "csv", "--out", folder + "/up"));
        assertEquals(2, noEpisodes.status());
        assertTrue(noEpisodes.err().startsWith("--episodes is missing."), noEpisodes.err());
        assertEquals(2, run(List.of("submit", "--check", folder.toString())).status());
    }
}
