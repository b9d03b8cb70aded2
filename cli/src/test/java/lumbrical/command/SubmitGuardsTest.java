package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import lumbrical.document.Json;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What an upload must not overwrite, mix up, hide or let out; every clinic here is invented. */
class SubmitGuardsTest {
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,sex,birth_year,dominant_side,condition,procedure,closed_on,closed_reason,share
            A,1,right,2023-02-03,female,1960,left,carpal tunnel,open release,2024-01-05,moved,yes
            B,1,left,2023-04-05,male,1961,right,dupuytren,needle,2024-02-05,died,yes
            C,1,left,2023-04-05,,1961,right,dupuytren,needle,,,yes
            R,1,left,2023-04-05,male,1961,right,dupuytren,needle,,,no
            """;

    private static final String RESPONSES =
            """
            patient,completed_on,side,language,mode,respondent,sane_1
            A,2023-02-01,right,en,paper,self,11
            B,2023-04-01,left,de,web,proxy,22
            C,2023-04-01,left,de,web,proxy,33
            R,2023-04-01,left,de,web,self,44
            """;

    private static final String ALL =
            """
            {"id": "all", "version": "1", "study": "ALL", "dates": "weeks-from-index", "columns": [
              {"name": "sex", "values": ["female", "male"]}, {"name": "age_band"}, {"name": "dominant_side"},
              {"name": "condition", "values": ["carpal tunnel", "dupuytren"]},
              {"name": "procedure", "values": ["open release", "needle"]}, {"name": "closed_reason"}, {"name": "closed_week"},
              {"name": "mode", "values": ["paper", "web"]}, {"name": "respondent", "values": ["self", "proxy"]},
              {"name": "language"}]}
            """;

    @TempDir
    private Path folder;

    private Run submit(String as, String target, String... more) throws IOException {
        if (!Files.exists(folder.resolve("responses.csv"))) {
            Files.writeString(folder.resolve("responses.csv"), RESPONSES);
            Files.writeString(folder.resolve("episodes.csv"), EPISODES);
        }
        List<String> words = new ArrayList<>(List.of("--overwrite"));
        words.addAll(List.of(more));
        return Run.submit(folder, as, target, words.toArray(String[]::new));
    }

    private void written(Run run) {
        assertTrue(run.status() < 2, run.err());
    }

    private void refused(String why, Run run) {
        assertEquals(2, run.status(), run.err());
        assertTrue(run.err().contains(why), run.err());
    }

    private Json.Obj manifest() throws IOException {
        return (Json.Obj)
                Json.parse(Files.readString(folder.resolve("up/manifest.json")).getBytes(StandardCharsets.UTF_8));
    }

    private List<String> lines(String file) throws IOException {
        return Files.readString(folder.resolve(file)).lines().toList();
    }

    // ---- one key file, one run

    /** The lock that a run in another process would hold, on the file that the manual names. */
    @Test
    void aKeyFileThatAnotherRunUsesIsRefused() throws IOException {
        Path beside = folder.resolve("keys.json.lock");
        try (FileChannel other = FileChannel.open(beside, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
                FileLock held = other.lock()) {
            assertTrue(held.isValid());
            refused(
                    "keys.json: another run is using this key file. Wait until it has ended, and run the command again.",
                    submit("csv", "up"));
            assertFalse(Files.exists(folder.resolve("up")));
            assertFalse(Files.exists(folder.resolve("keys.json")));
        }
        written(submit("csv", "up"));
        assertFalse(Files.exists(beside), "nothing stays beside the key file");
    }

    @Test
    void ofTwoFirstUploadsAtOnceBothAreKnownToTheKeyFileOrOneIsRefused() throws Exception {
        submit("csv", "up", "--dry-run"); // writes the tables
        List<Run> runs = new ArrayList<>(List.of(Run.of(List.of("version")), Run.of(List.of("version"))));
        List<Thread> threads = new ArrayList<>();
        for (int i = 0; i < 2; i++) {
            int number = i;
            Thread thread = new Thread(() -> {
                try {
                    runs.set(number, submit("csv", "up" + number));
                } catch (IOException e) {
                    throw new java.io.UncheckedIOException(e);
                }
            });
            threads.add(thread);
            thread.start();
        }
        for (Thread thread : threads) {
            thread.join();
        }
        String keys = Files.readString(folder.resolve("keys.json"));
        int sent = 0;
        for (int i = 0; i < 2; i++) {
            if (Files.exists(folder.resolve("up" + i))) {
                sent++;
                for (String row : lines("up" + i + "/data/episodes.csv").subList(1, 4)) {
                    assertTrue(keys.contains("\"" + row.split(",")[2] + "\""), row);
                }
            } else {
                refused("another run is using this key file", runs.get(i));
            }
        }
        assertTrue(sent > 0, runs.get(0).err());
    }

    // ---- what lies in the folder

    @Test
    void problemsAreNotWrittenIntoTheFolderThatIsSent() throws IOException {
        written(submit("csv", "up"));
        String why = "lies in the folder that is sent. It tells of rows of the input: keep it elsewhere.";
        refused("p.csv: the file of --problems " + why, submit("csv", "up", "--problems", folder + "/up/p.csv"));
        refused(
                "p.csv: the file of --problems " + why,
                submit("csv", "up", "--problems", folder + "/up/data/../p.csv"));
        assertFalse(Files.exists(folder.resolve("up/p.csv")));
        written(submit("csv", "up", "--problems", folder + "/p.csv"));
        assertTrue(Files.exists(folder.resolve("p.csv")));
    }

    @Test
    void aFolderThatHoldsMoreThanItsManifestListsIsNotReplaced() throws IOException {
        written(submit("csv", "up"));
        Path own = Files.writeString(folder.resolve("up/data/agreement.txt"), "signed");
        try {
            Path link = Files.createSymbolicLink(folder.resolve("named"), folder.resolve("up"));
            refused(
                    "(data/agreement.txt), and they would be lost.",
                    submit("csv", link.getFileName().toString()));
        } catch (UnsupportedOperationException e) {
            assertTrue(Files.exists(own), "no links on this system");
        }
        refused(
                "up: the folder holds files that its manifest does not list (data/agreement.txt), and they would be lost.",
                submit("csv", "up"));
        assertEquals("signed", Files.readString(own));
        Files.delete(own);
        written(submit("csv", "up"));
    }

    @Test
    void aLinkOutOfTheFolderIsNoFileOfIt() throws IOException {
        written(submit("csv", "up"));
        Path file = folder.resolve("up/data/scores.csv");
        Path outside = Files.move(file, folder.resolve("outside.csv"));
        try {
            Files.createSymbolicLink(file, outside);
        } catch (IOException | UnsupportedOperationException e) {
            Assumptions.abort("no links on this system");
        }
        Run run = Run.of(List.of("submit", "--check", folder.resolve("up").toString()));
        assertEquals(1, run.status());
        assertTrue(run.err().contains("data/scores.csv: this is a link, not a file of the folder."), run.err());
    }

    // ---- the upload before

    @Test
    void theUploadBeforeMustBeOfTheSameFormAndAsItWasWritten() throws IOException {
        written(submit("csv", "before"));
        String before = folder.resolve("before").toString();
        refused(
                "before: this upload is of the form csv, not fhir. Name the folder sent last as fhir.",
                submit("fhir", "up", "--previous", before));
        assertFalse(Files.exists(folder.resolve("up")));
        written(submit("csv", "up", "--previous", before));
        Path list = folder.resolve("before/sent.csv");
        byte[] whole = Files.readAllBytes(list);
        Files.writeString(list, Files.readString(list).replaceFirst("(?m)^scores,.*\r?\n", ""));
        refused("sent.csv: the file is not as its manifest says.", submit("csv", "up", "--previous", before));
        Files.write(list, whole);
        written(submit("csv", "up", "--previous", before));
        assertArrayEquals(whole, Files.readAllBytes(list));
    }

    // ---- rows that were not sent

    /** A refuses nothing, R refuses, and a row without a patient may be of R. */
    @Test
    void onlyRowsThatCannotBeOfSomebodyWhoRefusesAreListed() throws IOException {
        submit("csv", "up", "--dry-run"); // writes the tables
        String more =
                """
                A,2 Feb 2023,right,en,paper,self,50
                R,2 Feb 2023,left,en,paper,self,50
                ,2023-02-01,left,en,paper,self,50
                ,2 Feb 2023,left,en,paper,self,50
                A,,right,en,paper,self,50
                """;
        Files.writeString(folder.resolve("responses.csv"), RESPONSES + more);
        written(submit("csv", "up"));
        List<String> rejected = lines("up/rejected.csv");
        assertEquals(
                List.of("1,6,completed_on,,date-not-iso", "1,10,completed_on,,date-missing"),
                rejected.subList(1, rejected.size()));
        Json.Obj counts = (Json.Obj)
                ((Json.Obj) manifest().members().get("sittings")).members().get("rejected");
        TreeMap<String, Integer> counted = new TreeMap<>();
        counts.members().forEach((reason, n) -> counted.put(reason, (int) ((Json.Num) n).value()));
        assertEquals("{date-missing=1, date-not-iso=2, not-shared=1, patient-missing=2}", counted.toString());
        Files.writeString(folder.resolve("episodes.csv"), EPISODES.replace(",no\n", ",yes\n"));
        written(submit("csv", "up"));
        assertEquals(5, lines("up/rejected.csv").size() - 1, "where nobody refuses every row is listed");
    }

    // ---- what each form sends

    private Set<String> leaving() throws IOException {
        Set<String> leaving = new TreeSet<>();
        for (Json column : ((Json.Arr) manifest().members().get("columns")).elements()) {
            Json.Obj of = (Json.Obj) column;
            if (of.members().get("leaves").toString().contains("true")) {
                leaving.add(((Json.Text) of.members().get("column")).value());
            }
        }
        return leaving;
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void columnsThatAFormDoesNotSendAreSaidToStay(String as) throws IOException {
        Path profile = Files.writeString(folder.resolve("all.json"), ALL);
        written(submit(as, "up", "--profile", profile.toString()));
        Set<String> open = new TreeSet<>(
                Set.of("mode", "respondent", "language", "dominant_side", "condition", "procedure", "closed_on"));
        open.retainAll(leaving());
        boolean tables = as.equals("csv") || as.equals("fhir");
        assertEquals(tables ? 7 : 0, open.size(), open.toString());
        assertTrue(
                leaving().containsAll(Set.of("sex", "birth_year", "closed_reason")),
                leaving().toString());
        Json.Obj person = (Json.Obj)
                ((Json.Obj) manifest().members().get("disclosure")).members().get("person");
        List<String> fields = ((Json.Arr) person.members().get("fields"))
                .elements().stream().map(f -> ((Json.Text) f).value()).toList();
        assertEquals(
                tables
                        ? List.of(
                                "treated_side",
                                "sex",
                                "age_band",
                                "dominant_side",
                                "condition",
                                "procedure",
                                "closed_reason",
                                "closed_week",
                                "language")
                        : List.of("treated_side", "sex", "age_band", "closed_reason"),
                fields);
        if (!tables) {
            StringBuilder all = new StringBuilder();
            try (var files = Files.list(folder.resolve("up/data"))) {
                for (Path file :
                        files.filter(f -> f.toString().endsWith(".csv")).toList()) {
                    all.append(Files.readString(file));
                }
            }
            for (String absent : List.of("carpal", "dupuytren", "proxy", "web", "moved", "needle")) {
                assertFalse(all.toString().toLowerCase(java.util.Locale.ROOT).contains(absent), absent);
            }
        }
        Run trial = submit(as, "up", "--profile", profile.toString(), "--dry-run");
        assertTrue(
                trial.out()
                        .contains(
                                tables
                                        ? "responses,language,yes,"
                                        : "responses,language,no,this form has no place for it,"),
                trial.out());
        assertTrue(
                trial.out()
                        .contains(
                                tables
                                        ? "episodes,closed_reason,yes,as it is,"
                                        : "episodes,closed_reason,yes,a death alone; this form has no place for other"
                                                + " reasons,"),
                trial.out());
    }

    // ---- define.xml

    @ParameterizedTest
    @CsvSource({
        "sdtm, DM DOMAIN;DM SUBJID;DM SITEID;DM SEX;QS DOMAIN;QS QSTESTCD;QS QSTEST;QS QSCAT",
        "adam, ADSL SUBJID;ADSL SITEID;ADSL SEX"
    })
    void variablesThatTheStandardRequiresAreMandatoryAndNeverNull(String as, String required) throws IOException {
        written(submit(as, "up"));
        String define = Files.readString(folder.resolve("up/data/define.xml"));
        for (String variable : required.split(";")) {
            assertTrue(
                    define.matches("(?s).*<ItemRef ItemOID=\"IT\\." + variable.replace(" ", "\\.")
                            + "\" OrderNumber=\"\\d+\" Mandatory=\"Yes\".*"),
                    variable);
        }
        assertTrue(define.matches("(?s).*\\.AGE\" OrderNumber=\"\\d+\" Mandatory=\"No\".*"), "AGE is not sent");
        List<String> rows = lines(as.equals("sdtm") ? "up/data/dm.csv" : "up/data/adsl.csv");
        int sex = List.of(rows.get(0).split(",", -1)).indexOf("SEX");
        List<String> values = rows.subList(1, rows.size()).stream()
                .map(row -> row.split(",", -1)[sex])
                .sorted()
                .toList();
        assertEquals(List.of("F", "M", "U"), values);
    }
}
