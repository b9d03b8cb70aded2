package lumbrical.cdisc;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;
import lumbrical.deidentify.DeidentifiedDataset;
import lumbrical.deidentify.Profile;
import lumbrical.deidentify.SentRecords;
import lumbrical.sending.InventedClinic;
import lumbrical.sending.MemoryFiles;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * CDISC records of one invented patient with two episodes, every expected value counted by hand on the default schedule: baseline from day
 * -90 to 0, target 0; then days 7 to 27, target 14. Study days: no day 0 (from memory). Weeks are rounded down.
 */
class CdiscByHandTest {
    @TempDir
    private static Path folder;

    private static MemoryFiles days;
    private static MemoryFiles weeks;

    @BeforeAll
    static void write() {
        String episodes =
                """
                patient,episode,treated_side,index_date,sex,birth_year
                A,first,right,2025-01-10,female,1980
                A,second,left,2025-06-01,female,1980
                """;
        List<String> rows = new ArrayList<>(List.of("patient,completed_on,side,episode,instrument,item,response"));
        rows.add("A,2025-01-02,right,first,sane,1,40"); // day -8
        rows.add("A,2025-01-02,,first,griptasks,key_right,1");
        rows.add("A,2025-01-02,,first,griptasks,pinch_right,2");
        rows.add("A,2025-01-09,right,first,sane,1,50"); // day -1
        rows.add("A,2025-01-09,,first,griptasks,key_right,3");
        rows.addAll(quickDash("2025-01-09", 9)); // 10 are needed
        rows.add("A,2025-01-14,right,first,sane,1,55"); // day 4, between the windows
        rows.add("A,2025-01-15,right,first,sane,1,56"); // day 5
        rows.add("A,2025-01-20,right,first,sane,1,60"); // day 10
        rows.addAll(quickDash("2025-01-20", 10));
        rows.add("A,2025-05-30,left,second,sane,1,70"); // day -2 of the second
        InventedClinic clinic = InventedClinic.of(folder, episodes, String.join("\n", rows) + "\n");
        days = files(clinic.sent(profile(Profile.Dates.DAYS_FROM_INDEX)));
        weeks = files(clinic.sent(profile(Profile.Dates.WEEKS_FROM_INDEX)));
    }

    /** Items 1 to {@code answered} of eleven, each answered with 2. */
    private static List<String> quickDash(String date, int answered) {
        return IntStream.rangeClosed(1, answered)
                .mapToObj(i -> "A," + date + ",right,first,quickdash," + i + ",2")
                .toList();
    }

    private static Profile profile(Profile.Dates dates) {
        return InventedClinic.profile(dates, InventedClinic.column("sex", "female"), InventedClinic.column("age"));
    }

    private static MemoryFiles files(DeidentifiedDataset shipment) {
        MemoryFiles files = new MemoryFiles();
        CdiscFiles.CdiscSettings settings = new CdiscFiles.CdiscSettings("lumbrical 0.2.0", true, "");
        CdiscFiles.writeSdtm(shipment, SentRecords.NONE, settings, files);
        CdiscFiles.writeAdam(shipment, SentRecords.NONE, settings, files);
        return files;
    }

    @Test
    void distancesCountThroughTheIndexDateInDays() {
        assertEquals(
                List.of(
                        "40 | -8 | 1 | 8 | -90 to 1 | DAYS | baseline | 1",
                        "50 | -1 | 1 | 1 | -90 to 1 | DAYS | baseline | 1",
                        "55 | 5 | - | - | - | - | unscheduled 1.001 | 1.001",
                        "56 | 6 | - | - | - | - | unscheduled 1.002 | 1.002",
                        "60 | 11 | 15 | 4 | 8 to 28 | DAYS | 2 weeks | 2",
                        "70 | -2 | 1 | 2 | -90 to 1 | DAYS | baseline | 1"),
                days.of(
                        "adhand",
                        "PARAMCD",
                        "SANET1",
                        "AVAL",
                        "ADY",
                        "AWTARGET",
                        "AWTDIFF",
                        "AWRANGE",
                        "AWU",
                        "AVISIT",
                        "AVISITN"));
    }

