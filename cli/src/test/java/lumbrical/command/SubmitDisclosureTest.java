package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.TreeSet;
import lumbrical.document.Json;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * What somebody who knows a person can find in what is sent. The counts are made again from the files, as an attacker would; every
 * clinic here is invented.
 */
class SubmitDisclosureTest {
    private static final String DEMO = "../shared/demo/";

    /** Sends ages in years, days and years: what a registry may ask for. */
    private static final String FINE =
            """
            {"id": "fine", "version": "1", "study": "FINE", "dates": "days-from-index", "columns": [
              {"name": "sex", "values": ["female", "male"]}, {"name": "age"}, {"name": "dominant_side"},
              {"name": "condition", "values": ["carpal tunnel", "dupuytren", "trigger finger"]},
              {"name": "procedure", "values": ["open release", "fasciectomy", "needle"]},
              {"name": "closed_reason"}, {"name": "closed_day"}, {"name": "language"}]}
            """;

    private static final String BANDS =
            """
            {"id": "bands", "version": "1", "study": "BANDS", "dates": "weeks-from-index", "columns": [
              {"name": "sex", "values": ["female", "male"]}, {"name": "age_band"},
              {"name": "condition", "values": ["carpal tunnel", "dupuytren", "trigger finger"]},
              {"name": "procedure", "values": ["open release", "fasciectomy", "needle"]}]}
            """;

    /** A comma outside quotation marks. */
    private static final String COMMA = ",(?=(?:[^\"]*\"[^\"]*\")*[^\"]*$)";

    @TempDir
    private Path folder;

    private Run submit(Path responses, Path episodes, String... more) {
        List<String> args = new ArrayList<>(List.of(
                "submit",
                responses.toString(),
                "--episodes",
                episodes.toString(),
                "--out",
                folder.resolve("up").toString(),
                "--overwrite",
                "--key-file",
                folder.resolve("keys.json").toString(),
                "--as-of",
                "2026-11-25"));
        args.addAll(List.of(more));
        if (!args.contains("--as")) {
            args.addAll(List.of("--as", "csv"));
        }
        return Run.of(args);
    }

    private Run demo(String... more) {
        return submit(Path.of(DEMO, "responses.csv"), Path.of(DEMO, "episodes.csv"), more);
    }

    private Path profile(String json) throws IOException {
        return Files.writeString(folder.resolve("profile.json"), json);
    }

    /** An invented clinic of so many people, one episode each but for every tenth, who has two. */
    private Run clinic(int people, String... more) throws IOException {
        Random random = new Random(7);
        StringBuilder episodes = new StringBuilder(
                "patient,episode,treated_side,index_date,sex,birth_year,dominant_side,condition,procedure,closed_on,closed_reason\n");
        StringBuilder responses = new StringBuilder("patient,episode,completed_on,side,language,sane_1\n");
        for (int i = 0; i < people; i++) {
            for (int e = 1; e <= (i % 10 == 0 ? 2 : 1); e++) {
                String side = (e == 1) == (i % 2 == 0) ? "right" : "left";
                String closed = random.nextInt(12) == 0 ? "2026-01-01,moved" : ",";
                episodes.append(String.join(
                                ",",
                                "P" + i,
                                "E" + e,
                                side,
                                "2024-0" + (1 + random.nextInt(9)) + "-1" + random.nextInt(10),
                                random.nextInt(5) < 3 ? "female" : "male",
                                String.valueOf(1930 + random.nextInt(75)),
                                random.nextInt(10) == 0 ? "left" : "right",
                                List.of("carpal tunnel", "dupuytren", "trigger finger")
                                        .get(random.nextInt(3)),
                                List.of("open release", "fasciectomy", "needle").get(random.nextInt(3)),
                                closed))
                        .append('\n');
                for (String day : List.of("2023-12-3" + random.nextInt(2), "2024-10-1" + random.nextInt(10))) {
                    responses
                            .append(String.join(
                                    ",",
                                    "P" + i,
                                    "E" + e,
                                    day,
                                    side,
                                    random.nextInt(8) == 0 ? "de" : "en",
                                    String.valueOf(random.nextInt(101))))
                            .append('\n');
                }
            }
        }
        return submit(
                Files.writeString(folder.resolve("responses.csv"), responses),
                Files.writeString(folder.resolve("episodes.csv"), episodes),
                more);
    }

