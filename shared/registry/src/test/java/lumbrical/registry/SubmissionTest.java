package lumbrical.registry;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import java.util.zip.GZIPInputStream;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import lumbrical.deidentify.Withheld;
import lumbrical.fhir.ExternalCodes;
import lumbrical.output.StagedFolder;
import lumbrical.sending.InventedClinic;
import lumbrical.sending.MemoryFiles;
import lumbrical.tabular.UnreadableInputException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * The folder that is sent, of a small invented clinic worked by hand: QuickDASH (mean - 1) x 25 makes 50, then 25; the index date is
 * 2025-01-10, day -1 lies in week -1, 2025-02-25 is day 46 and lies in week 6.
 */
class SubmissionTest {
    private static final String EPISODES =
            """
            patient,episode,treated_side,index_date,sex,birth_year,condition,share,ward
            A,1,right,2025-01-10,female,1980,wrist,yes,=7
            B,1,left,2025-01-10,male,1930,,no,8
            C,1,left,2025-01-10,male,1990,,yes,9
            """;

    private static final String RESPONSES = "patient,completed_on,side,remark,instrument,item,response\n"
            + InventedClinic.answers("A,2025-01-09,right,x", "quickdash", 1, 11, 3)
            + InventedClinic.answers("A,2025-02-25,right,x", "quickdash", 1, 11, 2)
            + "A,2025-04-01,right,x,nprs,rest,11\n"
            + "B,2025-01-09,left,x,sane,1,50\n"
            + "D,2025-01-09,left,x,sane,1,50\n"
            + ",2025-01-09,left,x,sane,1,50\n"
            + "C,2027-01-09,left,x,sane,1,50\n";

    @TempDir
    private Path folder;

    private InventedClinic clinic(String episodes, String responses) {
        return InventedClinic.of(folder, episodes, responses);
    }

    private InventedClinic clinic() {
        return clinic(EPISODES, RESPONSES);
    }

    private static Profile weeks() {
        return InventedClinic.profile(
                Profile.Dates.WEEKS_FROM_INDEX,
                InventedClinic.column("sex", "female", "male"),
                InventedClinic.column("age_band"));
    }

    private static Submission.SubmissionSettings settings(RegistryFormat format, boolean gzip, SentRecords before) {
        return new Submission.SubmissionSettings(
                "a program 1.0", format, false, true, false, gzip, ExternalCodes.NONE, before);
    }

    private Path up() {
        return folder.resolve("up");
    }

    private Submission.Corrections write(
            InventedClinic clinic, Profile profile, Submission.SubmissionSettings settings, List<SentRecords> kept) {
        StagedFolder staged = StagedFolder.at(up().toString(), true, Submission.MARK);
        return Submission.write(clinic.sent(profile), clinic.intake(), settings, staged, kept::add);
    }

    private void write(RegistryFormat format) {
        write(clinic(), weeks(), settings(format, false, SentRecords.NONE), new ArrayList<>());
    }

    private List<CSVRecord> rows(String name) throws IOException {
        try (CSVParser parser = CSVParser.parse(
                up().resolve(name),
                StandardCharsets.UTF_8,
                CSVFormat.RFC4180
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get())) {
            return parser.getRecords();
        }
    }

    private List<String> values(String name, String... columns) throws IOException {
        return rows(name).stream()
                .map(r -> Stream.of(columns).map(r::get).collect(Collectors.joining(" | ")))
                .toList();
    }

    private JsonNode json(String name) throws IOException {
        return MemoryFiles.parse(Files.readString(up().resolve(name)));
    }

    private static List<JsonNode> list(JsonNode array) {
        return StreamSupport.stream(array.spliterator(), false).toList();
    }

    private static List<String> texts(JsonNode array) {
        return list(array).stream().map(JsonNode::asText).toList();
    }

    private Map<String, byte[]> files() throws IOException {
        Map<String, byte[]> files = new TreeMap<>();
        try (Stream<Path> tree = Files.walk(up())) {
            for (Path file : tree.filter(Files::isRegularFile).toList()) {
                files.put(up().relativize(file).toString().replace('\\', '/'), Files.readAllBytes(file));
            }
        }
        return files;
    }

    // ---- tables

