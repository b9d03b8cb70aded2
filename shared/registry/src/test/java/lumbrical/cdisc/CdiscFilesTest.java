package lumbrical.cdisc;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import lumbrical.output.DictionaryEntry;
import lumbrical.sending.InventedClinic;
import lumbrical.sending.MemoryFiles;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Datasets of small invented clinics, counted by hand. Names and limits are those of SDTMIG 3.4, ADaMIG 1.3 and Dataset-JSON 1.1; that CHG
 * and PCHG are missing on the baseline record is what the public CDISC pilot data have.
 */
class CdiscFilesTest {
    private static final CdiscFiles.CdiscSettings SETTINGS = new CdiscFiles.CdiscSettings("a program 1.0", true, "");
    private static final String EPISODES = "patient,episode,treated_side,index_date\nA,1,right,2025-01-10\n";
    private static final String LONG = "patient,completed_on,side,instrument,item,response\n";

    @TempDir
    private Path folder;

    private InventedClinic clinic(String episodes, String responses) {
        return InventedClinic.of(folder, episodes, responses);
    }

    private static Profile days(Profile.AllowedColumn... columns) {
        return InventedClinic.profile(Profile.Dates.DAYS_FROM_INDEX, columns);
    }

    private static MemoryFiles files(DeidentifiedDataset sent, SentRecords withdrawn) {
        MemoryFiles files = new MemoryFiles();
        CdiscFiles.writeSdtm(sent, withdrawn, SETTINGS, files);
        CdiscFiles.writeAdam(sent, withdrawn, SETTINGS, files);
        return files;
    }

    private static MemoryFiles files(DeidentifiedDataset sent) {
        return files(sent, SentRecords.NONE);
    }

    // ---- subjects

    private static final String PEOPLE =
            """
            patient,episode,treated_side,index_date,sex,birth_year,closed_on,closed_reason
            A,1,right,2025-01-10,female,1980,,
            A,2,left,2026-01-10,female,1980,,
            B,1,right,2025-01-10,other,1930,2025-03-01,died
            C,1,right,2025-01-10,male,,,
            D,1,right,2025-01-10,unknown,1990,,
            """;

    private static final String FORMS =
            """
            patient,completed_on,side,episode,sane_1
            A,2025-01-09,right,1,50
            A,2026-01-09,left,2,50
            B,2025-01-09,right,1,50
            C,2025-01-09,right,1,50
            D,2025-01-09,right,1,50
            """;

    private static final Profile.AllowedColumn SEX = InventedClinic.column("sex", "female", "male", "other", "unknown");

    @Test
    void aSubjectHasOneRecordWithWhatAllEpisodesAgreeOn() {
        MemoryFiles files = files(clinic(PEOPLE, FORMS)
                .sent(days(
                        SEX,
                        InventedClinic.column("age"),
                        InventedClinic.column("age_band"),
                        InventedClinic.column("closed_reason", "died"))));
        // F, M and U are of the code list Sex; another is U and stands in the supplement, since none may be missing.
        // The age is the lowest, the band must
        // agree.
        assertEquals(
                List.of(
                        "SA | F | 45 | YEARS | -",
                        "SB | U | 90 | YEARS | Y",
                        "SC | M | - | - | -",
                        "SD | U | 35 | YEARS | -"),
                files.of("dm", "DOMAIN", "DM", "SUBJID", "SEX", "AGE", "AGEU", "DTHFL"));
        assertEquals(
                List.of("HAND-CLINIC-SA", "HAND-CLINIC-SB", "HAND-CLINIC-SC", "HAND-CLINIC-SD"),
                files.of("dm", "DOMAIN", "DM", "USUBJID"));
        assertEquals(
                List.of("SA | 40-49 | -", "SB | 90+ | Y", "SC | - | -", "SD | 30-39 | -"),
                files.of("adsl", "SITEID", "CLINIC", "SUBJID", "AGEGR1", "DTHFL"));
        assertEquals(
                List.of(
                        "HAND-CLINIC-SA | AGEGR1 | 40-49 | DERIVED",
                        "HAND-CLINIC-SB | AGEGR1 | 90+ | DERIVED",
                        "HAND-CLINIC-SB | SEXOTH | other | CRF",
                        "HAND-CLINIC-SD | AGEGR1 | 30-39 | DERIVED"),
                files.of("suppdm", "RDOMAIN", "DM", "USUBJID", "QNAM", "QVAL", "QORIG"));
    }

