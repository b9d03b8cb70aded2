package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Stream;
import lumbrical.document.Json;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What may stand in the folder that is sent; every clinic here is invented. */
class SubmitLeakTest {
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,sex,closed_on,closed_reason,share
            A,1,right,2023-02-03,female,2024-02-03,died,yes
            B,1,left,2023-04-05,male,,,no
            C,1,right,2023-04-05,male,,,yes
            C,2,left,2023-04-05,male,,,no
            """;
    private static final String RESPONSES =
            """
            patient,completed_on,side,B of ward 7,sane_1
            A,2023-02-01,right,x,40
            A,2023-05-06,right,x,80
            B,2023-04-01,left,x,50
            B,2023-04-02,left,x,
            B,soon,left,x,50
            B,2023-04-03,right,x,50
            C,2023-04-01,right,x,50
            C,2023-04-02,,x,55
            A,2027-01-01,right,x,50
            """;

    @TempDir
    private Path folder;

    private Run submit(String as, String keys, String... more) {
        List<String> words = new ArrayList<>(List.of("--key-file", keys));
        words.addAll(List.of(more));
        return Run.submit(folder, as, "up", words.toArray(String[]::new));
    }

    private void write(String responses, String episodes) throws IOException {
        Files.writeString(folder.resolve("responses.csv"), responses);
        Files.writeString(folder.resolve("episodes.csv"), episodes);
    }

    private Run submit(String as) {
        return submit(as, folder.resolve("keys.json").toString());
    }

    private Map<String, String> files() throws IOException {
        Map<String, String> files = new TreeMap<>();
        Path root = folder.resolve("up");
        try (Stream<Path> tree = Files.walk(root)) {
            for (Path file : tree.filter(Files::isRegularFile).toList()) {
                files.put(root.relativize(file).toString().replace('\\', '/'), Files.readString(file));
            }
        }
        return files;
    }

    @Test
    void aKeyFileThatLeadsIntoTheFolderIsRefusedByWhateverName() throws IOException {
        write(RESPONSES, EPISODES);
        Path upload = folder.resolve("up");
        Files.createDirectory(upload);
        Files.createSymbolicLink(folder.resolve("other"), upload);
        Files.createSymbolicLink(folder.resolve("keys-link.json"), upload.resolve("keys.json"));
        Files.createDirectories(folder.resolve("far/away"));
        Files.createSymbolicLink(folder.resolve("near"), folder.resolve("far/away"));
        Files.createSymbolicLink(folder.resolve("far/up"), upload);
        for (String name : List.of(
                "up/keys.json", "other/keys.json", "keys-link.json", "far/../up/keys.json", "near/../up/keys.json")) {
            Run run = submit("csv", folder + "/" + name);
            assertEquals(2, run.status(), name);
            assertTrue(run.err().contains("the key file lies in the folder that is sent."), name + ": " + run.err());
            try (Stream<Path> inside = Files.list(upload)) {
                assertEquals(0, inside.count(), name);
            }
        }
    }

    /** Rows 4 to 7 are of B, who refuses; 9 and its blank side may be of the refused hand of C; 8 is sent, 10 is of A. */
    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void nothingOfWhatIsRefusedStandsInAnyFile(String as) throws IOException {
        write(RESPONSES, EPISODES);
        Run run = submit(as);
        assertEquals(1, run.status(), run.err());
        assertEquals(
                "input,row,column,instrument,reason\r\n1,10,completed_on,sane,date-in-future\r\n",
                files().get("rejected.csv"));
        files().forEach((name, text) -> assertFalse(text.contains("ward 7"), name));
        assertTrue(run.err().contains("not-shared 1"), run.err());
    }

    @Test
    void aVisitThatLooksLikeAFormulaIsGuardedInEveryTable() throws IOException {
        write(RESPONSES, EPISODES);
        Files.writeString(
                folder.resolve("visits.csv"),
                "visit,target_day,from_day,to_day,role\n=HYPERLINK(1),0,-90,0,baseline\n+1,92,60,136,follow-up\n");
        for (String as : List.of("csv", "sdtm", "adam")) {
            Run run = submit(
                    as,
                    folder.resolve("keys.json").toString(),
                    "--overwrite",
                    "--schedule",
                    folder.resolve("visits.csv").toString());
            assertEquals(1, run.status(), run.err());
            int guarded = 0;
            for (Map.Entry<String, String> file : files().entrySet()) {
                if (file.getKey().endsWith(".csv")) {
                    assertFalse(file.getValue().contains(",=HYPERLINK"), file.getKey());
                    assertFalse(file.getValue().contains(",+1,"), file.getKey());
                    guarded += file.getValue().contains(",'=HYPERLINK(1),")
                                    && file.getValue().contains(",'+1,")
                            ? 1
                            : 0;
                }
            }
            assertTrue(guarded > 0, as);
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void aDeathNeverLeavesByTheDefaultProfile(String as) throws IOException {
        write(RESPONSES, EPISODES);
        assertEquals(1, submit(as).status());
        files().forEach((name, text) -> {
            assertFalse(text.contains("died"), name);
            assertFalse(text.contains("\"365\"") || text.contains("\"finished\""), name);
        });
        if (as.equals("csv")) {
            String episodes = files().get("data/episodes.csv");
            assertFalse(episodes.contains(",365"), episodes);
            write(RESPONSES, EPISODES.replace("died", "moved"));
            assertEquals(
                    1,
                    submit(as, folder.resolve("keys.json").toString(), "--overwrite")
                            .status());
            assertTrue(files().get("data/episodes.csv").contains(",moved"), files().get("data/episodes.csv"));
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void theManifestNamesExactlyTheFieldsThatLeft(String as) throws IOException {
        write(RESPONSES, EPISODES);
        assertEquals(1, submit(as).status());
        TreeSet<String> said = new TreeSet<>();
        Json.Obj manifest = (Json.Obj) Json.parse(files().get("manifest.json").getBytes(StandardCharsets.UTF_8));
        for (Json field : ((Json.Arr) manifest.members().get("left")).elements()) {
            Map<String, Json> members = ((Json.Obj) field).members();
            assertFalse(text(members.get("meaning")).isBlank());
            said.add(text(members.get("table")) + " " + text(members.get("field")));
        }
        assertEquals(held(as), said);
    }

    private static String text(Json json) {
        return ((Json.Text) json).value();
    }

    /** The fields of the files of the folder, read back: headings of tables, elements of resources about patients. */
    private TreeSet<String> held(String as) throws IOException {
        TreeSet<String> held = new TreeSet<>();
        for (Map.Entry<String, String> file : files().entrySet()) {
            String name = file.getKey();
            if (name.startsWith("data/") && name.endsWith(".csv")) {
                String table = as.equals("csv")
                        ? name.substring(5)
                        : name.substring(5, name.length() - 4).toUpperCase(java.util.Locale.ROOT);
                List<String> lines = file.getValue().lines().toList();
                String[] headings = lines.get(0).split(",");
                for (int i = 0; i < headings.length; i++) {
                    if (as.equals("csv") || hasValue(lines, i)) {
                        held.add(table + " " + headings[i]);
                    }
                }
            } else if (name.equals("data/define.xml")) {
                held.add("define.xml all");
            } else if (name.startsWith("data/bundle")) {
                Json.Obj bundle = (Json.Obj) Json.parse(file.getValue().getBytes(StandardCharsets.UTF_8));
                for (Json entry : ((Json.Arr) bundle.members().get("entry")).elements()) {
                    elements((Json.Obj) ((Json.Obj) entry).members().get("resource"), held);
                }
            }
        }
        assertTrue(held.size() > 10, held::toString);
        return held;
    }

    /** Whether a row has a value in that column; datasets of a standard have columns that nobody fills. */
    private static boolean hasValue(List<String> lines, int column) {
        return lines.stream()
                .skip(1)
                .map(line -> line.split(",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)", -1)[column])
                .anyMatch(value -> !value.isEmpty());
    }

    private static void elements(Json.Obj resource, TreeSet<String> held) {
        String type = text(resource.members().get("resourceType"));
        resource.members().forEach((name, value) -> {
            if (name.equals("extension")) {
                for (Json each : ((Json.Arr) value).elements()) {
                    String url = text(((Json.Obj) each).members().get("url"));
                    held.add(type + " extension(" + url.substring(url.lastIndexOf('/') + 1) + ")");
                }
            } else if (!name.equals("resourceType")) {
                held.add(type + " " + name);
            }
        });
    }

    /** Section 15 of the formats: nothing of an episode that refuses leaves, also not with a form that asks of both hands at once. */
    @ParameterizedTest
    @ValueSource(strings = {"fhir", "sdtm", "csv"})
    void theOtherHandOfAFormStaysWhereItsEpisodeRefuses(String as, @TempDir Path here) throws IOException {
        Files.writeString(
                here.resolve("r.csv"),
                "patient,completed_on,side,griptasks_key_right,griptasks_key_left,griptasks_hook_right,griptasks_hook_left\n"
                        + "A,2023-02-01,both,2,4,2,4\n");
        for (String share : List.of("yes", "no")) {
            Files.writeString(
                    here.resolve("e.csv"),
                    "patient,episode,treated_side,index_date,share\nA,1,right,2023-02-03,yes\nA,2,left,2023-02-03,"
                            + share + "\n");
            Path target = here.resolve("up-" + share);
            Run run = Run.of(List.of(
                    "submit",
                    here.resolve("r.csv").toString(),
                    "--episodes",
                    here.resolve("e.csv").toString(),
                    "--as",
                    as,
                    "--out",
                    target.toString(),
                    "--throwaway-pseudonyms",
                    "--accept-disclosure",
                    "--as-of",
                    "2026-11-25"));
            assertTrue(run.status() < 2, run.err());
            assertEquals(share.equals("yes"), answersOfTheLeft(as, target.resolve("data")), share);
        }
    }

    /** Whether a file holds the answer of the left hand to the key: its code, or a row that is not marked as not done. */
    private static boolean answersOfTheLeft(String as, Path data) throws IOException {
        return switch (as) {
            case "csv" -> Files.readString(data.resolve("responses.csv")).contains("key_left,4,answered");
            case "sdtm" ->
                Files.readString(data.resolve("qs.csv"))
                        .lines()
                        .anyMatch(line -> line.contains(",key_left,") && !line.contains("NOT DONE"));
            default ->
                Files.readString(data.resolve("bundle-00001.json")).contains("\"linkId\":\"key_left\",\"answer\"");
        };
    }
}
