package lumbrical.columns;

import static lumbrical.columns.InventedClinic.all;
import static lumbrical.columns.InventedClinic.line;
import static lumbrical.columns.InventedClinic.value;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import lumbrical.instrument.Side;
import lumbrical.output.Value;
import org.junit.jupiter.api.Test;

/** Score rows of section 5 of the formats, cell by cell; the arithmetic stands beside each. */
class ScoreColumnsTest {
    private static List<String> rows(InventedClinic clinic) {
        return clinic.analyse().forms().stream()
                .flatMap(ScoreRow::of)
                .map(row -> line(ScoreColumns.TABLE, row))
                .toList();
    }

    /** quickDASH: ((sum / answered) - 1) x 25. Day -1 is 2026-03-01, day 42 is 2026-04-13 (29 days to the end of March, 13 more). */
    @Test
    void aCompleteScoreHasNoRoomForWhatWasNotAnswered() {
        assertEquals(
                List.of(
                        // eleven times 3: (33 / 11 - 1) x 25 = 50
                        "P1|E1|right|2026-03-01|baseline|quickdash|total|50|complete||11|11|50|50|lower|quickdash@1||||published",
                        // eleven times 2: 25
                        "P1|E1|right|2026-04-13|6 weeks|quickdash|total|25|complete||11|11|25|25|lower|quickdash@1||||published"),
                rows(new InventedClinic()
                        .episode("P1", "invented")
                        .on("P1", -1)
                        .quickdash(all(3, 11))
                        .on("P1", 42)
                        .quickdash(all(2, 11))));
    }

    @Test
    void anUnansweredItemLeavesRoomBetweenItsBestAndItsWorstCode() {
        assertEquals(
                List.of(
                        // ten times 3: (30 / 10 - 1) x 25 = 50; with a 1: (31 / 11 - 1) x 25 = 45.454545; with a 5: 35
                        // / 11, 54.545455
                        "P1|E1|right|2026-03-01|baseline|quickdash|total|50|with-missing||11|10|45.454545|54.545455|lower"
                                + "|quickdash@1||||published",
                        // nine times 3, one too few: with 1 and 1: (29 / 11 - 1) x 25 = 40.909091; with 5 and 5: 37 /
                        // 11, 59.090909
                        "P1|E1|right|2026-03-02|baseline|quickdash|total||not-scored|too-few-answered|11|9|40.909091|59.090909"
                                + "|lower|quickdash@1||||",
                        // a 7 is no code: no score and no bounds
                        "P1|E1|right|2026-04-13|6 weeks|quickdash|total||not-scored|response-not-allowed|11|10|||lower"
                                + "|quickdash@1||||"),
                rows(new InventedClinic()
                        .episode("P1", "invented")
                        .on("P1", -1)
                        .quickdash(all(3, 10))
                        .on("P1", 0)
                        .quickdash(all(3, 9))
                        .on("P1", 42)
                        .quickdash(3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 7)));
    }

    /**
     * The formula of the pain scale is second-hand; that the sum of the function items is halved is from memory, and so are the rules for
     * unanswered items: the weakest of what was used is told.
     */
    @Test
    void theStandingIsTheWeakestOfWhatTheScoreRestsOn() {
        assertEquals(
                List.of(
                        // pain: five times 4 = 20; function: ten times 4 = 40, halved 20
                        "P1|E1|right|2026-03-01|baseline|prwe|pain|20|complete||5|5|20|20|lower|prwe@1||||second-hand",
                        "P1|E1|right|2026-03-01|baseline|prwe|function|20|complete||10|10|20|20|lower|prwe@1||||from-memory",
                        "P1|E1|right|2026-03-01|baseline|prwe|total|40|complete||15|15|40|40|lower|prwe@1||||from-memory"),
                rows(new InventedClinic().episode("P1", "invented").on("P1", -1).prwe(40)));
        assertEquals(
                List.of(
                        // four of five pain items: mean 4 for the fifth, 20; bounds with 0 and with 10: 16 and 26
                        "P1|E1|right|2026-03-01|baseline|prwe|pain|20|with-missing||5|4|16|26|lower|prwe@1||||from-memory",
                        // nothing of the function scale was answered: its ends are those of the scale
                        "P1|E1|right|2026-03-01|baseline|prwe|function||not-scored|no-answers|10|0|0|50|lower|prwe@1||||",
                        // a total over parts of which one is missing; 16 + 0 to 26 + 50
                        "P1|E1|right|2026-03-01|baseline|prwe|total||not-scored|part-not-scored|15|4|16|76|lower|prwe@1||||"),
                rows(new InventedClinic().episode("P1", "invented").on("P1", -1).form("prwe", "1=4 2=4 3=4 4=4")));
    }

    /** Four times 5 is 20, the last row of the table: 57.0 with standard error 6.6; 1.96 x 6.6 = 12.936. */
    @Test
    void aScoreFromATableHasItsStandardErrorAndInterval() {
        assertEquals(
                List.of(
                        "P1||right|2026-03-01||promispf4a|tscore|57|complete||4|4|57|57|higher|promispf4a@1|6.6|44.064|69.936"
                                + "|from-memory"),
                rows(new InventedClinic().on("P1", -1).form("promispf4a", "1=5 2=5 3=5 4=5")));
    }

    /** MHQ function: (25 - sum) / 20 x 100; five times 1 is 100, five times 5 is 0, both hands averaged 50. */
    @Test
    void aFormOfBothHandsGivesARowForEachAndOneForBoth() {
        String rest = "|complete||5|5|";
        List<String> rows = rows(
                new InventedClinic()
                        .on("P1", -1, Side.BOTH)
                        .form(
                                "mhq",
                                "function_1_right=1 function_2_right=1 function_3_right=1 function_4_right=1 function_5_right=1"
                                        + " function_1_left=5 function_2_left=5 function_3_left=5 function_4_left=5 function_5_left=5"));
        assertEquals(
                List.of(
                        "P1||right|2026-03-01||mhq|function|100" + rest + "100|100|higher|mhq@1||||from-memory",
                        "P1||left|2026-03-01||mhq|function|0" + rest + "0|0|higher|mhq@1||||from-memory",
                        "P1||both|2026-03-01||mhq|function|50|complete||10|10|50|50|higher|mhq@1||||from-memory"),
                rows.subList(0, 3));
    }

    /** What came from the input is guarded in CSV when it starts like a formula; codes of the program never are. */
    @Test
    void idsAreTextsOfTheInputAndCodesAreWordsOfOurs() {
        ScoreRow row = new InventedClinic()
                .episode("-1", "invented").on("-1", -1).quickdash(all(3, 11)).analyse().forms().stream()
                        .flatMap(ScoreRow::of)
                        .findFirst()
                        .orElseThrow();
        assertEquals(new Value.Text("-1"), value(ScoreColumns.TABLE, row, "patient"));
        assertEquals(new Value.Text("E1"), value(ScoreColumns.TABLE, row, "episode"));
        assertEquals(new Value.Text("baseline"), value(ScoreColumns.TABLE, row, "visit"));
        assertEquals(new Value.Word("right"), value(ScoreColumns.TABLE, row, "side"));
        assertEquals(new Value.Word("quickdash@1"), value(ScoreColumns.TABLE, row, "definition"));
        assertEquals(new Value.Word("complete"), value(ScoreColumns.TABLE, row, "outcome"));
    }
}
