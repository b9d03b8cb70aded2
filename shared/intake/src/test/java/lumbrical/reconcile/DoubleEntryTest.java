package lumbrical.reconcile;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Double data entry: what is compared, counted and agreed. Each scale of the NPRS, and that of the GRC, is its one item itself. */
class DoubleEntryTest {
    private static final String HEADER = "patient,completed_on,side,episode,nprs_rest,nprs_worst,grc_1";
    private static final String DECIDED = "patient,completed_on,side,episode,column,first,second,decision,value";

    @TempDir
    private Path folder;

    /** P1 differs in one cell, P2 in two, P3 in its day; P4 stands in the second table alone. */
    private DoubleEntry clinic() {
        return new DoubleEntry(
                folder,
                List.of(
                        HEADER,
                        "P1,2026-03-09,right,E1,3,8,1",
                        "P2,2026-03-09,right,,4,,2",
                        "P3,2026-03-09,left,,5,5,"),
                List.of(
                        HEADER,
                        "P1,2026-03-09,right,E1,3.0,7,1",
                        "P2,2026-03-09,right,,4,6,",
                        "P3,2026-03-10,left,,5,5,",
                        "P4,2026-03-09,right,,1,1,1"));
    }

    @Test
    void theTablesHaveTheirColumns() {
        assertEquals(
                List.of(
                        "patient",
                        "completed_on",
                        "side",
                        "episode",
                        "column",
                        "kind",
                        "first",
                        "second",
                        "scores_first",
                        "scores_second",
                        "row_first",
                        "row_second",
                        "hint",
                        "decision",
                        "value"),
                DifferenceTable.TABLE.headings());
        assertEquals(
                "patient|completed_on|side|episode|nprs_rest|nprs_worst|grc_1",
                clinic().agreed().get(0));
    }

    @Test
    void differencesAreListedWithTheScoresTheyBearOn() {
        assertEquals(
                List.of(
                        "P1|2026-03-09|right|E1|nprs_worst|different|8|7|worst 8|worst 7|2|2|||",
                        "P2|2026-03-09|right||nprs_worst|only-second||6|worst no-answers|worst 6|3|3|||",
                        "P2|2026-03-09|right||grc_1|only-first|2||total 2|total no-answers|3|3|||",
                        "P3|2026-03-09|left||completed_on|different|2026-03-09|2026-03-10|||4|4|||",
                        "P4|2026-03-09|right||*|sitting-only-second||||||5|||"),
                clinic().differences());
    }

    /** P1: episode and three items; P2: three items, of which one table left each of two blank; P3: two items: 4 + 3 + 2. */
    @Test
    void theErrorRateCountsFilledFieldsOfPairedSittings() {
        Comparison comparison = clinic().comparison;
        assertEquals(3, comparison.paired());
        assertEquals(0, comparison.onlyInFirst());
        assertEquals(1, comparison.onlyInSecond());
        assertEquals(0, comparison.contradictory());
        assertEquals(9, comparison.fields());
        assertEquals(3, comparison.differing());
        assertEquals(List.of(), comparison.unsharedColumns());
        Comparison.Rate rate = comparison.rate().orElseThrow();
        assertEquals(1000.0 / 3, rate.perThousand(), 1e-9);
        // Wilson's limits of 3 of 9, by the formula
        assertEquals(120.584, rate.low(), 1e-3);
        assertEquals(645.798, rate.high(), 1e-3);
    }

    @Test
    void ofNothingComparedThereIsNoRate() {
        DoubleEntry nothing = new DoubleEntry(
                folder, List.of(HEADER, "P1,2026-03-09,right,,,,"), List.of(HEADER, "P1,2026-03-09,right,,,,"));
        assertEquals(Optional.empty(), nothing.comparison.rate());
        assertEquals(List.of(), nothing.differences());
    }

