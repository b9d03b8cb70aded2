package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.nio.file.Path;
import java.util.List;
import org.apache.poi.ss.usermodel.Row;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * An entry form that is read back (section 14 of the formats). NPRS rest is the response itself; MHQ function is (25 - sum) / 20 x 100 of
 * five items, more than half of them answered.
 */
class FormScoreTest {
    private static final String NPRS = "patient,completed_on,nprs_rest,nprs_activity,nprs_average,nprs_worst,"
            + "nprs rest score,nprs rest lowest,nprs rest highest,nprs rest unanswered,nprs rest why";

    @TempDir
    private Path folder;

    @Test
    void theHeadingsNameInstrumentScaleHandAndWhatIsShown() {
        assertEquals(
                List.of(
                        "grc total score",
                        "grc total lowest",
                        "grc total highest",
                        "grc total unanswered",
                        "grc total why"),
                FormScoreColumn.of(ReadTable.CATALOGUE.find("grc").orElseThrow()).stream()
                        .map(FormScoreColumn::heading)
                        .toList());
        List<String> mhq = FormScoreColumn.of(ReadTable.CATALOGUE.find("mhq").orElseThrow()).stream()
                .map(FormScoreColumn::heading)
                .toList();
        assertEquals(
                List.of("mhq function right score", "mhq function left score", "mhq function both score"),
                mhq.stream()
                        .filter(h -> h.startsWith("mhq function") && h.endsWith("score"))
                        .toList());
        assertEquals(
                List.of("mhq work score"),
                mhq.stream()
                        .filter(h -> h.startsWith("mhq work") && h.endsWith("score"))
                        .toList(),
                "asked of the person");
        assertEquals(
                List.of("score", "lowest", "highest", "unanswered", "why"),
                List.of(FormScoreColumn.Shows.values()).stream()
                        .map(FormScoreColumn.Shows::code)
                        .toList());
        assertEquals("How many of the items that count are blank.", FormScoreColumn.Shows.UNANSWERED.meaning());
    }

    @Test
    void scoresThatFollowFromTheResponsesAreNoProblem() {
        ReadTable read = ReadTable.lines(
                folder,
                NPRS,
                "P1,2026-03-09,3,,,,3,3,3,0,",
                "P1,2026-03-10,3,,,,3.0000009,3,3,0,",
                "P1,2026-03-11,,,,,,,,1,",
                "P1,2026-03-12,3,,,,,,,,");
        assertEquals(List.of(), read.codes());
        assertEquals(List.of(), read.summary.unusedColumns());
        assertEquals("P1 2026-03-09: nprs {rest=3}", read.sittings.get(0));
    }

    @ParameterizedTest
    @CsvSource({
        "'3,,,,4,3,3', nprs rest score, 4, 3",
        "'3,,,,3.000002,3,3', nprs rest score, 3.000002, 3",
        "'3,,,,3,2,3', nprs rest lowest, 2, 3",
        "'3,,,,3,3,5', nprs rest highest, 5, 3",
        "',1,,,0,,', nprs rest score, 0, none",
        "'11,,,,11,,', nprs rest score, 11, none (response-not-allowed)",
        "'3,,,,x,3,3', nprs rest score, x, 3"
    })
    void aScoreThatDiffersIsAProblem(String cells, String column, String shown, String rule) {
        ReadTable read = ReadTable.lines(folder, NPRS, "P1,2026-03-09," + cells);
        assertEquals(
                "t.csv row 2, column " + column + " [" + shown + "] form-score-differs",
                read.codes().get(read.codes().size() - 1));
        assertEquals(
                "By the definition's rules the responses of this row give " + rule
                        + ". What the form shows is not used. Have the spreadsheet calculate the form again and save it; if it still"
                        + " differs, a formula was typed over: take a new form.",
                read.advices().get(read.advices().size() - 1));
    }

    /** Five times 1: (25 - 5) / 20 x 100 = 100; the left hand, five times 5: 0; both: 50. */
    @Test
    void aScoreOfBothHandsIsHeldAgainstTheirMean() {
        StringBuilder header = new StringBuilder("patient,completed_on,side");
        for (String hand : List.of("right", "left")) {
            for (int i = 1; i <= 5; i++) {
                header.append(",mhq_function_").append(i).append('_').append(hand);
            }
        }
        header.append(",mhq function right score,mhq function left score,mhq function both score");
        assertEquals(
                List.of("t.csv row 3, column mhq function both score [51] form-score-differs"),
                ReadTable.lines(
                                folder,
                                header.toString(),
                                "P1,2026-03-09,both,1,1,1,1,1,5,5,5,5,5,100,0,50",
                                "P1,2026-03-10,both,1,1,1,1,1,5,5,5,5,5,100,0,51")
                        .codes());
    }

    @Test
    void theOptionsOfTheRunDoNotTouchWhatTheFormKnows() {
        ReadTable read =
                ReadTable.lines(folder, ReadTable.with(o -> o.notAnswered("3")), NPRS, "P1,2026-03-09,3,,,,3,3,3,0,");
        assertEquals(List.of("t.csv [3] note-answers-taken-away"), read.codes());
        assertEquals(List.of("P1 2026-03-09: nprs {}"), read.sittings);
    }

    @Test
    void aScoreWithoutItemsBesideItIsAnUnusedColumn() {
        ReadTable read =
                ReadTable.lines(folder, "patient,completed_on,grc_1,nprs rest score,nprs score", "P1,2026-03-09,1,9,9");
        assertEquals(List.of(), read.codes());
        assertEquals(List.of("nprs score", "nprs rest score"), read.summary.unusedColumns());
    }

    @Test
    void scoreCellsOfARowWithoutAPatientAreNoContent() {
        ReadTable read = ReadTable.lines(folder, NPRS, ",,,,,,,0,10,1,no-answers", "P1,2026-03-09,3,,,,3,3,3,0,");
        assertEquals(1, read.summary.rows());
        assertEquals(List.of(), read.codes());
    }

    @Test
    void theFormulasOfAFormAreMeantToBeThereAndNeedNoStoredValue() {
        Path file = ReadTable.book(folder, book -> {
            var sheet = book.createSheet();
            String[] names = "patient,completed_on,grc_1,grc total score".split(",");
            Row header = sheet.createRow(0);
            for (int i = 0; i < names.length; i++) {
                header.createCell(i).setCellValue(names[i]);
            }
            Row row = sheet.createRow(1);
            row.createCell(0).setCellValue("P1");
            row.createCell(1).setCellValue("2026-03-09");
            row.createCell(2).setCellValue(5);
            row.createCell(3).setCellFormula("C2");
        });
        ReadTable read = ReadTable.files(ReadTable.PLAIN, file);
        assertEquals(List.of(), read.codes());
        assertEquals(List.of("P1 2026-03-09: grc {1=5}"), read.sittings);
    }
}