    @Test
    void tablesHoldEpisodesResponsesScoresAndChanges() throws IOException {
        write(RegistryFormat.CSV);
        assertEquals(
                List.of(
                        "CLINIC | HAND | SA | SA-1 | right | female | 40-49",
                        "CLINIC | HAND | SC | SC-1 | left | male | 30-39"),
                values("data/episodes.csv", "site", "study", "subject", "episode", "treated_side", "sex", "age_band"));
        assertEquals(
                List.of(
                        "-1 | baseline | quickdash | total | 50 | complete |  | 11 | 11 | 50 | 50 | lower | baseline",
                        "6 | 6 weeks | quickdash | total | 25 | complete |  | 11 | 11 | 25 | 25 | lower | follow-up",
                        "11 | 3 months | nprs | rest |  | not-scored | response-not-allowed | 1 | 0 |  |  | lower | "),
                values(
                        "data/scores.csv",
                        "week",
                        "visit",
                        "instrument",
                        "scale",
                        "score",
                        "outcome",
                        "reason",
                        "items",
                        "answered",
                        "lowest",
                        "highest",
                        "better",
                        "use"));
        String before = rows("data/scores.csv").get(0).get("form");
        assertEquals(
                List.of(
                        "yes | " + before + " | -1 | 50 | -25 | 25 | 25 | 25 | 12.85 | 14 | yes | improved |"
                                + " important-improvement | no",
                        "no |  |  |  |  |  |  |  |  | 1.9 |  |  | not-assessable | "),
                values(
                        "data/change.csv",
                        "used",
                        "baseline_form",
                        "baseline_week",
                        "baseline",
                        "change",
                        "improvement",
                        "lowest_improvement",
                        "highest_improvement",
                        "mdc",
                        "mcid",
                        "beyond_error",
                        "reaches_mcid",
                        "verdict",
                        "gaps_could_change_verdict"));
        Map<String, Long> statuses = rows("data/responses.csv").stream()
                .collect(Collectors.groupingBy(
                        r -> r.get("instrument") + " " + r.get("status") + " " + r.get("response"),
                        TreeMap::new,
                        Collectors.counting()));
        assertEquals(
                new TreeMap<>(Map.of(
                        "nprs not-allowed ", 1L,
                        "nprs not-answered ", 3L,
                        "quickdash answered 2", 11L,
                        "quickdash answered 3", 11L,
                        "quickdash not-answered ", 16L)),
                statuses,
                "eleven items and two modules of four");
    }

    /** Of six grips of each hand the right one's leave, of which two were answered; of the left, which refuses, nothing is told. */
    @Test
    void answersAboutARefusingHandAreWithheldWhetherThereAreAnyOrNot() throws IOException {
        InventedClinic refusing = clinic(
                """
                patient,episode,treated_side,index_date,share
                A,1,right,2025-01-10,yes
                A,2,left,2025-01-10,no
                """,
                """
                patient,completed_on,side,griptasks_key_right,griptasks_hook_right,griptasks_key_left,griptasks_pinch_left
                A,2025-01-09,both,1,2,3,0
                A,2025-01-08,both,,,3,0
                """);
        write(refusing, weeks(), settings(RegistryFormat.CSV, false, SentRecords.NONE), new ArrayList<>());
        assertEquals(
                new TreeMap<>(Map.of("right answered", 2L, "right not-answered", 4L, "left withheld", 6L)),
                rows("data/responses.csv").stream()
                        .collect(Collectors.groupingBy(
                                r -> r.get("item").replaceFirst(".*_", "") + " " + r.get("status"),
                                TreeMap::new,
                                Collectors.counting())));
        JsonNode forms = json("manifest.json").get("forms");
        assertEquals(4, forms.get("answersHeldBack").asInt(), "two of each day");
        assertEquals(1, forms.at("/rejected/answers-held-back").asInt());
        assertEquals(
                "answered not-answered not-allowed withheld",
                values("dictionary.csv", "field", "values").stream()
                        .filter(v -> v.startsWith("status | "))
                        .map(v -> v.substring("status | ".length()))
                        .findFirst()
                        .orElseThrow());
    }