    private List<Map<String, String>> table(String name) throws IOException {
        List<List<String>> rows = Files.readString(folder.resolve("up/data/" + name + ".csv"))
                .lines()
                .map(line -> Arrays.asList(line.split(COMMA, -1)))
                .toList();
        List<Map<String, String>> table = new ArrayList<>();
        for (List<String> row : rows.subList(1, rows.size())) {
            Map<String, String> cells = new TreeMap<>();
            for (int i = 0; i < row.size(); i++) {
                cells.put(rows.get(0).get(i), row.get(i));
            }
            table.add(cells);
        }
        return table;
    }

    /** Sizes of the groups of subjects whose files are alike, counted from the files alone: {under k, unique, subjects}. */
    private List<Integer> attack(int k, boolean withVisits, String... columns) throws IOException {
        return attack(k, withVisits, Map.of(), columns);
    }

    /** The same, by what else is known of each episode. */
    private List<Integer> attack(int k, Map<String, TreeSet<String>> more, String... columns) throws IOException {
        return attack(k, false, more, columns);
    }

    private List<Integer> attack(int k, boolean withVisits, Map<String, TreeSet<String>> more, String... columns)
            throws IOException {
        Map<String, TreeSet<String>> languages = new HashMap<>();
        Map<String, TreeSet<Integer>> times = new HashMap<>();
        for (Map<String, String> row : table("responses")) {
            languages.computeIfAbsent(row.get("episode"), e -> new TreeSet<>()).add(row.getOrDefault("language", ""));
            String time = row.containsKey("week") ? row.get("week") : row.get("day");
            times.computeIfAbsent(row.get("episode"), e -> new TreeSet<>()).add(Integer.valueOf(time));
        }
        Map<String, TreeSet<String>> known = new HashMap<>();
        int number = 0;
        for (Map<String, String> row : table("episodes")) {
            StringBuilder of = new StringBuilder();
            for (String column : columns) {
                of.append(
                                column.equals("language")
                                        ? languages.get(row.get("episode"))
                                        : row.getOrDefault(column, "no such column"))
                        .append('|');
            }
            if (withVisits) {
                of.append(row.getOrDefault("index_year", "")).append(times.get(row.get("episode")));
            }
            of.append(more.getOrDefault(row.get("episode"), new TreeSet<>()));
            known.computeIfAbsent(row.get("subject"), s -> new TreeSet<>()).add(of + "#" + number++ % 1_000_000);
        }
        Map<List<String>, Integer> alike = new HashMap<>();
        known.values()
                .forEach(episodes -> alike.merge(
                        episodes.stream()
                                .map(e -> e.substring(0, e.lastIndexOf('#')))
                                .sorted()
                                .toList(),
                        1,
                        Integer::sum));
        return List.of(
                alike.values().stream()
                        .filter(n -> n < k)
                        .mapToInt(Integer::intValue)
                        .sum(),
                (int) alike.values().stream().filter(n -> n == 1).count(),
                known.size());
    }

    private Json.Obj manifest() throws IOException {
        return (Json.Obj)
                Json.parse(Files.readString(folder.resolve("up/manifest.json")).getBytes(StandardCharsets.UTF_8));
    }

    private static Json.Obj member(Json.Obj of, String... path) {
        Json.Obj at = of;
        for (String name : path) {
            at = (Json.Obj) at.members().get(name);
        }
        return at;
    }

    /** What the manifest says of one of its counts, in the order of {@link #attack}. */
    private List<Integer> said(String count) throws IOException {
        Json.Obj cells = member(manifest(), "disclosure", count);
        return List.of(number(cells, "under_k"), number(cells, "unique"), number(cells, "subjects"));
    }

    private static int number(Json.Obj of, String name) {
        return (int) ((Json.Num) of.members().get(name)).value();
    }

    private static final String[] COARSE = {
        "treated_side", "sex", "age_band", "dominant_side", "closed_reason", "language"
    };

