package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The long layout of section 2 of the formats: a row is a response. */
class LongTableTest {
    private static final String HEADER = "patient,completed_on,side,instrument,item,response";

    @TempDir
    private Path folder;

    @Test
    void theRowsOfASittingBelongTogetherWhereverTheyStand() {
        ReadTable read = ReadTable.lines(
                folder,
                HEADER,
                "P1,2026-03-09,right,nprs,rest,3",
                "P2,2026-03-09,right,grc,1,-2",
                "P1,2026-03-09,r,NPRS,Worst,8",
                "P1,2026-03-09,right,grc,grc_1,5",
                "P1,2026-03-10,right,grc,1,6");
        assertEquals(
                List.of(
                        "P1 2026-03-09 right: grc {1=5} nprs {rest=3, worst=8}",
                        "P2 2026-03-09 right: grc {1=-2}",
                        "P1 2026-03-10 right: grc {1=6}"),
                read.sittings);
        assertEquals(List.of(), read.codes());
        assertEquals(5, read.summary.rows());
        assertTrue(read.summary.longLayout());
        assertFalse(
                ReadTable.lines(folder, "patient,completed_on,grc_1").summary.longLayout());
    }

    @Test
    void anItemGivenAgainStartsASecondForm() {
        ReadTable read = ReadTable.lines(
                folder,
                HEADER,
                "P1,2026-03-09,,nprs,rest,3",
                "P1,2026-03-09,,nprs,rest,4",
                "P1,2026-03-09,,nprs,worst,8",
                "P1,2026-03-09,,nprs,rest,5");
        assertEquals(
                List.of(
                        "P1 2026-03-09: nprs {rest=3, worst=8}",
                        "P1 2026-03-09: nprs {rest=4}",
                        "P1 2026-03-09: nprs {rest=5}"),
                read.sittings);
    }

    @Test
    void whatBelongsToNoItemIsRejectedWithAllItsFaults() {
        ReadTable read = ReadTable.lines(
                folder,
                HEADER,
                "P1,2026-03-09,,npsr,rest,3",
                "P1,2026-03-09,,nprs,best,3",
                ",2026-03-09,,nprs,best,3",
                "P1,,,nprs,rest,3",
                "P1,2026-03-09,,unheardof,1,3",
                "P1,2026-03-09,,nprs,rest,77");
        assertEquals(
                List.of(
                        "t.csv row 2, column instrument [npsr] instrument-not-known",
                        "t.csv row 3, column item [best] item-not-known",
                        "t.csv row 4, column patient [] patient-missing",
                        "t.csv row 4, column item [best] item-not-known",
                        "t.csv row 5, column completed_on [] date-missing",
                        "t.csv row 6, column instrument [unheardof] instrument-not-known",
                        "t.csv row 7, column nprs_rest [77] response-not-allowed"),
                read.codes());
        assertEquals(
                "The row is rejected: no such instrument. Did you mean nprs?",
                read.advices().get(0));
        assertEquals(
                "The row is rejected: nprs has no such item.", read.advices().get(1));
        assertEquals("The row is rejected: no such instrument.", read.advices().get(5));
        assertEquals(List.of("INSTRUMENTS", "INSTRUMENTS=nprs"), read.remedies().subList(0, 2));
        assertEquals(List.of("P1 2026-03-09: nprs {rest=no number}"), read.sittings);
        assertEquals(5, read.summary.rejected());
    }

    @Test
    void aBlankResponseNamesItsForm() {
        ReadTable read = ReadTable.lines(folder, HEADER, "P1,2026-03-09,,nprs,rest,");
        assertEquals(List.of("P1 2026-03-09: nprs {}"), read.sittings);
    }

    @Test
    void aColumnOfAnItemIsNotUsedAndSaidToBe() {
        ReadTable read = ReadTable.lines(folder, HEADER + ",remark,nprs_rest", "P1,2026-03-09,,nprs,worst,2,hello,4");
        assertEquals(List.of("P1 2026-03-09: nprs {worst=2}"), read.sittings);
        assertEquals(List.of("remark", "nprs_rest"), read.summary.unusedColumns());
    }

    /** As where two pages of an export overlap. */
    @Test
    void rowsThatStandTwiceAreTheWholeFormAgain() {
        ReadTable read = ReadTable.lines(
                folder,
                HEADER,
                "P1,2026-03-09,,nprs,rest,3",
                "P1,2026-03-09,,nprs,worst,8",
                "P1,2026-03-09,,nprs,average,5",
                "P1,2026-03-09,,nprs,worst,8",
                "P1,2026-03-09,,nprs,average,5",
                "P1,2026-03-09,,nprs,worst,7");
        assertEquals(
                List.of(
                        "P1 2026-03-09: nprs {rest=3, average=5, worst=8}",
                        "P1 2026-03-09: nprs {rest=3, average=5, worst=8}",
                        "P1 2026-03-09: nprs {worst=7}"),
                read.sittings);
        assertEquals(6, read.summary.rows());
    }
}