    /** One of eleven open, ten answered with 2: 25, from (21 / 11 - 1) x 25 to (25 / 11 - 1) x 25, against a baseline of 50. */
    @Test
    void whatOpenItemsCouldDoIsSentWithScoreAndChange() throws IOException {
        InventedClinic gap = clinic(EPISODES, RESPONSES.replace("A,2025-02-25,right,x,quickdash,11,2\n", ""));
        write(gap, weeks(), settings(RegistryFormat.CSV, false, SentRecords.NONE), new ArrayList<>());
        assertEquals(
                "25 | with-missing | 10 | 22.727273 | 31.818182",
                values("data/scores.csv", "score", "outcome", "answered", "lowest", "highest")
                        .get(1));
        assertEquals(
                "25 | 18.181818 | 27.272727 | no",
                values(
                                "data/change.csv",
                                "improvement",
                                "lowest_improvement",
                                "highest_improvement",
                                "gaps_could_change_verdict")
                        .get(0));
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            delimiter = '|',
            value = {
                "WEEKS_FROM_INDEX | week | -1",
                "DAYS_FROM_INDEX | year,day | 2025 -1",
                "SHIFTED | date,day | moved -1"
            })
    void theProfileDecidesOnTheColumnsOfTime(Profile.Dates dates, String columns, String value) throws IOException {
        InventedClinic clinic = clinic();
        Profile profile = InventedClinic.profile(
                dates,
                InventedClinic.column("age"),
                InventedClinic.column("closed_day"),
                InventedClinic.column("closed_week"));
        write(clinic, profile, settings(RegistryFormat.CSV, false, SentRecords.NONE), new ArrayList<>());
        String moved = java.time.LocalDate.parse("2025-01-09")
                .plusDays(clinic.keys().shiftDays("A"))
                .toString();
        assertEquals(
                value.replace("moved", moved).replace(" ", " | "),
                values("data/scores.csv", columns.split(",")).get(0));
        Set<String> ofTime =
                new TreeSet<>(rows("data/scores.csv").get(0).toMap().keySet());
        ofTime.retainAll(Set.of("week", "year", "day", "date"));
        assertEquals(Set.of(columns.split(",")), ofTime);
        Set<String> ofIndex =
                new TreeSet<>(rows("data/episodes.csv").get(0).toMap().keySet());
        ofIndex.removeIf(c -> !c.startsWith("index_"));
        assertEquals(
                dates == Profile.Dates.WEEKS_FROM_INDEX
                        ? Set.of()
                        : Stream.of(columns.split(",")).map(c -> "index_" + c).collect(Collectors.toSet()),
                ofIndex,
                "week 0 of every episode would say nothing");
        assertEquals("45", rows("data/episodes.csv").get(0).get("age"));
    }

    @Test
    void aTextLikeAFormulaIsGuardedUnlessThatIsSwitchedOff() throws IOException {
        Profile ward = InventedClinic.profile(Profile.Dates.WEEKS_FROM_INDEX, InventedClinic.column("ward", "=7"));
        InventedClinic clinic = InventedClinic.of(folder, EPISODES, RESPONSES, "ward");
        write(clinic, ward, settings(RegistryFormat.CSV, false, SentRecords.NONE), new ArrayList<>());
        assertEquals(List.of("'=7", ""), values("data/episodes.csv", "ward"));
        assertEquals(Map.of("ward", 1), clinic.sent(ward).counts().blanked(), "9 is not listed");
        Submission.SubmissionSettings bare = new Submission.SubmissionSettings(
                "a program 1.0", RegistryFormat.CSV, false, false, false, false, ExternalCodes.NONE, SentRecords.NONE);
        write(clinic, ward, bare, new ArrayList<>());
        assertEquals(List.of("=7", ""), values("data/episodes.csv", "ward"));
        assertFalse(json("manifest.json").at("/deIdentification/formulaGuard").asBoolean());
    }

