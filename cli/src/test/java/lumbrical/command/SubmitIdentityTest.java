package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Names that stand for patients and forms outside the clinic; every clinic here is invented. */
class SubmitIdentityTest {
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,share
            A,1,right,2023-02-03,yes
            A,2,left,2023-02-03,yes
            B,1,left,2023-04-05,yes
            """;
    private static final String RESPONSES =
            """
            patient,completed_on,side,sane_1
            A,2023-02-01,right,11
            A,2023-05-06,both,22
            A,2023-05-07T08:00,right,33
            A,2023-05-07T09:00,right,44
            B,2023-04-01,left,55
            """;

    @TempDir
    private Path folder;

    private Run submit(String target, String... more) {
        List<String> args = new ArrayList<>(List.of(
                "submit",
                folder.resolve("responses.csv").toString(),
                "--episodes",
                folder.resolve("episodes.csv").toString(),
                "--out",
                folder.resolve(target).toString(),
                "--overwrite",
                "--accept-disclosure",
                "--as-of",
                "2026-11-25"));
        args.addAll(List.of(more));
        if (!args.contains("--as")) {
            args.addAll(List.of("--as", "csv"));
        }
        return Run.of(args);
    }

    private void write(String responses, String episodes) throws IOException {
        Files.writeString(folder.resolve("responses.csv"), responses);
        Files.writeString(folder.resolve("episodes.csv"), episodes);
    }

    private String keys() {
        return folder.resolve("keys.json").toString();
    }

    /** By the response and the treated side, subject and form: the responses of this clinic are all different. */
    private Map<String, String> ids(String responses, String episodes) throws IOException {
        write(responses, episodes);
        Run run = submit("up", "--key-file", keys());
        assertTrue(run.status() < 2, run.err());
        List<List<String>> rows = Files.readString(folder.resolve("up/data/responses.csv"))
                .lines()
                .map(line -> List.of(line.split(",", -1)))
                .toList();
        List<String> head = rows.get(0);
        Map<String, String> ids = new TreeMap<>();
        for (List<String> row : rows.subList(1, rows.size())) {
            String episode = row.get(head.indexOf("episode"));
            String before = ids.put(
                    row.get(head.indexOf("response")) + episode.substring(episode.indexOf('-')),
                    row.get(head.indexOf("subject")) + " " + row.get(head.indexOf("form")));
            assertEquals(null, before);
        }
        return ids;
    }

    @Test
    void idsDoNotChangeWithOtherRowsRefusalsOrIndexDates() throws IOException {
        Map<String, String> first = ids(RESPONSES, EPISODES);
        assertEquals(6, first.size(), first::toString);
        assertEquals(6, Map.copyOf(first).values().stream().distinct().count(), "each form has its own: " + first);
        assertEquals(first, ids(RESPONSES, EPISODES.replace("A,1,right,2023-02-03", "A,1,right,2023-02-02")));
        assertEquals(
                first, ids(RESPONSES.replace("A,2023-02-01,right,11\n", "") + "A,2023-02-01,right,11\n", EPISODES));
        Map<String, String> less =
                ids(RESPONSES, EPISODES.replace("A,2,left,2023-02-03,yes", "A,2,left,2023-02-03,no"));
        assertEquals(5, less.size());
        assertTrue(first.entrySet().containsAll(less.entrySet()), less::toString);
        Map<String, String> corrected = ids(RESPONSES.replace("A,2023-02-01", "A,2023-01-31"), EPISODES);
        assertNotEquals(first.get("11-1"), corrected.get("11-1"), "a corrected date is a new form");
        Map<String, String> moved = new TreeMap<>(corrected);
        moved.put("11-1", first.get("11-1"));
        assertEquals(first, moved);
        Files.delete(folder.resolve("keys.json"));
        ids(RESPONSES, EPISODES).values().forEach(id -> assertFalse(first.containsValue(id)));
    }

    @Test
    void withoutEitherOptionTheRunIsRefusedAndSaysWhatToAdd() throws IOException {
        write(RESPONSES, EPISODES);
        Run run = submit("up");
        assertEquals(2, run.status());
        assertTrue(run.err().startsWith("--key-file is missing. Add --key-file FILE"), run.err());
        assertTrue(run.err().contains("--throwaway-pseudonyms"), run.err());
        assertFalse(Files.exists(folder.resolve("up")));
        assertEquals(
                2, submit("up", "--key-file", keys(), "--throwaway-pseudonyms").status());
        for (String gone : List.of("--secret-file", "--bundle-size", "--withdraw-missing")) {
            assertEquals(2, submit("up", "--throwaway-pseudonyms", gone, "7").status(), gone);
        }
        assertFalse(Files.exists(folder.resolve("keys.json")));
    }

    @Test
    void aRefusedRunMakesNoKeyFile() throws IOException {
        write(RESPONSES, EPISODES.replace("2023-02-03", ""));
        assertEquals(2, submit("up", "--key-file", keys()).status());
        write(RESPONSES, EPISODES);
        assertEquals(
                2,
                submit("up", "--key-file", keys(), "--previous", folder.toString())
                        .status());
        assertFalse(Files.exists(folder.resolve("keys.json")));
        assertFalse(Files.exists(folder.resolve("up")));
    }

    @ParameterizedTest
    @ValueSource(strings = {"csv", "fhir", "sdtm", "adam"})
    void siteAndStudyStandInEveryFileAboutPatients(String as) throws IOException {
        write(RESPONSES, EPISODES);
        Run byDefault = submit("up", "--throwaway-pseudonyms", "--as", as);
        assertTrue(byDefault.status() < 2, byDefault.err());
        assertTrue(
                byDefault
                        .err()
                        .contains(
                                "note: this is sent as site SITE01 of study STUDY01. Two sites must not share these names"),
                byDefault.err());
        Run named = submit("named", "--throwaway-pseudonyms", "--as", as, "--site", "NORTH", "--study", "HANDS2");
        assertTrue(named.status() < 2, named.err());
        assertFalse(named.err().contains("Two sites"), named.err());
        int seen = 0;
        try (Stream<Path> files = Files.walk(folder.resolve("named"))) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                String name = file.getFileName().toString();
                if (name.equals("manifest.json")
                        || file.getParent().endsWith("data")
                                && !name.endsWith(".schema.json")
                                && !name.equals("definitions.json")) {
                    String text = Files.readString(file);
                    assertTrue(text.contains("NORTH") && text.contains("HANDS2"), name);
                    seen++;
                }
            }
        }
        assertTrue(seen > 1, as);
        assertEquals(
                2,
                submit("bad", "--throwaway-pseudonyms", "--as", as, "--site", "7 up")
                        .status());
        assertEquals(
                2,
                submit("bad", "--throwaway-pseudonyms", "--as", as, "--study", "=x")
                        .status());
        assertFalse(Files.exists(folder.resolve("bad")));
    }

    @Test
    void throwawayPseudonymsAreOtherEachTimeAndSaySo() throws IOException {
        write(RESPONSES, EPISODES);
        Run run = submit("up", "--throwaway-pseudonyms");
        assertTrue(run.status() < 2, run.err());
        assertTrue(run.err().contains("no later upload can match this one"), run.err());
        assertTrue(submit("again", "--throwaway-pseudonyms").status() < 2);
        assertNotEquals(
                Files.readString(folder.resolve("up/data/responses.csv")),
                Files.readString(folder.resolve("again/data/responses.csv")));
    }
}