    @Test
    void withoutAnySupplementThereIsNoFileOfIt() {
        MemoryFiles files = files(clinic(PEOPLE, FORMS).sent(days()));
        assertEquals(
                List.of(
                        "dm.json",
                        "dm.ndjson",
                        "dm.csv",
                        "qs.json",
                        "qs.ndjson",
                        "qs.csv",
                        "suppqs.json",
                        "suppqs.ndjson",
                        "suppqs.csv",
                        "define.xml",
                        "adsl.json",
                        "adsl.ndjson",
                        "adsl.csv",
                        "adhand.json",
                        "adhand.ndjson",
                        "adhand.csv"),
                files.names().stream()
                        .map(n -> n.replace("data/", ""))
                        .distinct()
                        .toList());
    }

    /** Study days count from each episode's own start, so that a subject with two has no reference date. */
    @Test
    void aReferenceDateIsThatOfTheOneEpisode() {
        InventedClinic clinic = clinic(PEOPLE, FORMS);
        MemoryFiles files = files(clinic.sent(InventedClinic.profile(Profile.Dates.SHIFTED)));
        List<String> dates = files.of("dm", "DOMAIN", "DM", "SUBJID", "RFSTDTC");
        assertEquals("SA | -", dates.get(0));
        LocalDate moved = LocalDate.parse("2025-01-10").plusDays(clinic.keys().shiftDays("B"));
        assertEquals("SB | " + moved, dates.get(1));
        assertEquals(
                List.of("" + moved.minusDays(1)),
                files.of("qs", "USUBJID", "HAND-CLINIC-SB", "QSDTC").stream()
                        .distinct()
                        .toList());
        assertEquals(
                List.of(moved.minusDays(1) + " | -1"), files.of("adhand", "USUBJID", "HAND-CLINIC-SB", "ADT", "ADY"));
    }

    // ---- findings

    /** MHQ: who never has pain (code 5) leaves the other pain items of that hand out. */
    @Test
    void anItemWithoutAResultSaysWhy() {
        String sitting = "A,2025-01-09,right,mhq,";
        MemoryFiles files = files(clinic(
                        EPISODES,
                        LONG + sitting + "pain_1_right,5\n" + sitting + "pain_1_left,4\n" + sitting + "pain_2_left,9\n"
                                + sitting + "pain_3_left,2\n")
                .sent(days()));
        Map<String, String> reasons = files.records("qs").stream()
                .filter(r -> r.get("QSSPID").asText().startsWith("pain_") && !r.containsKey("QSDRVFL"))
                .collect(Collectors.toMap(
                        r -> r.get("QSSPID").asText(),
                        r -> r.containsKey("QSSTAT")
                                ? r.get("QSREASND").asText()
                                : r.get("QSSTRESC").asText()));
        assertEquals(
                Map.of(
                        "pain_1_right", "5",
                        "pain_2_right", "NOT APPLICABLE",
                        "pain_3_right", "NOT APPLICABLE",
                        "pain_4_right", "NOT APPLICABLE",
                        "pain_5_right", "NOT APPLICABLE",
                        "pain_1_left", "4",
                        "pain_2_left", "RESPONSE NOT ALLOWED",
                        "pain_3_left", "2",
                        "pain_4_left", "LEFT BLANK",
                        "pain_5_left", "LEFT BLANK"),
                reasons);
        assertEquals(
                List.of("LEFT", "RIGHT"),
                files.of("suppqs", "QNAM", "QSLAT", "QVAL").stream().distinct().toList());
        assertEquals(
                List.of("SA-1"),
                files.of("suppqs", "QNAM", "EPISODID", "QVAL").stream()
                        .distinct()
                        .toList());
    }