    @Test
    void windowsAndDistancesAreInWeeksWhereWeeksAreSent() {
        assertEquals(
                List.of(
                        "40 | - | - | -2 | 0 | 2 | -13 | 0 | WEEKS",
                        "50 | - | - | -1 | 0 | 1 | -13 | 0 | WEEKS",
                        "55 | - | - | 0 | - | - | - | - | -",
                        "56 | - | - | 0 | - | - | - | - | -",
                        "60 | - | - | 1 | 2 | 1 | 1 | 3 | WEEKS",
                        "70 | - | - | -1 | 0 | 1 | -13 | 0 | WEEKS"),
                weeks.of(
                        "adhand",
                        "PARAMCD",
                        "SANET1",
                        "AVAL",
                        "ADY",
                        "ADT",
                        "AWEEK",
                        "AWTARGET",
                        "AWTDIFF",
                        "AWLO",
                        "AWHI",
                        "AWU"));
        // days 4 and 5 are both week 0: as it is sent one visit, of which two forms have an item and a score each
        assertEquals(
                Collections.nCopies(4, "unscheduled 1.001 | - | - | -"),
                weeks.of("qs", "VISITNUM", "1.001", "VISIT", "VISITDY", "QSDY", "QSBLFL"));
    }

    /** Days 4 and 5 lie between the windows: 55 - 50 is 5, a tenth of 50. What came before the baseline has none. */
    @Test
    void everyRecordAfterTheBaselineHasItsBaseline() {
        assertEquals(
                List.of(
                        "40 | - | - | - | baseline | -",
                        "50 | 50 | - | - | baseline | -",
                        "55 | 50 | 5 | 10 | unscheduled 1.001 | -",
                        "56 | 50 | 6 | 12 | unscheduled 1.002 | -",
                        "60 | 50 | 10 | 20 | 2 weeks | not-assessable",
                        "70 | 70 | - | - | baseline | -"),
                days.of("adhand", "PARAMCD", "SANET1", "AVAL", "BASE", "CHG", "PCHG", "AVISIT", "VERDICT"));
    }

    @Test
    void eachEpisodeHasItsBaseline() {
        assertEquals(List.of("50 | 50 | -", "70 | 70 | -"), days.of("adhand", "ABLFL", "Y", "AVAL", "BASE", "CHG"));
        assertEquals(
                List.of("60 | 50 | 10 | 20"),
                days.of("adhand", "AVISIT", "2 weeks", "AVAL", "BASE", "CHG", "PCHG").stream()
                        .filter(line -> line.startsWith("60"))
                        .toList());
        assertEquals(
                2,
                days.of("adhand", "ABLFL", "Y", "BASETYPE").stream().distinct().count());
        List<String> expected = new ArrayList<>(List.of(
                "GRIP01 | 3 | -1",
                "GRIP03 | 2 | -8",
                "SANE01 | 50 | -1",
                "SANE01 | 70 | -2",
                "SANET1 | 50 | -1",
                "SANET1 | 70 | -2"));
        for (int item = 1; item <= 9; item++) { // two were left blank, and nine do not make a score
            expected.add("QDSH0" + item + " | 2 | -1");
        }
        assertEquals(expected.stream().sorted().toList(), days.of("qs", "QSBLFL", "Y", "QSTESTCD", "QSSTRESC", "QSDY"));
    }

    @Test
    void aScoreUnderAMissingItemRuleTellsTheRuleAndHasNoRecordInQs() {
        // (mean of ten answers of 2, less 1) x 25 = 25
        assertEquals(
                List.of("- | - | QS | QSSTRESN", "25 | MEAN OF ANSWERED ITEMS | - | -"),
                days.of("adhand", "PARAMCD", "QDSHT1", "AVAL", "DTYPE", "SRCDOM", "SRCVAR"));
        assertEquals(List.of("NOT DONE | -1"), days.of("qs", "QSTESTCD", "QDSHT1", "QSSTAT", "QSDY"));
        assertEquals(
                List.of("Single Assessment Numeric Evaluation: Rating"),
                days.of("adhand", "PARAMCD", "SANET1", "PARAM").stream()
                        .distinct()
                        .toList());
    }

    @Test
    void aSubjectHasOneRecordAndWhatIsNotHeldIsMissing() {
        // born in 1980: 45 in 2025 at both index dates
        assertEquals(
                List.of("F | 45 | YEARS | CLINIC | - | - | - | -"),
                days.of("dm", "DOMAIN", "DM", "SEX", "AGE", "AGEU", "SITEID", "RFSTDTC", "RACE", "ARM", "COUNTRY"));
        assertEquals(
                List.of("F | 45 | YEARS | -"), days.of("adsl", "SITEID", "CLINIC", "SEX", "AGE", "AGEU", "TRT01P"));
    }
}
