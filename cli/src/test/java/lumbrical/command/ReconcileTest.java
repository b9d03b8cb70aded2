package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Double entry, with tables small enough to compare by hand (invented). */
class ReconcileTest {
    private static final String HEADER = "patient,completed_on,side,quickdash_1,quickdash_2,quickdash_3,quickdash_4,"
            + "quickdash_5,quickdash_6,quickdash_7,quickdash_8,quickdash_9,quickdash_10,quickdash_11\n";
    private static final String FIRST = HEADER
            + "P1,2026-01-02,right,3,3,3,3,3,3,3,3,3,3,3\n"
            + "P2,2026-01-03,left,2,2,2,2,2,2,2,2,2,2,2\n"
            + "P3,2026-01-04,left,2,2,2,2,2,2,2,,,,\n";
    private static final String COLUMNS =
            "patient,completed_on,side,episode,column,kind,first,second,scores_first,scores_second,row_first,row_second,hint,"
                    + "decision,value\r\n";

    @TempDir
    private Path folder;

    private Run reconcile(String first, String second, String... more) throws IOException {
        Files.writeString(folder.resolve("first.csv"), first);
        Files.writeString(folder.resolve("second.csv"), second);
        List<String> args = new ArrayList<>(List.of(
                "reconcile",
                folder.resolve("first.csv").toString(),
                folder.resolve("second.csv").toString(),
                "--as-of",
                "2026-11-25"));
        args.addAll(List.of(more));
        return Run.of(args);
    }

    private String at(String name) {
        return folder.resolve(name).toString();
    }

    private String decisions(String rows) throws IOException {
        return Files.writeString(folder.resolve("decisions.csv"), COLUMNS + rows)
                .toString();
    }

    /**
     * By hand: eleven times 3 is 50; with one 5 the mean is 35 / 11, so the score is (35/11 - 1) x 25 = 54.545454...; 29 cells are
     * filled. The interval of 1 in 29 is the reference value of scipy and statsmodels in shared/reference (0.00611321, 0.17175522).
     */
    @Test
    void listsACellWithBothEntriesAndWhatEachDoesToTheScore() throws IOException {
        Run run = reconcile(FIRST, FIRST.replace("right,3,3,3,3", "right,3,3,3,5"));
        assertEquals(1, run.status());
        assertEquals(
                COLUMNS + "P1,2026-01-02,right,,quickdash_4,different,3,5,total 50,total 54.545455,2,2,,,\r\n",
                run.out());
        assertTrue(
                run.err()
                        .contains("days of patients: in both 3, only in the first 0, only in the second 0, not compared"
                                + " (entered twice"
                                + " in one table) 0"),
                run.err());
        assertTrue(
                run.err()
                        .contains("fields compared 29, different 1: 34.483 per 1,000 (95 % interval 6.113 to 171.755,"
                                + " Wilson)"),
                run.err());
        assertTrue(run.err().contains("differences 1: decided 0, open 1"), run.err());
    }

    @Test
    void aTableAgreesWithItself() throws IOException {
        Run run = reconcile(FIRST, FIRST, "--out", at("agreed.csv"));
        assertEquals(0, run.status(), run.err());
        assertEquals(COLUMNS, run.out());
        assertEquals(
                FIRST.replace("\n", "\r\n"),
                Files.readString(folder.resolve("agreed.csv")).replace(",episode", ""));
    }

    @Test
    void whatMeansTheSameIsNoDifference() throws IOException {
        String second = FIRST.replace("P1,2026-01-02,right,3,", " P1 ,2026-01-02,R,3.0,")
                .replace(",", ";");
        Run run = reconcile(FIRST, second);
        assertEquals(0, run.status(), run.err() + run.out());
    }