    /** Frictionless Table Schema: a field for each column in its order, labelled missing values, keys that are unique and required. */
    @ParameterizedTest
    @CsvSource({"episodes,episode", "responses,form+item", "scores,score_id", "change,score_id"})
    void aSchemaDescribesEachTable(String table, String keys) throws IOException {
        write(RegistryFormat.CSV);
        JsonNode schema = json("data/" + table + ".schema.json");
        List<CSVRecord> rows = rows("data/" + table + ".csv");
        List<JsonNode> fields = list(schema.get("fields"));
        assertEquals(
                rows.get(0).getParser().getHeaderNames(),
                fields.stream().map(f -> f.get("name").asText()).toList());
        assertEquals(List.of(keys.split("\\+")), texts(schema.get("primaryKey")));
        assertEquals("", schema.at("/missingValues/0/value").asText());
        Set<List<String>> seen = rows.stream()
                .map(r -> Stream.of(keys.split("\\+")).map(r::get).toList())
                .collect(Collectors.toSet());
        assertEquals(rows.size(), seen.size(), "keys are unique");
        int constrained = 0;
        for (JsonNode field : fields) {
            String name = field.get("name").asText();
            boolean key = List.of(keys.split("\\+")).contains(name);
            assertEquals(key, field.at("/constraints/required").asBoolean(), name);
            List<String> allowed = texts(field.at("/constraints/enum"));
            for (CSVRecord row : rows) {
                String value = row.get(name);
                assertTrue(!key || !value.isEmpty(), name);
                assertTrue(value.isEmpty() || allowed.isEmpty() || allowed.contains(value), name + " " + value);
                if (field.get("type").asText().equals("number") && !value.isEmpty()) {
                    assertEquals(value, new java.math.BigDecimal(value).toPlainString());
                }
            }
            constrained += allowed.isEmpty() ? 0 : 1;
        }
        assertTrue(constrained > 0, "values of " + table);
    }

    // ---- what was not sent

    @Test
    void whatIsNotSentIsListedByPlaceAndReason() throws IOException {
        write(RegistryFormat.CSV);
        // in the long layout a form begins at its first row; refusals are counted and not told,
        // nor is row 27: it has no patient, and may be of B, who refuses
        assertEquals(
                List.of("1 | 26 | episode | sane | episode-not-found", "1 | 28 | completed_on | sane | date-in-future"),
                values("rejected.csv", "input", "row", "column", "instrument", "reason"));
        Reconciliation reconciled = Submission.reconcile(clinic().sent(weeks()), clinic().intake());
        assertEquals(
                "sittings 7 = sent 3 + rejected 4: date-in-future 1, episode-not-found 1, not-shared 1,"
                        + " patient-missing 1; forms sent 3",
                reconciled.inOneLine());
        assertEquals(
                Map.of("date-in-future", 1L, "episode-not-found", 1L, "not-shared", 1L), reconciled.formsRejected());
    }

    /** Every fault of a row is told; for the reconciliation the row counts once. A blank form of somebody who refuses is not told. */
    @Test
    void rowsRejectedAndFormsLeftBlankAreCountedOnce() {
        InventedClinic clinic = clinic(
                EPISODES,
                """
                patient,completed_on,side,sane_1
                A,2025-01-09,right,50
                ,9 Jan,right,50
                A,9 Jan,right,50
                A,2025-02-01,right,
                B,2025-02-01,left,
                """);
        Intake intake = clinic.intake();
        assertEquals(
                List.of("3 patient patient-missing false", "4 completed_on date-not-iso true"),
                told(intake.rejected()));
        assertEquals(List.of("5  nothing-answered true", "6  nothing-answered false"), told(intake.unanswered()));
        assertEquals(
                "sittings 5 = sent 1 + rejected 4: date-not-iso 1, nothing-answered 2, patient-missing 1; forms sent 1",
                Submission.reconcile(clinic.sent(weeks()), intake).inOneLine());
        assertEquals(List.of("responses.csv"), intake.files());
    }

    private static List<String> told(List<Withheld> withheld) {
        return withheld.stream()
                .map(w -> w.place().row().orElse(0) + " " + w.column() + " " + w.reason() + " " + w.told())
                .toList();
    }

    @Test
    void countsThatDoNotAddUpStopTheUpload() {
        InventedClinic clinic = clinic();
        Intake intake = clinic.intake();
        Intake oneMore = new Intake(
                intake.files(), intake.sittings() + 1, intake.rejected(), intake.unanswered(), List.of(), List.of());
        DeidentifiedDataset sent = clinic.sent(weeks());
        assertEquals(
                "Sittings in 8, but sent 3 and rejected 4",
                assertThrows(IllegalStateException.class, () -> Submission.reconcile(sent, oneMore))
                        .getMessage());
        assertEquals(
                "1 rows were rejected, but 0 are known by reason",
                assertThrows(
                                IllegalStateException.class,
                                () -> Intake.of(List.of(), 0, 1, List.of(), List.of(), Set.of(), List.of(), List.of()))
                        .getMessage());
    }