    @Test
    void aResponseIsTheWordForItsCodeWhereThereIsOne() {
        MemoryFiles files =
                files(clinic(EPISODES, LONG + InventedClinic.answers("A,2025-01-09,right", "quickdash", 1, 11, 1))
                        .sent(days()));
        assertEquals(
                List.of("without trouble | 1 | 1 | -P7D"),
                files.of("qs", "QSTESTCD", "QDSH01", "QSORRES", "QSSTRESC", "QSSTRESN", "QSEVLINT"));
        assertEquals(
                List.of("0 | 0 | Y | Y"),
                files.of("qs", "QSTESTCD", "QDSHT1", "QSSTRESC", "QSSTRESN", "QSDRVFL", "QSBLFL"),
                "the best answers make 0");
        assertEquals(List.of("QDSH01-undoing a jar lid"), files.of("qs", "QSTESTCD", "QDSH01", "QSTEST"));
    }

    /** The number in SRCSEQ is that of the score's record of QS. */
    @Test
    void analysisRecordsPointAtTheirFindings() {
        MemoryFiles files = files(clinic(PEOPLE, FORMS).sent(days()));
        Map<String, JsonNode> bySequence = files.records("qs").stream()
                .collect(Collectors.toMap(
                        r -> r.get("USUBJID").asText() + r.get("QSSEQ").asText(), r -> r.get("QSSPID")));
        assertEquals(10, bySequence.size(), "an item and a score of each of five forms");
        for (Map<String, JsonNode> record : files.records("adhand")) {
            assertEquals(
                    "total",
                    bySequence
                            .get(record.get("USUBJID").asText()
                                    + record.get("SRCSEQ").asText())
                            .asText());
        }
    }

    /** One person is alike with nobody, so the side is left blank and with it every answer about a hand: of the one form nothing is left. */
    @Test
    void everySupplementPointsAtARecord() {
        InventedClinic clinic = clinic(
                EPISODES,
                LONG
                        + "A,2025-01-08,right,sane,1,50\n"
                        + "A,2025-01-09,right,griptasks,key_right,1\n"
                        + "A,2025-01-09,right,mhq,pain_1_right,2\n"
                        + "A,2025-01-09,right,mhq,work_1,3\n");
        MemoryFiles files =
                files(clinic.sent(clinic.terms(days()).withSmallestCell(5).withCoarsening()));
        Set<String> forms = Set.copyOf(files.of("qs", "DOMAIN", "QS", "QSGRPID"));
        assertEquals(2, forms.size(), "sane and mhq");
        assertEquals(forms, Set.copyOf(files.of("suppqs", "QNAM", "EPISODID", "IDVARVAL")));
        assertEquals(
                List.of(),
                files.of("qs", "QSREASND", "LEFT BLANK", "QSSPID").stream()
                        .filter(item -> item.endsWith("_right") || item.endsWith("_left"))
                        .toList());
        assertEquals(List.of(), files.of("suppqs", "QNAM", "QSLAT", "QVAL"), "no side is told");
    }

    // ---- changes

    private List<String> changes(String instrument, int items, int before, int after) {
        return files(clinic(
                                EPISODES,
                                LONG
                                        + InventedClinic.answers("A,2025-01-09,right", instrument, 1, items, before)
                                        + InventedClinic.answers("A,2025-02-25,right", instrument, 1, items, after))
                        .sent(days()))
                .records("adhand")
                .stream()
                .filter(r -> r.get("PARAMCD").asText().matches("(PRWET3|QDSHT1|PSFST1)"))
                .map(r -> List.of("AVISIT", "AVAL", "BASE", "CHG", "PCHG", "CRIT1", "CRIT1FL", "VERDICT").stream()
                        .map(v -> r.containsKey(v) ? r.get(v).asText() : "-")
                        .collect(Collectors.joining(" | ")))
                .toList();
    }

    /** The QuickDASH's MCID of 14 and MDC of 12.85 are those of its definition, with their sources; an item-point is 25. */
    @Test
    void aChangeIsHeldAgainstTheMcidWithItsSource() {
        String criterion =
                "CHG <= -14 (MCID sorensen2013-mcid; atraumatic conditions of hand, wrist and forearm, not operated;"
                        + " published)";
        assertEquals(
                List.of(
                        "baseline | 50 | 50 | - | - | - | - | -",
                        "6 weeks | 25 | 50 | -25 | -50 | " + criterion + " | Y | important-improvement"),
                changes("quickdash", 11, 3, 2));
        assertEquals(
                "6 weeks | 75 | 50 | 25 | 50 | " + criterion + " | N | important-worsening",
                changes("quickdash", 11, 3, 4).get(1));
        assertEquals(
                "6 weeks | 25 | 0 | 25 | - | " + criterion + " | N | important-worsening",
                changes("quickdash", 11, 1, 2).get(1),
                "no percentage of a baseline of 0");
    }