    @Test
    void anUploadInWhichPeopleCanBeToldApartIsRefusedWithTheTable() throws IOException {
        Run run = demo();
        assertEquals(2, run.status());
        List<String> lines = run.err().lines().toList();
        int at = 0;
        while (!lines.get(at).startsWith("alike in")) {
            at++;
        }
        assertTrue(lines.get(at + 1).startsWith("the person "), run.err());
        assertTrue(lines.get(at + 1).endsWith(String.join(", ", COARSE)), run.err());
        assertTrue(lines.get(at + 2).startsWith("with visits "), run.err());
        assertTrue(run.err().contains("Add --coarsen to leave values blank"), run.err());
        assertTrue(run.err().endsWith("Nothing was written." + System.lineSeparator()), run.err());
        assertFalse(Files.exists(folder.resolve("up")));
        assertFalse(Files.exists(folder.resolve("keys.json")));
    }

    @Test
    void theCountsOfTheDemoClinicAreThoseOfAnAttacker() throws IOException {
        Run run = demo("--accept-disclosure");
        assertEquals(0, run.status(), run.err());
        assertEquals(attack(5, false, COARSE), said("person"));
        assertEquals(attack(5, true, COARSE), said("visits"));
        assertTrue(said("person").get(0) > 0, "there is something to find");
        assertEquals(said("visits").get(2), said("visits").get(1), "visits tell everyone apart");
        assertTrue(member(manifest(), "disclosure")
                .members()
                .get("accepted")
                .toString()
                .contains("true"));
        assertTrue(run.err().contains("as --accept-disclosure says; it stands in the manifest"), run.err());
    }

    @ParameterizedTest
    @ValueSource(ints = {2, 5, 10})
    void coarseningLeavesNobodyUnderTheLimitInTheDemoClinic(int k) throws IOException {
        Run run = demo("--coarsen", "--k", String.valueOf(k));
        assertEquals(0, run.status(), run.err());
        assertEquals(0, attack(k, false, COARSE).get(0));
        assertEquals(attack(k, false, COARSE), said("person"));
        assertTrue(run.err().contains("left blank so that nobody is in a smaller group: "), run.err());
    }

    /** Blanks do not hide which forms a person filled in: in the demo clinic an instrument tells the condition. */
    @ParameterizedTest
    @ValueSource(strings = {"--accept-disclosure", "--coarsen"})
    void peopleAreCountedByTheSetOfTheirFormsToo(String how) throws IOException {
        Run run = demo(how);
        assertEquals(0, run.status(), run.err());
        Map<String, TreeSet<String>> sets = new HashMap<>();
        for (Map<String, String> row : table("responses")) {
            sets.computeIfAbsent(row.get("episode"), e -> new TreeSet<>()).add(row.get("instrument"));
        }
        assertTrue(sets.values().stream().distinct().count() > 2, "people fill in different forms");
        List<Integer> counted = attack(5, sets, COARSE);
        assertEquals(counted, said("forms"));
        assertTrue(counted.get(0) > 0, "blanks do not hide the forms");
        assertTrue(
                run.err()
                        .lines()
                        .anyMatch(line -> line.matches("with forms +" + counted.get(2) + " +" + counted.get(0) + " +"
                                + counted.get(1) + "  those of the person, and the set of instruments sent")),
                run.err());
        Json.Arr fields =
                (Json.Arr) member(manifest(), "disclosure", "forms").members().get("fields");
        List<String> names = new ArrayList<>(List.of(COARSE));
        names.add("instruments");
        assertEquals(
                names,
                fields.elements().stream().map(f -> ((Json.Text) f).value()).toList());
    }