    @Test
    void rowsAndColumnsMayStandInAnotherOrderAndLayout() throws IOException {
        StringBuilder longer = new StringBuilder("response,item,instrument,side,completed_on,patient\n");
        for (int item = 11; item >= 1; item--) {
            longer.append("3,").append(item).append(",quickdash,right,2026-01-02,P1\n");
        }
        Run run = reconcile(FIRST.lines().limit(2).reduce("", (a, b) -> a + b + "\n"), longer.toString());
        assertEquals(0, run.status(), run.err() + run.out());
        assertTrue(run.err().contains("fields compared 11, different 0"), run.err());
    }

    @Test
    void disagreeingCellsStayBlankUntilTheyAreDecided() throws IOException {
        String second = FIRST.replace("right,3,3,3,3", "right,3,3,4,5");
        reconcile(FIRST, second, "--out", at("agreed.csv"));
        String agreed = Files.readString(folder.resolve("agreed.csv"));
        assertTrue(agreed.contains("P1,2026-01-02,right,3,3,,,3,3,3,3,3,3,3\r\n"), agreed);
        String file = decisions("P1,2026-01-02,right,,quickdash_3,different,3,4,,,2,2,,second,\n"
                + "P1,2026-01-02,right,,quickdash_4,different,3,5,,,2,2,,value,1\n");
        Run run = reconcile(FIRST, second, "--out", at("agreed.csv"), "--overwrite", "--decisions", file);
        assertEquals(0, run.status(), run.err());
        agreed = Files.readString(folder.resolve("agreed.csv"));
        assertTrue(agreed.contains("P1,2026-01-02,right,3,3,4,1,3,3,3,3,3,3,3\r\n"), agreed);
        assertTrue(run.err().contains("differences 2: decided 2, open 0"), run.err());
    }

    @Test
    void theTableOfDifferencesIsTheFormForDecisions() throws IOException {
        String second = FIRST.replace("right,3,3,3,3", "right,3,3,4,5");
        reconcile(FIRST, second, "--differences", at("differences.csv"));
        String filled = Files.readString(folder.resolve("differences.csv")).replace(",2,2,,,\r\n", ",2,2,,first,\r\n");
        Files.writeString(folder.resolve("differences.csv"), filled);
        Run run = reconcile(FIRST, second, "--decisions", at("differences.csv"), "--out", at("agreed.csv"));
        assertEquals(0, run.status(), run.err());
        assertTrue(Files.readString(folder.resolve("agreed.csv")).contains("right,3,3,3,3,3,3,3,3,3,3,3\r\n"));
    }

    /** By hand: 11 and 11 and 7 cells are filled, 10 and 11 and 8 in the second; the day itself is no counted field. */
    @Test
    void oneMistypedDayIsOneDecision() throws IOException {
        String second =
                FIRST.replace("P2,2026-01-03", "P2,2026-01-30").replace("left,2,2,2,2,2,2,2,2", "left,2,2,2,2,2,2,2,3");
        Run run = reconcile(FIRST, second, "--out", at("agreed.csv"), "--differences", at("differences.csv"));
        assertEquals(
                COLUMNS + "P2,2026-01-03,left,,completed_on,different,2026-01-03,2026-01-30,,,3,3,,,\r\n"
                        + "P2,2026-01-03,left,,quickdash_8,different,2,3,total 25,total 27.272727,3,3,,,\r\n",
                Files.readString(folder.resolve("differences.csv")));
        assertTrue(run.err().contains("fields compared 29, different 1"), run.err());
        assertTrue(run.err().contains("days of patients: in both 3, only in the first 0"), run.err());
        assertTrue(Files.readString(folder.resolve("agreed.csv")).contains("P2,,left,2,2,2,2,2,2,2,,2,2,2\r\n"));
        String file = decisions("P2,03.01.2026,left,,completed_on,different,03.01.2026,30.01.2026,,,3,3,,second,\n"
                + "P2,03.01.2026,left,,quickdash_8,different,2,3,,,3,3,,first,\n");
        Run decided = reconcile(FIRST, second, "--out", at("agreed.csv"), "--overwrite", "--decisions", file);
        assertEquals(0, decided.status(), decided.err());
        assertTrue(Files.readString(folder.resolve("agreed.csv"))
                .contains("P2,2026-01-30,left,2,2,2,2,2,2,2,2,2,2,2\r\n"));
        String value =
                decisions("P2,2026-01-03,left,,completed_on,different,2026-01-03,2026-01-30,,,3,3,,value,13.01.2026\n");
        reconcile(FIRST, second, "--out", at("agreed.csv"), "--overwrite", "--decisions", value);
        assertTrue(Files.readString(folder.resolve("agreed.csv")).contains("P2,2026-01-13,left"));
        String blank = decisions("P2,2026-01-03,left,,completed_on,different,2026-01-03,2026-01-30,,,3,3,,blank,\n");
        Run refused = reconcile(FIRST, second, "--decisions", blank);
        assertEquals(2, refused.status());
        assertTrue(refused.err().contains("a form needs its day"), refused.err());
    }