    /** PSFS: its change is over the activities rated at both sittings, so that it is not AVAL - BASE. */
    @Test
    void aChangeOverPairedItemsIsNoDifferenceOfValues() {
        List<String> changes = changes("psfs", 3, 2, 8);
        assertTrue(changes.get(1).startsWith("6 weeks | 8 | - | - | - | - | - | "), changes.toString());
    }

    @Test
    void aFollowUpWithoutABaselineHasNoChange() {
        List<String> rows = files(
                        clinic(EPISODES, LONG + InventedClinic.answers("A,2025-02-25,right", "quickdash", 1, 11, 3))
                                .sent(days()))
                .of("adhand", "PARAMCD", "QDSHT1", "AVAL", "BASE", "CHG", "CRIT1FL", "VERDICT", "ANL01FL");
        assertEquals(List.of("50 | - | - | - | not-assessable | Y"), rows);
    }

    /** A total of parts with gaps says that its parts had them, and has no record of QS. */
    @Test
    void aScoreUnderAMissingItemRuleSaysHowItWasMade() {
        MemoryFiles files =
                files(clinic(EPISODES, LONG + InventedClinic.answers("A,2025-01-09,right", "prwe", 1, 14, 4))
                        .sent(days()));
        assertEquals(
                List.of(
                        "PRWET1 | 20 | - | QS",
                        "PRWET2 | 20 | MEAN OF ANSWERED ITEMS | -",
                        "PRWET3 | 40 | PARTS WITH MISSING ITEMS | -"),
                files.of("adhand", "AVISIT", "baseline", "PARAMCD", "AVAL", "DTYPE", "SRCDOM"));
    }

    // ---- what is taken back

    private static SentRecords withdrawn() {
        SentRecords.Sent gone = new SentRecords.Sent("SZ", "hash", SentRecords.State.WITHDRAWN);
        return new SentRecords(Map.of(
                new SentRecords.Key("subjects", "SZ"), gone,
                new SentRecords.Key("episodes", "SZ-1"), gone,
                new SentRecords.Key("forms", "FORMKEY"), gone));
    }

    @Test
    void whatIsTakenBackIsADatasetOfOursWithKeysAlone() {
        MemoryFiles files = files(clinic(EPISODES, FORMS).sent(days()), withdrawn());
        assertEquals(
                List.of(
                        "HAND | HAND-CLINIC-SZ | EPISODE | SZ-1",
                        "HAND | HAND-CLINIC-SZ | FORM | FORMKEY",
                        "HAND | HAND-CLINIC-SZ | SUBJECT | SZ"),
                files.of("withdrawn", "STUDYID", "HAND", "STUDYID", "USUBJID", "WDKIND", "WDID"));
        assertEquals("WITHDRWN", files.json("data/withdrawn.json").get("name").asText());
        assertTrue(files.text("data/define.xml").contains("def:IsNonStandard=\"Yes\""));
        assertFalse(files(clinic(EPISODES, FORMS).sent(days())).names().contains("data/withdrawn.json"));
    }

    // ---- files

    @Test
    void linesAndTheTableHoldTheSameRecordsAsTheWholeFile() {
        MemoryFiles files = files(clinic(PEOPLE, FORMS).sent(days(SEX)));
        for (String name : List.of("dm", "qs", "suppqs", "adsl", "adhand")) {
            JsonNode whole = files.json("data/" + name + ".json");
            List<String> lines = files.text("data/" + name + ".ndjson").lines().toList();
            List<String> rows = files.text("data/" + name + ".csv").lines().toList();
            int records = whole.get("rows").size();
            assertTrue(records > 3, name);
            assertEquals(records, whole.get("records").asInt());
            assertEquals(records, files.count("data/" + name + ".json"));
            assertEquals(List.of(records + 1, records + 1), List.of(lines.size(), rows.size()), name);
            assertFalse(MemoryFiles.parse(lines.get(0)).has("rows"));
            assertEquals(whole.get("columns"), MemoryFiles.parse(lines.get(0)).get("columns"));
            assertEquals(
                    StreamSupport.stream(whole.get("columns").spliterator(), false)
                            .map(c -> c.get("name").asText())
                            .collect(Collectors.joining(",")),
                    rows.get(0));
            for (int i = 0; i < records; i++) {
                assertEquals(whole.get("rows").get(i), MemoryFiles.parse(lines.get(i + 1)));
            }
        }
    }