    /** quickDASH, eleven times 3: 50; ten times 3 and a 5: (35 / 11 - 1) x 25 = 54.545455. */
    @Test
    void theScoreOfAFormShowsWhatADifferenceBears() {
        String header = "patient,completed_on,side";
        for (int i = 1; i <= 11; i++) {
            header += ",quickdash_" + i;
        }
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of(header, "P1,2026-03-09,right,3,3,3,3,3,3,3,3,3,3,3"),
                List.of(header, "P1,2026-03-09,right,3,3,3,3,3,3,3,3,3,3,5"));
        assertEquals(
                List.of("P1|2026-03-09|right||quickdash_11|different|3|5|total 50|total 54.545455|2|2|||"),
                entry.differences());
    }

    /** MHQ function, right: five times 1 is 100; one 5 instead: (25 - 9) / 20 x 100 = 80; with the left hand's 0 the mean is 50 or 40. */
    @Test
    void aDifferenceOfOneHandBearsOnThatHandAndOnBoth() {
        StringBuilder header = new StringBuilder("patient,completed_on,side");
        for (String hand : List.of("right", "left")) {
            for (int i = 1; i <= 5; i++) {
                header.append(",mhq_function_").append(i).append('_').append(hand);
            }
        }
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of(header.toString(), "P1,2026-03-09,both,1,1,1,1,1,5,5,5,5,5"),
                List.of(header.toString(), "P1,2026-03-09,both,5,1,1,1,1,5,5,5,5,5"));
        assertEquals(1, entry.differences().size());
        String difference = entry.differences().get(0);
        assertTrue(
                difference.startsWith(
                        "P1|2026-03-09|both||mhq_function_1_right|different|1|5|function right 100; function both 50"),
                difference);
        assertTrue(difference.contains("|function right 80; function both 40"), difference);
    }

    @Test
    void columnsOfOneTableAloneAreListedAndNotCounted() {
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of("patient,completed_on,nprs_rest,mode", "P1,2026-03-09,3,paper"),
                List.of("patient,completed_on,nprs_rest,grc_1", "P1,2026-03-09,3,1"));
        assertEquals(
                List.of(
                        "P1|2026-03-09|||mode|only-first|paper||||2|2|||",
                        "P1|2026-03-09|||grc_1|only-second||1|total no-answers|total 1|2|2|||"),
                entry.differences());
        assertEquals(List.of("mode", "grc_1"), entry.comparison.unsharedColumns());
        assertEquals(1, entry.comparison.fields());
        assertEquals(0, entry.comparison.differing());
        assertEquals(1, entry.first.size());
        assertEquals("first.csv", entry.first.name());
        assertEquals(1, entry.second.summary().rows());
    }

    @Test
    void aTextThatIsNoResponseIsComparedAsItStands() {
        DoubleEntry entry = new DoubleEntry(
                folder, List.of(HEADER, "P1,2026-03-09,right,,x,11,"), List.of(HEADER, "P1,2026-03-09,right,,y,11,"));
        assertEquals(
                List.of(
                        "P1|2026-03-09|right||nprs_rest|different|x|y|rest response-not-allowed|rest response-not-allowed|2|2|||"),
                entry.differences());
        assertEquals(4, entry.problems.size(), "each is told");
    }

    @Test
    void aTableThatContradictsItselfIsNotCompared() {
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of(
                        HEADER,
                        "P1,2026-03-09,right,E1,3,8,1",
                        "P1,2026-03-09,right,E1,4,8,1",
                        "P2,2026-03-09,right,,1,1,1",
                        "P2,2026-03-09,right,,1,1,1"),
                List.of(HEADER, "P1,2026-03-09,right,E1,3,8,1", "P2,2026-03-09,right,,1,1,1"));
        assertEquals(1, entry.comparison.contradictory());
        assertEquals(1, entry.comparison.paired(), "who is entered twice alike is one sitting");
        assertEquals(1, entry.comparison.onlyInSecond());
        assertEquals(
                List.of(
                        "first.csv row 3, column nprs_rest duplicate-sitting: The forms of this patient and day stand twice in this table, first in"
                                + " first.csv row 2, with different entries. They are not compared. Remove the wrong row."),
                entry.problems.stream()
                        .filter(p -> !p.isNote())
                        .map(p -> p.place() + " " + p.code().code() + ": " + p.advice())
                        .toList());
    }

    @Test
    void severalSittingsOfADayArePairedByTimeAndEpisode() {
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of(
                        HEADER,
                        "P1,2026-03-09T08:00,right,,1,1,1",
                        "P1,2026-03-09T12:00,right,,2,2,2",
                        "P2,2026-03-09T08:00,right,,3,3,3"),
                List.of(
                        HEADER,
                        "P1,2026-03-09T12:00,right,,2,2,2",
                        "P1,2026-03-09T09:00,right,,1,1,1",
                        "P2,2026-03-09,right,,3,3,3"));
        assertEquals(2, entry.comparison.paired(), "a single sitting of a day needs no time");
        assertEquals(
                List.of(
                        "P1|2026-03-09T08:00|right||*|sitting-only-first|||||2||||",
                        "P1|2026-03-09T09:00|right||*|sitting-only-second||||||3|||"),
                entry.differences());
    }

    /** Two sittings of the second table come into question, or too few cells are the same: nobody guesses. */
    @Test
    void aMistypedKeyIsPairedOnlyWhereNoOtherComesIntoQuestion() {
        DoubleEntry two = new DoubleEntry(
                folder,
                List.of(HEADER, "P1,2026-03-09,right,,1,1,1"),
                List.of(HEADER, "P1,2026-03-10,right,,1,1,1", "P1,2026-03-11,right,,1,1,1"));
        assertEquals(0, two.comparison.paired());
        assertEquals("", two.comparison.differences().get(0).hint());
        assertEquals(
                "perhaps the forms in first.csv row 2: patient, day or side differ",
                two.comparison.differences().get(1).hint());
        DoubleEntry unlike = new DoubleEntry(
                folder,
                List.of(HEADER, "P1,2026-03-09,right,E1,1,1,1"),
                List.of(HEADER, "P1,2026-03-10,right,E1,1,2,2"));
        assertEquals(0, unlike.comparison.paired(), "two of four cells are the same, not three quarters");
        assertEquals(
                "perhaps the forms in second.csv row 2: patient, day or side differ",
                unlike.comparison.differences().get(0).hint());
        DoubleEntry alike = new DoubleEntry(
                folder,
                List.of(HEADER, "P1,2026-03-09,right,E1,1,1,1"),
                List.of(HEADER, "P1,2026-03-09,left,E1,1,1,2"));
        assertEquals(1, alike.comparison.paired(), "three of four");
        assertEquals(
                List.of(
                        "P1|2026-03-09|right|E1|side|different|right|left|||2|2|||",
                        "P1|2026-03-09|right|E1|grc_1|different|1|2|total 1|total 2|2|2|||"),
                alike.differences());
    }

    @Test
    void untilItIsDecidedACellIsBlankAndASittingLeftOut() {
        assertEquals(
                List.of("P1|2026-03-09|right|E1|3||1", "P2|2026-03-09|right||4||", "P3||left||5|5|"),
                clinic().agreed().subList(1, 4));
        assertEquals(4, clinic().agreed().size());
    }

    @Test
    void decisionsSettleCellsDaysAndSittings() {
        assertEquals(
                List.of(
                        "P1|2026-03-09|right|E1|3|7|1",
                        "P2|2026-03-09|right||4||3",
                        "P3|2026-03-12|left||5|5|",
                        "P4|2026-03-09|right||1|1|1"),
                clinic().agreed(
                                DECIDED,
                                "P1,2026-03-09,right,E1,nprs_worst,8,7,Second,",
                                "P2,2026-03-09,right,,NPRS_WORST,,6,blank,",
                                "P2,2026-03-09,right,,grc_1,2,,value,3",
                                "P3,2026-03-09,left,,completed_on,2026-03-09,2026-03-10,value,12.03.2026",
                                "P4,2026-03-09,right,,*,,,second,")
                        .subList(1, 5));
        assertEquals(
                List.of("P3|2026-03-09|left||5|5|"),
                clinic().agreed(DECIDED, "P3,2026-03-09,left,,completed_on,2026-03-09,2026-03-10,first,")
                        .subList(3, 4));
        assertEquals(
                4,
                clinic().agreed(DECIDED, "P4,2026-03-09,right,,*,,,blank,", "P1,2026-03-09,right,E1,nprs_worst,8,7,,")
                        .size(),
                "a sitting that is decided to be none, and a row that decides nothing");
    }

    @Test
    void aSpreadsheetMayHaveWrittenDaysAndNumbersInItsOwnStyle() {
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of("patient,completed_on,sane_1", "P1,2026-03-19,66.5", "P2,2026-03-19,1"),
                List.of("patient,completed_on,sane_1", "P1,2026-03-19,67.5", "P2,2026-03-20,1"));
        assertEquals(
                List.of("P1|2026-03-19||67.5", "P2|2026-03-20||1"),
                entry.agreed(
                                DECIDED,
                                "P1,19.03.2026,,,sane_1,\"66,5\",\"67,5\",second,",
                                "P2,19/03/2026,,,completed_on,19.03.2026,20.03.2026,second,")
                        .subList(1, 3));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            quoteCharacter = '`',
            value = {
                "P1,2026-03-09,right,E1,nprs_rest,3,3,first, | : the tables do not differ here. Decide in the table of differences as"
                        + " it is now.",
                "P1,2026-03-09,right,E1,nprs_worst,9,7,first, | : the entries are not those of the tables any more. Decide again in a"
                        + " new table.",
                "P1,2026-03-09,right,E1,nprs_worst,8,9,first, | : the entries are not those of the tables any more. Decide again in a"
                        + " new table.",
                "P1,2026-03-09,right,E1,nprs_worst,8,7,mine, | , column decision: write first, second or blank; or value, and what the"
                        + " form says under value.",
                "P1,2026-03-09,right,E1,nprs_worst,8,7,,5 | , column decision: write first, second or blank; or value, and what the"
                        + " form says under value.",
                "P1,2026-03-09,right,E1,nprs_worst,8,7,value, | , column value: write what the form says.",
                "P1,2026-03-09,right,E1,nprs_worst,8,7,first,5 | , column value: leave it blank, or write value under decision.",
                "P4,2026-03-09,right,,*,,,first, | , column decision: only the second table has these forms: write second to take it,"
                        + " or blank to leave it out.",
                "P3,2026-03-09,left,,completed_on,2026-03-09,2026-03-10,blank, | , column decision: a form needs its day: write"
                        + " first, second or value.",
                "P3,2026-03-09,left,,completed_on,2026-03-09,2026-03-10,value,03/04/2026 | , column value: write the day as"
                        + " year-month-day, such as 2026-03-09."
            })
    void aDecisionWithAFaultIsRefused(String row, String message) {
        assertEquals(
                "decisions.csv row 2" + message,
                assertThrows(UnreadableInputException.class, () -> clinic().agreed(DECIDED, row))
                        .getMessage());
    }

    @Test
    void aPatientCannotBeDecidedAwayAndACellNotTwice() {
        DoubleEntry entry = new DoubleEntry(
                folder,
                List.of(HEADER, "P1,2026-03-09,right,E1,1,1,1"),
                List.of(HEADER, "P7,2026-03-09,right,E1,1,1,1"));
        assertEquals(
                "decisions.csv row 2, column decision: a form needs its patient: write first, second or value.",
                assertThrows(
                                UnreadableInputException.class,
                                () -> entry.agreed(DECIDED, "P1,2026-03-09,right,E1,patient,P1,P7,blank,"))
                        .getMessage());
        assertEquals(
                "P7|2026-03-09|right|E1|1|1|1",
                entry.agreed(DECIDED, "P1,2026-03-09,right,E1,patient,P1,P7,second,")
                        .get(1));
        assertEquals(
                "decisions.csv row 3: this cell is decided twice. Keep one row.",
                assertThrows(UnreadableInputException.class, () -> clinic().agreed(
                                        DECIDED,
                                        "P1,2026-03-09,right,E1,nprs_worst,8,7,first,",
                                        "P1,2026-03-09,right,E1,nprs_worst,8,7,second,"))
                        .getMessage());
    }

    @Test
    void aValueThatTheItemDoesNotAllowLeavesTheDifferenceOpen() {
        DoubleEntry entry = clinic();
        assertEquals(
                "P1|2026-03-09|right|E1|3||1",
                entry.agreed(DECIDED, "P1,2026-03-09,right,E1,nprs_worst,8,7,value,11")
                        .get(1));
        assertEquals(
                List.of(
                        "decisions.csv row 2, column value [11] response-not-allowed: This is not taken for nprs_worst, and the"
                                + " difference stays open. Allowed responses are 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, or blank. Look at the form"
                                + " and correct the cell."),
                entry.problems.stream()
                        .map(p -> p.place() + " [" + p.value() + "] " + p.code().code() + ": " + p.advice())
                        .toList());
        assertEquals(
                "P1|2026-03-09|right|E1|3|9|1",
                clinic().agreed(DECIDED, "P1,2026-03-09,right,E1,nprs_worst,8,7,value,\"9,0\"")
                        .get(1));
    }

    @Test
    void aDifferenceIsOpenUntilItIsDecided() {
        Difference difference = clinic().comparison.differences().get(0);
        assertTrue(difference.open());
        assertTrue(!difference.decided(new Decision("first", "")).open());
        assertEquals("8", new Decision("first", "").settles(difference));
        assertEquals("7", new Decision("second", "").settles(difference));
        assertEquals("", new Decision("blank", "").settles(difference));
        assertEquals("5", new Decision("value", "5").settles(difference));
        assertEquals(List.of("first", "second", "blank", "value"), Decision.WORDS);
    }
}