    @Test
    void sittingsWithOtherAnswersAreNotTakenForOneMistyped() throws IOException {
        Run run = reconcile(FIRST, FIRST.replace("P2,2026-01-03,left,2,2,2", "P2,2026-01-30,left,1,1,1"));
        assertTrue(run.out().contains("sitting-only-first"), run.out());
        assertTrue(run.out().contains("sitting-only-second"), run.out());
    }

    @Test
    void cellsAndSittingsThatOnlyOneTableHasAreListed() throws IOException {
        String second = HEADER
                + "P1,2026-01-02,right,3,3,3,3,3,3,3,3,3,3,\n"
                + "P2,2026-01-30,left,4,4,4,4,2,2,2,2,2,2,2\n"
                + "P3,2026-01-04,left,2,2,2,2,2,2,2,1,,,\n";
        Run run = reconcile(FIRST, second, "--out", at("agreed.csv"));
        assertEquals(1, run.status());
        assertEquals(
                COLUMNS
                        + "P1,2026-01-02,right,,quickdash_11,only-first,3,,total 50,total 50,2,2,,,\r\n"
                        + "P3,2026-01-04,left,,quickdash_8,only-second,,1,total too-few-answered,total too-few-answered,4,4,,,\r\n"
                        + "P2,2026-01-03,left,,*,sitting-only-first,,,,,3,,"
                        + "\"perhaps the forms in second.csv row 3: patient, day or side differ\",,\r\n"
                        + "P2,2026-01-30,left,,*,sitting-only-second,,,,,,3,"
                        + "\"perhaps the forms in first.csv row 3: patient, day or side differ\",,\r\n",
                run.out());
        String agreed = Files.readString(folder.resolve("agreed.csv"));
        assertFalse(agreed.contains("P2"), agreed);
        assertTrue(agreed.contains("P3,2026-01-04,left,2,2,2,2,2,2,2,,,,\r\n"), agreed);
        String file = decisions("P2,2026-01-03,left,,*,sitting-only-first,,,,,3,,,first,\n"
                + "P2,2026-01-30,left,,*,sitting-only-second,,,,,,3,,blank,\n");
        Run decided = reconcile(FIRST, second, "--out", at("agreed.csv"), "--overwrite", "--decisions", file);
        assertTrue(decided.err().contains("differences 4: decided 2, open 2"), decided.err());
        agreed = Files.readString(folder.resolve("agreed.csv"));
        assertTrue(agreed.contains("P2,2026-01-03,left,2,2,2,2,2,2,2,2,2,2,2\r\n"), agreed);
        assertFalse(agreed.contains("2026-01-30"), agreed);
    }