    @Test
    void tooSmallGroupsAreNotSentUnlessAccepted() throws IOException {
        Profile five = new Profile("five", "1", "HAND", Profile.Dates.WEEKS_FROM_INDEX, 5, weeks().columns());
        assertThrows(
                IllegalArgumentException.class,
                () -> write(clinic(), five, settings(RegistryFormat.CSV, false, SentRecords.NONE), new ArrayList<>()));
        assertFalse(Files.exists(up()));
        Submission.SubmissionSettings accepted = new Submission.SubmissionSettings(
                "a program 1.0", RegistryFormat.CSV, true, true, false, false, ExternalCodes.NONE, SentRecords.NONE);
        write(clinic(), five, accepted, new ArrayList<>());
        JsonNode disclosure = json("manifest.json").get("disclosure");
        assertTrue(disclosure.get("accepted").asBoolean());
        for (String count : List.of("person", "forms", "visits")) {
            JsonNode cells = disclosure.get(count);
            assertEquals(
                    List.of(5, 2, 2, 2),
                    Stream.of("k", "subjects", "under_k", "unique")
                            .map(f -> cells.get(f).asInt())
                            .toList());
        }
        assertEquals(List.of("treated_side", "sex", "age_band"), texts(disclosure.at("/person/fields")));
        assertEquals(List.of("treated_side", "sex", "age_band", "instruments"), texts(disclosure.at("/forms/fields")));
        assertEquals(List.of("treated_side", "sex", "age_band", "week"), texts(disclosure.at("/visits/fields")));
    }

    // ---- manifest

