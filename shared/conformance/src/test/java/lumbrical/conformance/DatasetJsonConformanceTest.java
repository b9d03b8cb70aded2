package lumbrical.conformance;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lumbrical.cdisc.CdiscFiles;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Dataset-JSON files held against the official schema of version 1.1, and their content against the rules of SDTM and ADaM, read back
 * with a reader of the tests' own. Rules: SDTMIG 3.4, ADaMIG 1.3; CHG, PCHG, AWTDIFF and ANL01FL as the public CDISC pilot data have
 * them.
 */
class DatasetJsonConformanceTest {
    private static final ObjectMapper JSON = new ObjectMapper();
    private static final int EPISODES = Integer.getInteger("conformance.episodes", 40);

    private static final List<String> DATASETS = List.of("dm", "suppdm", "qs", "suppqs", "adsl", "adhand");

    /** Clinics whose profile sends weeks. */
    private static final Set<String> WEEKS = Set.of("demo", "generated");

    @TempDir
    private static Path folder;

    private static JsonSchema schema;
    private static final Map<String, Clinics.Files> CLINICS = new HashMap<>();

    @BeforeAll
    static void write() throws IOException {
        try (InputStream in = DatasetJsonConformanceTest.class.getResourceAsStream("/cdisc/dataset.schema.json")) {
            schema = JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V201909)
                    .getSchema(in);
        }
        GeneratedClinic clinic = GeneratedClinic.of(EPISODES);
        Path responses = clinic.responses(folder);
        Path episodes = clinic.episodes(folder);
        Profile shifted = new Profile("shifted", "1", "HAND", Profile.Dates.SHIFTED, 5, Profile.DEFAULT.columns());
        CLINICS.put("demo", files(Clinics.demo(Profile.DEFAULT)));
        CLINICS.put("generated", files(Clinics.shipment(responses, episodes, Profile.DEFAULT)));
        CLINICS.put("shifted", files(Clinics.shipment(responses, episodes, shifted)));
        Profile days = new Profile("days", "1", "HAND", Profile.Dates.DAYS_FROM_INDEX, 5, Profile.DEFAULT.columns());
        CLINICS.put("days", files(Clinics.demo(days)));
    }

    private static Clinics.Files files(DeidentifiedDataset shipment) {
        Clinics.Files files = new Clinics.Files();
        CdiscFiles.CdiscSettings settings = new CdiscFiles.CdiscSettings("lumbrical 0.2.0", true, "");
        CdiscFiles.writeSdtm(shipment, SentRecords.NONE, settings, files);
        CdiscFiles.writeAdam(shipment, SentRecords.NONE, settings, files);
        return files;
    }

    /** A record by variable; missing values are left out. */
    static List<Map<String, JsonNode>> records(Clinics.Files files, String name) throws IOException {
        JsonNode dataset = JSON.readTree(files.content().get("data/" + name + ".json"));
        List<Map<String, JsonNode>> records = new ArrayList<>();
        for (JsonNode row : dataset.get("rows")) {
            Map<String, JsonNode> record = new HashMap<>();
            for (int i = 0; i < row.size(); i++) {
                if (!row.get(i).isNull()) {
                    record.put(dataset.get("columns").get(i).get("name").asText(), row.get(i));
                }
            }
            records.add(record);
        }
        assertEquals(dataset.get("records").asInt(), records.size());
        return records;
    }

    @Test
    void everyFileFollowsTheOfficialSchema() throws IOException {
        int seen = 0;
        for (Clinics.Files files : CLINICS.values()) {
            for (String name : DATASETS) {
                JsonNode dataset = JSON.readTree(files.content().get("data/" + name + ".json"));
                assertEquals(Set.of(), schema.validate(dataset), name);
                assertTrue(dataset.get("records").asInt() >= 10, name);
                seen++;
            }
        }
        assertEquals(24, seen);
    }

    @Test
    void theSchemaWouldSeeABadFile() throws IOException {
        JsonNode bad = JSON.readTree(CLINICS.get("demo").content().get("data/qs.json"));
        ((com.fasterxml.jackson.databind.node.ObjectNode) bad).put("records", "many");
        ((com.fasterxml.jackson.databind.node.ObjectNode) bad.get("columns").get(0)).put("dataType", "number");
        assertEquals(2, schema.validate(bad).size());
    }

    @Test
    void linesHoldTheSameAsTheWholeFile() throws IOException {
        for (String name : DATASETS) {
            Clinics.Files files = CLINICS.get("demo");
            JsonNode whole = JSON.readTree(files.content().get("data/" + name + ".json"));
            List<String> lines = files.text("data/" + name + ".ndjson").lines().toList();
            com.fasterxml.jackson.databind.node.ObjectNode metadata = whole.deepCopy();
            metadata.remove("rows");
            assertEquals(metadata, JSON.readTree(lines.get(0)));
            assertEquals(whole.get("rows").size(), lines.size() - 1);
            for (int i = 1; i < lines.size(); i++) {
                assertEquals(whole.get("rows").get(i - 1), JSON.readTree(lines.get(i)));
            }
        }
    }

    @Test
    void namesLabelsAndTextsKeepTheLimitsOfEightFortyAndTwoHundred() throws IOException {
        for (Clinics.Files files : CLINICS.values()) {
            for (String name : DATASETS) {
                JsonNode dataset = JSON.readTree(files.content().get("data/" + name + ".json"));
                for (JsonNode column : dataset.get("columns")) {
                    assertTrue(column.get("name").asText().matches("[A-Z][A-Z0-9_]{0,7}"), column.toString());
                    assertTrue(column.get("label").asText().length() <= 40, column.toString());
                }
                for (JsonNode row : dataset.get("rows")) {
                    for (JsonNode cell : row) {
                        assertTrue(!cell.isTextual() || cell.asText().length() <= 200, row.toString());
                    }
                }
            }
            for (Map<String, JsonNode> record : records(files, "qs")) {
                assertTrue(record.get("QSTESTCD").asText().matches("[A-Z][A-Z0-9_]{0,7}"));
                assertTrue(record.get("QSTEST").asText().length() <= 40);
            }
        }
    }

    @Test
    void codesAndNamesAreOneToOne() throws IOException {
        for (Clinics.Files files : CLINICS.values()) {
            oneToOne(records(files, "qs"), "QSTESTCD", "QSTEST");
            oneToOne(records(files, "adhand"), "PARAMCD", "PARAM");
            oneToOne(records(files, "adhand"), "PARAMCD", "PARAMN");
        }
    }

    private static void oneToOne(List<Map<String, JsonNode>> records, String a, String b) {
        Set<String> pairs = new HashSet<>();
        Set<String> first = new HashSet<>();
        Set<String> second = new HashSet<>();
        for (Map<String, JsonNode> record : records) {
            pairs.add(record.get(a) + "|" + record.get(b));
            first.add(record.get(a).asText());
            second.add(record.get(b).asText());
        }
        assertEquals(pairs.size(), first.size(), a);
        assertEquals(pairs.size(), second.size(), b);
    }

    @Test
    void questionnaireRecordsFollowTheRulesOfTheDomain() throws IOException {
        int derived = 0;
        int notDone = 0;
        for (String clinic : CLINICS.keySet()) {
            Set<String> keys = new HashSet<>();
            for (Map<String, JsonNode> record : records(CLINICS.get(clinic), "qs")) {
                assertTrue(keys.add(record.get("USUBJID") + " " + record.get("QSSEQ")), "QSSEQ is unique in a subject");
                boolean result = record.containsKey("QSSTRESC");
                assertEquals(!result, record.containsKey("QSSTAT"), "NOT DONE exactly where there is no result");
                assertEquals(!result, record.containsKey("QSREASND"));
                if (record.containsKey("QSDRVFL")) {
                    assertFalse(record.containsKey("QSORRES"), "a derived record has no original result");
                    derived++;
                } else {
                    assertEquals(result, record.containsKey("QSORRES"));
                }
                assertEquals(WEEKS.contains(clinic), !record.containsKey("QSDY"), "a day is sent unless weeks are");
                assertTrue(!record.containsKey("QSDY") || record.get("QSDY").asInt() != 0, "there is no day 0");
                notDone += result ? 0 : 1;
            }
        }
        assertTrue(derived > 500 && notDone > 100, derived + " " + notDone);
    }

    @Test
    void supplementsReferToRecordsOfTheDomain() throws IOException {
        for (Clinics.Files files : CLINICS.values()) {
            Set<String> keys = new HashSet<>();
            records(files, "qs").forEach(r -> {
                keys.add(r.get("USUBJID").asText() + " QSSEQ " + r.get("QSSEQ"));
                keys.add(r.get("USUBJID").asText() + " QSGRPID "
                        + r.get("QSGRPID").asText());
            });
            Set<String> seen = new HashSet<>();
            for (Map<String, JsonNode> record : records(files, "suppqs")) {
                String key = record.get("USUBJID").asText() + " "
                        + record.get("IDVAR").asText() + " "
                        + record.get("IDVARVAL").asText();
                assertTrue(keys.contains(key), key);
                assertTrue(seen.add(key), "one side a record, one episode a form");
                assertEquals(
                        record.get("IDVAR").asText().equals("QSSEQ") ? "QSLAT" : "EPISODID",
                        record.get("QNAM").asText());
                assertTrue(!record.get("QNAM").asText().equals("QSLAT")
                        || Set.of("RIGHT", "LEFT", "BOTH")
                                .contains(record.get("QVAL").asText()));
            }
        }
    }

    /** By form, the pseudonym of its episode. */
    private static Map<String, String> episodes(Clinics.Files files) throws IOException {
        Map<String, String> episodes = new HashMap<>();
        for (Map<String, JsonNode> record : records(files, "suppqs")) {
            if (record.get("QNAM").asText().equals("EPISODID")) {
                episodes.put(record.get("IDVARVAL").asText(), record.get("QVAL").asText());
            }
        }
        return episodes;
    }

    @Test
    void eachTestHasOneBaselineRecordInAnEpisodeAndOneWithAResult() throws IOException {
        int flags = 0;
        int flagsOfTasks = 0;
        for (Clinics.Files files : CLINICS.values()) {
            Map<String, String> episodes = episodes(files);
            Set<String> seen = new HashSet<>();
            for (Map<String, JsonNode> r : records(files, "qs")) {
                if (r.containsKey("QSBLFL")) {
                    String test = r.get("USUBJID").asText() + " "
                            + episodes.get(r.get("QSGRPID").asText()) + " " + r.get("QSTESTCD");
                    assertTrue(seen.add(test), test);
                    assertTrue(r.containsKey("QSSTRESC") && !r.containsKey("QSSTAT"), r.toString());
                    flags++;
                    flagsOfTasks += r.get("QSTESTCD").asText().startsWith("GRIP") ? 1 : 0;
                }
            }
            Set<String> analysed = new HashSet<>();
            for (Map<String, JsonNode> r : records(files, "adhand")) {
                if (r.containsKey("ABLFL")) {
                    assertTrue(analysed.add(r.get("USUBJID") + " " + r.get("PARAMCD") + " " + r.get("BASETYPE")));
                    assertTrue(r.containsKey("AVAL"), "a baseline has a value");
                }
                assertEquals(
                        "EPISODE " + r.get("EPISODID").asText(),
                        r.get("BASETYPE").asText());
            }
        }
        assertTrue(flags > 1000 && flagsOfTasks > 50, flags + " " + flagsOfTasks);
    }

    @Test
    void everyAnalysisRecordHasItsRecordInQsOrTellsHowItWasDerived() throws IOException {
        int derived = 0;
        int unscheduled = 0;
        for (Clinics.Files files : CLINICS.values()) {
            Map<String, Map<String, JsonNode>> scores = new HashMap<>();
            Map<String, String> episodes = episodes(files);
            Map<String, String> names = new HashMap<>();
            for (Map<String, JsonNode> r : records(files, "qs")) {
                if (r.containsKey("QSDRVFL")) {
                    scores.put(r.get("USUBJID") + " " + r.get("QSSEQ"), r);
                }
                String number = r.get("VISITNUM").asText();
                names.putIfAbsent(number, r.get("VISIT").asText());
                assertEquals(names.get(number), r.get("VISIT").asText(), "a number has one name");
                assertEquals(
                        number.contains("."), r.get("VISIT").asText().startsWith("unscheduled"), "only then decimals");
                assertEquals(number.contains("."), !r.containsKey("VISITDY"));
                unscheduled += number.contains(".") ? 1 : 0;
            }
            for (Map<String, JsonNode> r : records(files, "adhand")) {
                assertEquals(
                        episodes.get(r.get("SRCID").asText()), r.get("EPISODID").asText());
                assertEquals(r.containsKey("DTYPE"), r.get("OUTCOME").asText().equals("with-missing"));
                if (r.containsKey("DTYPE")) {
                    assertFalse(r.containsKey("SRCDOM") || r.containsKey("SRCVAR") || r.containsKey("SRCSEQ"));
                    derived++;
                    continue;
                }
                assertEquals(
                        "QS QSSTRESN",
                        r.get("SRCDOM").asText() + " " + r.get("SRCVAR").asText());
                Map<String, JsonNode> source = scores.remove(r.get("USUBJID") + " " + r.get("SRCSEQ"));
                assertTrue(source != null, r.toString());
                assertEquals(source.get("QSTESTCD"), r.get("PARAMCD"));
                assertEquals(source.get("QSGRPID"), r.get("SRCID"));
                assertEquals(source.get("VISIT"), r.get("AVISIT"));
                assertEquals(source.get("VISITNUM"), r.get("AVISITN"));
                assertEquals(source.get("QSSTRESN"), r.get("AVAL"));
                assertEquals(source.get("QSBLFL"), r.get("ABLFL"));
                assertEquals(source.get("QSDY"), r.get("ADY"));
            }
            assertEquals(Map.of(), scores, "a score of QS without its analysis record");
        }
        assertTrue(derived > 100 && unscheduled > 100, derived + " " + unscheduled);
    }

    @Test
    void changePercentAndWindowsCanBeComputedAgain() throws IOException {
        int changes = 0;
        int windows = 0;
        int before = 0;
        for (String clinic : CLINICS.keySet()) {
            Clinics.Files files = CLINICS.get(clinic);
            Map<String, Double> baselines = new HashMap<>();
            Map<String, Integer> flagged = new HashMap<>();
            List<Map<String, JsonNode>> records = records(files, "adhand");
            for (Map<String, JsonNode> r : records) {
                if (r.containsKey("ABLFL")) {
                    String course = r.get("EPISODID") + " " + r.get("PARAMCD");
                    assertTrue(!baselines.containsKey(course), "one baseline each");
                    baselines.put(course, r.get("AVAL").asDouble());
                    assertFalse(r.containsKey("CHG"), "no change on the baseline record");
                }
                if (r.containsKey("ANL01FL")) {
                    flagged.merge(r.get("EPISODID") + " " + r.get("PARAMCD") + " " + r.get("AVISIT"), 1, Integer::sum);
                }
            }
            flagged.forEach((window, count) -> assertEquals(1, count, window));
            for (Map<String, JsonNode> r : records) {
                if (r.containsKey("CHG")) {
                    double base = baselines.get(r.get("EPISODID") + " " + r.get("PARAMCD"));
                    assertEquals(base, r.get("BASE").asDouble(), 1e-9);
                    assertEquals(r.get("AVAL").asDouble() - base, r.get("CHG").asDouble(), 2e-6);
                    assertEquals(base != 0, r.containsKey("PCHG"), "no percent of a baseline of 0");
                    if (base != 0) {
                        assertEquals(
                                100 * r.get("CHG").asDouble() / base,
                                r.get("PCHG").asDouble(),
                                1e-3);
                    }
                    changes++;
                }
                boolean weeks = WEEKS.contains(clinic);
                assertEquals(weeks, r.containsKey("AWEEK"));
                assertEquals(weeks, !r.containsKey("ADY"));
                assertEquals(clinic.equals("shifted"), r.containsKey("ADT"));
                if (r.containsKey("AWTARGET")) {
                    assertEquals(weeks ? "WEEKS" : "DAYS", r.get("AWU").asText());
                    int at = r.get(weeks ? "AWEEK" : "ADY").asInt();
                    int target = r.get("AWTARGET").asInt();
                    boolean overDayNought = !weeks && at < 0 && target > 0;
                    assertEquals(
                            Math.abs(at - target) - (overDayNought ? 1 : 0),
                            r.get("AWTDIFF").asInt());
                    assertTrue(
                            at >= r.get("AWLO").asInt() && at <= r.get("AWHI").asInt(), r.toString());
                    before += overDayNought ? 1 : 0;
                    windows++;
                }
            }
        }
        assertTrue(before > 100, before + " records before the index date");
        assertTrue(changes > 200 && windows > 500, changes + " " + windows);
    }

    @Test
    void theFlaggedRecordIsTheScorableOneNearestTheTarget() throws IOException {
        int several = 0;
        for (Clinics.Files files : List.of(CLINICS.get("shifted"), CLINICS.get("days"))) { // weeks are too coarse
            Map<String, List<Map<String, JsonNode>>> windows = new HashMap<>();
            for (Map<String, JsonNode> r : records(files, "adhand")) {
                if (r.containsKey("AWTARGET") && r.get("AVISITN").asInt() > 1 && r.containsKey("AVAL")) {
                    windows.computeIfAbsent(
                                    r.get("EPISODID") + " " + r.get("PARAMCD") + " " + r.get("AVISIT"),
                                    w -> new ArrayList<>())
                            .add(r);
                }
            }
            for (List<Map<String, JsonNode>> window : windows.values()) {
                int nearest = window.stream()
                        .mapToInt(r -> r.get("AWTDIFF").asInt())
                        .min()
                        .orElseThrow();
                for (Map<String, JsonNode> r : window) {
                    if (r.containsKey("ANL01FL")) {
                        assertEquals(nearest, r.get("AWTDIFF").asInt());
                    }
                }
                several += window.size() > 1 ? 1 : 0;
            }
        }
        assertTrue(several > 0);
    }

    @Test
    void theCriterionAgreesWithTheChange() throws IOException {
        int met = 0;
        int notMet = 0;
        for (Map<String, JsonNode> r : records(CLINICS.get("demo"), "adhand")) {
            if (r.containsKey("CRIT1FL")) {
                String[] words = r.get("CRIT1").asText().split(" ");
                double limit = Double.parseDouble(words[2]);
                double change = r.get("CHG").asDouble();
                boolean reached = words[1].equals("<=") ? change <= limit + 1e-9 : change >= limit - 1e-9;
                assertEquals(reached ? "Y" : "N", r.get("CRIT1FL").asText(), r.toString());
                met += reached ? 1 : 0;
                notMet += reached ? 0 : 1;
            } else {
                assertFalse(r.containsKey("CRIT1"));
            }
        }
        assertTrue(met > 50 && notMet > 50, met + " " + notMet);
    }
}