    @Test
    void aSittingEnteredTwiceInOneTableIsNotCompared() throws IOException {
        Run run = reconcile(FIRST + "P1,2026-01-02,right,4,3,3,3,3,3,3,3,3,3,3\n", FIRST);
        assertEquals(1, run.status());
        assertTrue(
                run.err()
                        .contains(
                                "first.csv row 5, column quickdash_1: duplicate-sitting. The forms of this patient"
                                        + " and day stand twice in this"
                                        + " table, first in first.csv row 2, with different entries. They are not compared. Remove the wrong row."),
                run.err());
        assertTrue(run.err().contains("not compared (entered twice in one table) 1"), run.err());
        assertTrue(
                run.err()
                        .contains(
                                "first.csv: rows read 4 = compared 4 + rejected 0; days of patients (sittings)" + " 3"),
                run.err());
    }

    @Test
    void severalSittingsOfADayArePairedByTime() throws IOException {
        String header = "patient,completed_on,side,sane_1\n";
        String morning = "P1,2026-01-02T08:00,right,40\n";
        String evening = "P1,2026-01-02T18:00,right,60\n";
        Run run = reconcile(header + morning + evening, header + evening + morning);
        assertEquals(0, run.status(), run.out() + run.err());
        assertTrue(run.err().contains("days of patients: in both 2"), run.err());
    }

    @Test
    void columnsOfOneTableAreListedAndNotCounted() throws IOException {
        Run run = reconcile(
                "patient,completed_on,sane_1,mode,remark\nP1,2026-01-02,40,web,secret\n",
                "patient,completed_on,sane_1\nP1,2026-01-02,40\n");
        assertTrue(run.err().contains("columns not compared, first.csv: remark"), run.err());
        assertTrue(
                run.err().contains("columns in one table only (their cells are listed, not counted): mode"), run.err());
        assertTrue(run.err().contains("fields compared 1, different 0: 0.000 per 1,000"), run.err());
        assertTrue(run.out().contains("P1,2026-01-02,,,mode,only-first,web,,,,2,2,,,"), run.out());
        assertFalse((run.out() + run.err()).contains("secret"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            textBlock =
                    """
                    quickdash_5,different,3,3,,,2,2,,first,|row 2: the tables do not differ here.
                    quickdash_4,different,3,4,,,2,2,,first,|row 2: the entries are not those of the tables any more.
                    quickdash_4,different,3,5,,,2,2,,third,|row 2, column decision: write first, second or blank;
                    quickdash_4,different,3,5,,,2,2,,value,|row 2, column value: write what the form says.
                    quickdash_4,different,3,5,,,2,2,,first,4|row 2, column value: leave it blank,
                    """)
    void aDecisionWithAFaultIsRefused(String row, String message) throws IOException {
        String second = FIRST.replace("right,3,3,3,3", "right,3,3,3,5");
        Run run = reconcile(
                FIRST,
                second,
                "--decisions",
                decisions("P1,2026-01-02,right,," + row + "\n"),
                "--out",
                at("agreed.csv"));
        assertEquals(2, run.status(), run.err());
        assertTrue(run.err().startsWith("decisions.csv " + message), run.err());
        assertFalse(Files.exists(folder.resolve("agreed.csv")));
    }

    @Test
    void aCellDecidedTwiceIsRefused() throws IOException {
        String second = FIRST.replace("right,3,3,3,3", "right,3,3,3,5");
        String row = "P1,2026-01-02,right,,quickdash_4,different,3,5,,,2,2,,first,\n";
        Run run = reconcile(FIRST, second, "--decisions", decisions(row + row));
        assertEquals(2, run.status());
        assertTrue(run.err().contains("decisions.csv row 3: this cell is decided twice. Keep one row."), run.err());
    }

    @Test
    void theAgreedTableCanBeScored() throws IOException {
        reconcile(FIRST, FIRST.replace("right,3,3,3,3", "right,3,3,3,5"), "--out", at("agreed.csv"));
        Run run = Run.of(List.of("score", at("agreed.csv"), "--as-of", "2026-11-25"));
        assertEquals(0, run.status());
        assertTrue(run.out().contains("P1,,right,2026-01-02,,quickdash,total,50,with-missing,,11,10,"), run.out());
    }
}