    /** Dataset-JSON 1.1: required attributes; a numeric date is a string of data type date with a target of integer. */
    @Test
    void theDescriptionOfAFileIsThatOfTheStandard() {
        JsonNode adhand = files(clinic(EPISODES, FORMS).sent(days())).json("data/adhand.json");
        assertEquals("1.1.0", adhand.get("datasetJSONVersion").asText());
        assertEquals(
                "2026-11-25T00:00:00", adhand.get("datasetJSONCreationDateTime").asText());
        assertEquals("a program", adhand.at("/sourceSystem/name").asText());
        assertEquals("1.0", adhand.at("/sourceSystem/version").asText());
        assertEquals("IG.ADHAND", adhand.get("itemGroupOID").asText());
        Map<String, JsonNode> columns = StreamSupport.stream(
                        adhand.get("columns").spliterator(), false)
                .collect(Collectors.toMap(c -> c.get("name").asText(), c -> c));
        assertEquals("date", columns.get("ADT").get("dataType").asText());
        assertEquals("integer", columns.get("ADT").get("targetDataType").asText());
        assertEquals("E8601DA.", columns.get("ADT").get("displayFormat").asText());
        assertEquals("double", columns.get("AVAL").get("dataType").asText());
        assertEquals(1, columns.get("STUDYID").get("keySequence").asInt());
        assertFalse(columns.get("AVAL").has("keySequence"));
    }

    @Test
    void itIsToldWhatIsHeldAndWhatTheReceiverHasToAdd() {
        CdiscFiles.Written written = CdiscFiles.writeSdtm(
                clinic(EPISODES, FORMS).sent(days()), SentRecords.NONE, SETTINGS, new MemoryFiles());
        Set<String> notHeld = names(written.notHeld());
        assertTrue(notHeld.containsAll(Set.of("DM.ARM", "DM.RACE", "DM.RFICDTC", "QS.QSLOBXFL")), notHeld.toString());
        Set<String> left = names(written.left());
        assertTrue(left.containsAll(Set.of("DM.USUBJID", "QS.QSSTRESC", "SUPPQS.QVAL")), left.toString());
        assertFalse(left.contains("DM.AGE"), "no column of the profile");
        List<String> both = new ArrayList<>(left);
        both.retainAll(notHeld);
        assertEquals(List.of(), both);
        assertTrue(names(written.dictionary()).containsAll(left));
    }

    private static Set<String> names(List<DictionaryEntry> entries) {
        return entries.stream().map(e -> e.file() + "." + e.field()).collect(Collectors.toSet());
    }

    @Test
    void namesLongerThanTheStandardAllowsAreRefused() {
        assertThrows(IllegalArgumentException.class, () -> CdiscNames.requireName("NINECHARS"));
        assertThrows(IllegalArgumentException.class, () -> CdiscNames.requireName("1ST"));
        assertEquals("EIGHTCH8", CdiscNames.requireName("EIGHTCH8"));
        assertEquals("abc", CdiscNames.limited("abcd", 3));
        assertEquals("abc", CdiscNames.limited("abc", 3));
        String forty = "x".repeat(40);
        assertEquals(forty, Variable.text("A", forty, "ours").label());
        assertThrows(IllegalArgumentException.class, () -> Variable.text("A", forty + "x", "ours"));
        assertThrows(IllegalArgumentException.class, () -> Variable.text("A", " ", "ours"));
        List<Variable> one = List.of(Variable.text("A", "a", "ours"));
        assertThrows(
                IllegalArgumentException.class,
                () -> Dataset.of("D", forty + "x", Dataset.Form.OURS, one, (taker, positions) -> {}));
        assertThrows(
                IllegalArgumentException.class,
                () -> Dataset.of(
                        "D", "d", Dataset.Form.OURS, List.of(one.get(0), one.get(0)), (taker, positions) -> {}));
        assertThrows(IllegalArgumentException.class, () -> new Dataset.Row(Dataset.positions(one)).set("B", "x"));
    }
}