    private static String sha256(byte[] bytes) {
        try {
            return HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(bytes));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException(e);
        }
    }

    @ParameterizedTest
    @EnumSource
    void theManifestNamesEveryFileWithItsHashInTheOrderOfLoading(RegistryFormat format) throws IOException {
        write(format);
        JsonNode manifest = json("manifest.json");
        Map<String, byte[]> files = files();
        files.remove("manifest.json");
        List<JsonNode> listed = list(manifest.get("files"));
        assertEquals(
                files.keySet(),
                listed.stream().map(f -> f.get("name").asText()).collect(Collectors.toCollection(TreeSet::new)));
        for (JsonNode file : listed) {
            byte[] bytes = files.get(file.get("name").asText());
            assertEquals(bytes.length, file.get("bytes").asInt());
            assertEquals(sha256(bytes), file.get("sha256").asText());
        }
        assertEquals(format.code(), manifest.get("as").asText());
        assertEquals(Optional.of(format), RegistryFormat.parse(format.code()));
        assertEquals(
                "CLINIC HAND",
                manifest.get("site").asText() + " " + manifest.get("study").asText());
        assertEquals("2026-11-25", manifest.get("asOf").asText());
        assertTrue(manifest.get("caution").asText().startsWith("Scores support and never replace clinical judgement."));
        assertEquals(format == RegistryFormat.SDTM || format == RegistryFormat.ADAM, manifest.has("notHeld"));
        assertFalse(list(manifest.get("left")).isEmpty());
        assertEquals(List.of("nprs@1", "quickdash@1"), texts(manifest.get("definitions")));
        assertEquals(7, manifest.at("/sittings/in").asInt());
        assertEquals(3, manifest.at("/sittings/sent").asInt());
        assertEquals(1, manifest.at("/episodes/notShared").asInt());
        assertEquals(new ManifestCheck.Result(listed.size(), List.of()), ManifestCheck.check(up()));
    }

    @Test
    void thresholdsUsedStandInTheManifestWithPopulationAndSource() throws IOException {
        write(RegistryFormat.CSV);
        List<JsonNode> used = list(json("manifest.json").get("thresholds"));
        assertEquals(
                List.of(
                        "nprs@1 rest tmc2019-rest-mcid mcid 1.9 published",
                        "nprs@1 rest tmc2019-rest-pass pass 1.5 published",
                        "quickdash@1 total franchignoni2014-mdc90 mdc 12.85 published",
                        "quickdash@1 total sorensen2013-mcid mcid 14.0 published"),
                used.stream()
                        .map(t -> t.get("instrument").asText() + " "
                                + t.get("scale").asText() + " "
                                + t.get("id").asText() + " " + t.get("kind").asText() + " "
                                + t.get("value").asDouble() + " "
                                + t.get("standing").asText())
                        .toList());
        assertTrue(used.get(3).get("source").asText().contains("Sorensen"), used.toString());
        assertTrue(used.get(3).get("population").asText().startsWith("atraumatic conditions"));
    }

    /** A heading of the clinic's own may tell of a person; it is counted and not named. */
    @Test
    void headingsOfTheClinicsOwnStayOutOfTheManifest() throws IOException {
        write(RegistryFormat.CSV);
        String manifest = Files.readString(up().resolve("manifest.json"));
        assertFalse(manifest.contains("ward") || manifest.contains("remark"), manifest);
        assertEquals(2, MemoryFiles.parse(manifest).get("otherColumnsThatStay").asInt());
    }

    // ---- columns

    private Map<String, String> dispositions(Profile profile) {
        Map<String, String> told = new TreeMap<>();
        InventedClinic clinic = clinic(
                EPISODES.replace("share,ward", "share,closed_on,forms").replace(",=7", ",2025-06-01,sane"),
                RESPONSES.replace(",8\n", ",,\n"));
        for (ColumnDisposition column : Submission.fates(clinic.sent(profile), clinic.intake(), RegistryFormat.CSV)) {
            told.put(
                    column.table() + "." + column.column(),
                    (column.leaves() ? "leaves: " : "stays: ") + column.becomes() + " "
                            + String.join(" ", column.examples()));
        }
        return told;
    }

    @Test
    void eachColumnIsToldWithMaskedExamples() {
        Map<String, String> told = dispositions(weeks());
        assertEquals("leaves: a pseudonym S*", told.get("responses.patient"), "SA and SC look the same");
        assertEquals(
                "leaves: whole weeks from the index date * -* 1*",
                told.get("responses.completed_on"),
                "weeks -1, 6 and 11");
        assertEquals("stays: not on the profile's list ", told.get("responses.remark"));
        assertEquals("leaves: week 0 ", told.get("episodes.index_date"));
        assertEquals(
                "leaves: values on the profile's list; any other is left blank f***** m***", told.get("episodes.sex"));
        assertEquals(
                "leaves: age at the index date by tens, ages over 89 as 90+ 3**** 4****",
                told.get("episodes.birth_year"));
        assertEquals("stays: it decides which episodes stay at home ", told.get("episodes.share"));
        assertEquals("stays: nothing in the files needs it ", told.get("episodes.forms"));
        assertEquals("stays: not on the profile's list (as closed_week) ", told.get("episodes.closed_on"));
        assertEquals("stays: not on the profile's list ", told.get("episodes.condition"));
    }

    @Test
    void daysYearsAndShiftsAreToldAsTheyLeave() {
        Map<String, String> days = dispositions(InventedClinic.profile(
                Profile.Dates.DAYS_FROM_INDEX, InventedClinic.column("age"), InventedClinic.column("closed_day")));
        assertEquals("leaves: day 0, and the year 2***", days.get("episodes.index_date"));
        assertTrue(days.get("responses.completed_on").startsWith("leaves: days from the index date, and the year "));
        assertEquals("leaves: age at the index date, ages over 89 as 90 3* 4*", days.get("episodes.birth_year"));
        assertEquals("leaves: days from the index date 1**", days.get("episodes.closed_on"));
        Map<String, String> shifted = dispositions(InventedClinic.profile(Profile.Dates.SHIFTED));
        assertTrue(
                shifted.get("episodes.index_date").startsWith("leaves: a date moved by a secret number of days"),
                shifted.toString());
    }

    @ParameterizedTest
    @CsvSource({"'',''", "a,*", "ab,a*", "abc,a**"})
    void examplesAreMasked(String value, String masked) {
        assertEquals(masked, ColumnDispositions.masked(value));
    }

    // ---- corrections

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "CSV  | change=1 responses=1 scores=1 | change=2 episodes=1 responses=3 scores=3",
                "SDTM | forms=1 | episodes=1 forms=3 subjects=1",
                "ADAM | forms=1 | episodes=1 forms=3 subjects=1"
            })
    void tablesAreAmendedAndTakenBackByTheirKeys(RegistryFormat format, String amended, String gone)
            throws IOException {
        List<SentRecords> kept = new ArrayList<>();
        assertEquals(
                new Submission.Corrections(Map.of(), Map.of()),
                write(clinic(), weeks(), settings(format, false, SentRecords.NONE), kept));
        Map<String, byte[]> first = files();
        write(clinic(), weeks(), settings(format, false, kept.get(0)), kept);
        first.forEach((name, bytes) -> assertArrayEquals(bytes, read(name), name));
        InventedClinic corrected = clinic(
                EPISODES, RESPONSES.replace("2025-02-25,right,x,quickdash,11,2", "2025-02-25,right,x,quickdash,11,1"));
        Submission.Corrections second = write(corrected, weeks(), settings(format, false, kept.get(1)), kept);
        assertEquals(amended, text(second.amended()));
        assertEquals(Map.of(), second.withdrawn());
        InventedClinic refusing = clinic(EPISODES.replace("wrist,yes", "wrist,no"), RESPONSES);
        Submission.Corrections third = write(refusing, weeks(), settings(format, false, kept.get(2)), kept);
        assertEquals(gone, text(third.withdrawn()));
        List<String> keys = values("data/withdrawn.csv", format == RegistryFormat.CSV ? "key" : "WDID");
        Set<String> known = kept.get(2).records().keySet().stream()
                .map(SentRecords.Key::key)
                .collect(Collectors.toSet());
        assertTrue(known.containsAll(keys), keys.toString());
        assertEquals(
                third.withdrawn().values().stream().mapToInt(Integer::intValue).sum(), keys.size());
        JsonNode counts = json("manifest.json").get("withdrawn");
        assertEquals(third.withdrawn().size(), counts.size());
        assertEquals(kept.get(3), Submission.sent(up(), format), "the folder lists what the receiver knows");
    }

    private byte[] read(String name) {
        try {
            return Files.readAllBytes(up().resolve(name));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static String text(Map<String, Integer> counts) {
        return new TreeMap<>(counts).entrySet().stream().map(Object::toString).collect(Collectors.joining(" "));
    }

    @Test
    void aDamagedListOfWhatWasSentIsRefused() throws IOException {
        write(RegistryFormat.CSV);
        Path list = up().resolve("sent.csv");
        Files.writeString(list, Files.readString(list).replaceFirst(",sent\r\n", ",lost\r\n"));
        UnreadableInputException refused = assertThrows(UnreadableInputException.class, () -> SentTable.read(up()));
        assertEquals(
                "sent.csv row 2, column state: this is no state of a record. Name a folder as submit wrote it.",
                refused.getMessage());
    }

    @Test
    void compressedFilesHoldTheSame() throws IOException {
        write(RegistryFormat.SDTM);
        Map<String, byte[]> plain = files();
        write(clinic(), weeks(), settings(RegistryFormat.SDTM, true, SentRecords.NONE), new ArrayList<>());
        Map<String, byte[]> packed = files();
        int seen = 0;
        for (Map.Entry<String, byte[]> file : plain.entrySet()) {
            if (file.getKey().startsWith("data/") && !file.getKey().endsWith(".xml")) {
                try (InputStream in =
                        new GZIPInputStream(new java.io.ByteArrayInputStream(packed.get(file.getKey() + ".gz")))) {
                    assertArrayEquals(file.getValue(), in.readAllBytes(), file.getKey());
                }
                seen++;
            }
        }
        assertTrue(seen >= 9, "only " + seen);
        try (InputStream in = new GZIPInputStream(new java.io.ByteArrayInputStream(packed.get("data/define.xml.gz")))) {
            String define = new String(in.readAllBytes(), StandardCharsets.UTF_8);
            assertTrue(define.contains("\"qs.json.gz\""), "the description names files as they are");
        }
        assertEquals(List.of(), ManifestCheck.check(up()).faults());
    }

    /** Counts of columns that do not leave would say too much of what does, so such data are not written. */
    @Test
    void dataPreparedForMoreThanAFormSendsAreRefused() {
        Profile wide = InventedClinic.profile(
                Profile.Dates.WEEKS_FROM_INDEX,
                InventedClinic.column("sex", "female", "male"),
                InventedClinic.column("closed_reason"),
                InventedClinic.column("condition", "wrist"));
        assertEquals(
                "The profile names columns that sdtm does not send, so too much was counted: narrow it to the form",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> write(
                                        clinic(),
                                        wide,
                                        settings(RegistryFormat.SDTM, false, SentRecords.NONE),
                                        new ArrayList<>()))
                        .getMessage());
        assertEquals(wide, RegistryFormat.CSV.narrowed(wide));
        assertEquals(wide, RegistryFormat.FHIR.narrowed(wide));
        assertEquals(
                List.of(InventedClinic.column("sex", "female", "male"), InventedClinic.column("closed_reason", "died")),
                RegistryFormat.ADAM.narrowed(wide).columns());
        assertEquals(
                List.of("sex", "age_band"),
                RegistryFormat.SDTM.narrowed(Profile.DEFAULT).columns().stream()
                        .map(Profile.AllowedColumn::name)
                        .toList(),
                "the default profile lets no death out");
    }

    // ---- checking a folder

    @Test
    void aFolderThatWasChangedIsToldFileByFile() throws IOException {
        write(RegistryFormat.CSV);
        Files.writeString(
                up().resolve("dictionary.csv"),
                Files.readString(up().resolve("dictionary.csv")).replaceFirst("site", "sitE"));
        Files.writeString(up().resolve("rejected.csv"), "more", java.nio.file.StandardOpenOption.APPEND);
        Files.delete(up().resolve("data/scores.csv"));
        Files.writeString(up().resolve("data/own.txt"), "x");
        assertEquals(
                Set.of(
                        "data/scores.csv: the file is missing.",
                        "dictionary.csv: the file has been changed.",
                        "rejected.csv: the file has another size than when it was written.",
                        "data/own.txt: this file is not in the manifest."),
                Set.copyOf(ManifestCheck.check(up()).faults()));
    }

    @Test
    void aManifestThatReachesOutOfItsFolderOrDoesNotAddUpIsTold() throws IOException {
        write(RegistryFormat.CSV);
        Path manifest = up().resolve("manifest.json");
        Files.writeString(folder.resolve("outside.csv"), "x");
        Files.writeString(
                manifest,
                Files.readString(manifest)
                        .replace("\"rejected.csv\"", "\"../outside.csv\"")
                        .replaceFirst("\"in\" : 7", "\"in\" : 8"));
        assertEquals(
                List.of(
                        "../outside.csv: the file is missing.",
                        "rejected.csv: this file is not in the manifest.",
                        "sittings in are not sittings sent and rejected."),
                ManifestCheck.check(up()).faults());
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            delimiter = '|',
            value = {
                "{ | the manifest cannot be read, or is damaged.",
                "[] | this is no manifest of ours, or of a newer version.",
                "{\"format\":\"other\",\"version\":1} | this is no manifest of ours, or of a newer version.",
                "{\"format\":\"lumbrical submission\",\"version\":2} | this is no manifest of ours, or of a newer version.",
                "{\"format\":\"lumbrical submission\",\"version\":1} | the manifest is damaged ("
            })
    void whatIsNoManifestIsRefused(String text, String why) throws IOException {
        Files.createDirectories(up());
        Files.writeString(up().resolve("manifest.json"), text);
        UnreadableInputException refused =
                assertThrows(UnreadableInputException.class, () -> ManifestCheck.check(up()));
        assertTrue(refused.getMessage().startsWith("manifest.json: " + why), refused.getMessage());
    }

    @Test
    void aFolderWithoutAManifestIsRefused() {
        assertEquals(
                "elsewhere: there is no manifest.json in this folder. Name a folder that submit wrote.",
                assertThrows(UnreadableInputException.class, () -> ManifestCheck.check(folder.resolve("elsewhere")))
                        .getMessage());
    }
}