    @ParameterizedTest
    @ValueSource(strings = {"default", "bands", "fine"})
    void coarseningLeavesNobodyUnderTheLimitInAClinicOfThreeHundred(String which) throws IOException {
        List<String> more = new ArrayList<>(List.of("--accept-disclosure"));
        String[] columns =
                switch (which) {
                    case "default" -> COARSE;
                    case "bands" -> new String[] {"treated_side", "sex", "age_band", "condition", "procedure"};
                    default ->
                        new String[] {
                            "treated_side",
                            "sex",
                            "age",
                            "dominant_side",
                            "condition",
                            "procedure",
                            "closed_reason",
                            "closed_day",
                            "language"
                        };
                };
        if (!which.equals("default")) {
            more.addAll(List.of(
                    "--profile", profile(which.equals("fine") ? FINE : BANDS).toString()));
        }
        Run before = clinic(300, more.toArray(String[]::new));
        assertTrue(before.status() < 2, before.err());
        assertEquals(attack(5, false, columns), said("person"));
        assertEquals(attack(5, true, columns), said("visits"));
        assertTrue(said("person").get(0) > 50, "there is something to hide: " + said("person"));
        int values = values(columns);
        more.set(0, "--coarsen");
        Run after = clinic(300, more.toArray(String[]::new));
        assertTrue(after.status() < 2, after.err());
        assertEquals(0, attack(5, false, columns).get(0));
        assertEquals(List.of(0, 0, 300), said("person"));
        Json.Obj blanked = member(manifest(), "disclosure", "coarsened");
        int counted = blanked.members().keySet().stream()
                .filter(field -> !field.equals("language") && !field.equals("answers about one hand"))
                .mapToInt(field -> number(blanked, field))
                .sum();
        assertEquals(values - values(columns), counted, "every value that is missing is counted");
    }

    /** How many cells of the episodes are filled; the language stands with the responses. */
    private int values(String... columns) throws IOException {
        int values = 0;
        for (Map<String, String> row : table("episodes")) {
            for (String column : columns) {
                values += row.getOrDefault(column, "").isEmpty() ? 0 : 1;
            }
        }
        return values;
    }

    @Test
    void aClinicOfFewerPeopleThanTheLimitIsRefusedAlsoWithBlanks() throws IOException {
        Run run = clinic(4, "--coarsen");
        assertEquals(2, run.status());
        assertTrue(run.err().contains("Even with values left blank there are too few people."), run.err());
        assertFalse(Files.exists(folder.resolve("up")));
        for (String wrong : List.of("0", "-1", "five", "5.5")) {
            assertEquals(2, clinic(4, "--k", wrong).status(), wrong);
        }
    }

    /** A threshold of one condition would tell the condition that the profile keeps back. */
    @Test
    void noThresholdTellsAConditionThatDoesNotLeave() throws IOException {
        Path episodes = Files.writeString(
                folder.resolve("e.csv"),
                "patient,episode,treated_side,index_date,condition\nA,1,right,2024-01-10,carpal tunnel\n"
                        + "B,1,right,2024-01-10,\n");
        StringBuilder responses = new StringBuilder("patient,completed_on,side");
        for (int i = 1; i <= 11; i++) {
            responses.append(",quickdash_").append(i);
        }
        for (String patient : List.of("A", "B")) {
            responses.append('\n').append(patient).append(",2024-01-09,right").append(",4".repeat(11));
            responses.append('\n').append(patient).append(",2024-04-10,right").append(",2".repeat(11));
        }
        Path file = Files.writeString(folder.resolve("r.csv"), responses.append('\n'));
        assertTrue(submit(file, episodes, "--accept-disclosure").status() < 2);
        List<Map<String, String>> changes = totals();
        assertEquals(2, changes.size());
        for (String column : List.of("mcid", "mcid_source", "mdc", "mdc_source", "verdict", "reaches_mcid")) {
            assertEquals(changes.get(0).get(column), changes.get(1).get(column), column);
        }
        assertTrue(submit(
                                file,
                                episodes,
                                "--accept-disclosure",
                                "--profile",
                                profile(FINE).toString())
                        .status()
                < 2);
        List<Map<String, String>> told = totals();
        assertFalse(
                told.get(0).get("mcid_source").equals(told.get(1).get("mcid_source"))
                        && told.get(0).get("mdc_source").equals(told.get(1).get("mdc_source")),
                "where the condition leaves, its own thresholds are used");
    }

    private List<Map<String, String>> totals() throws IOException {
        return table("change").stream()
                .filter(row -> row.get("scale").equals("total"))
                .toList();
    }

    @Test
    void aTrialRunShowsTheCountsAndRefusesNothing() throws IOException {
        Run run = demo("--dry-run");
        assertEquals(0, run.status(), run.err());
        assertTrue(run.err().contains("the person "), run.err());
        assertTrue(run.err().contains("this would be refused without --coarsen or --accept-disclosure"), run.err());
        assertFalse(Files.exists(folder.resolve("up")));
    }
}
