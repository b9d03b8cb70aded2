package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.catalogue.Catalogue;
import lumbrical.problem.Problem;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The wide layout of section 2 of the formats: a row is a sitting. The URAM has nine items with codes 0 to 5. */
class WideTableTest {
    private static final String ITEMS = ",uram_1,uram_2,uram_3,uram_4,uram_5,uram_6,uram_7,uram_8,uram_9";

    @TempDir
    private Path folder;

    private String refusal(String... lines) {
        return assertThrows(UnreadableInputException.class, () -> ReadTable.lines(folder, lines))
                .getMessage();
    }

    @Test
    void aRowIsASittingWithItsResponses() {
        ReadTable read = ReadTable.lines(
                folder,
                "patient,completed_on,side,episode,mode,respondent,language" + ITEMS,
                "007,2026-03-09,R,E1,paper,proxy,de,0,1,2,3,4,5,3.0, 2 ,",
                "'-5,2026-03-09T08:30,,,,,,1");
        assertEquals(
                List.of(
                        "007 2026-03-09 right episode E1 mode paper by proxy in de: uram {1=0, 2=1, 3=2, 4=3, 5=4, 6=5, 7=3, 8=2}",
                        "-5 2026-03-09T08:30: uram {1=1}"),
                read.sittings);
        assertEquals(List.of("t.csv row 3, column uram_2 [] note-short-row"), read.codes());
        assertEquals(2, read.summary.rows());
        assertEquals(0, read.summary.rejected());
        assertEquals("t.csv", read.summary.files().get(0).name());
    }

    /** Between two stray quotes two rows are lost, and the first patient would get the answers of the third. */
    @Test
    void rowsBetweenTwoStrayQuotesAreTold() {
        ReadTable read = ReadTable.lines(
                folder,
                "patient,completed_on,side,remark" + ITEMS,
                "A,2026-03-09,left,\"not closed,1,1,1,1,1,1,1,1,1",
                "B,2026-03-09,left,,2,2,2,2,2,2,2,2,2",
                "C,2026-03-09,left,he said \",5,5,5,5,5,5,5,5,5",
                "D,2026-03-09,left,\"two lines, both",
                "of them, meant\",1,2,3,4,5,4,3,2,1");
        assertEquals(List.of("D 2026-03-09 left: uram {1=1, 2=2, 3=3, 4=4, 5=5, 6=4, 7=3, 8=2, 9=1}"), read.sittings);
        assertEquals(List.of("t.csv row 2, column remark [] rows-in-a-cell"), read.codes());
        assertEquals(1, read.summary.rejected());
        assertEquals(
                "The row is rejected: this cell holds the text of 2 further rows, which are not read. A quote was probably opened in this"
                        + " row and never closed, and the next stray quote closed it. Look at the file as text, and take out both quotes.",
                read.problems.get(0).advice());
    }

    /** A table that lies in no text has no stray quotes: whatever its remark holds, the row is read. */
    @Test
    void aCellOfSeveralLinesIsNoFaultWhereNothingIsQuoted() {
        List<SittingRow> sittings = new ArrayList<>();
        List<Problem> problems = new ArrayList<>();
        ResponseReader.Rows rows = ResponseReader.rows(
                "table",
                Catalogue.builtIn(),
                ReadOptions.asOf(LocalDate.of(2026, 11, 25)),
                sittings::add,
                problems::add);
        rows.row(1, List.of("patient", "completed_on", "side", "remark", "sane_1"));
        rows.row(2, List.of("A", "2026-03-09", "left", "one, two, three,\nfour, five", "50"));
        assertEquals(0, rows.end().rejected());
        assertEquals(1, sittings.size());
        assertEquals(List.of(), problems);
    }

    @Test
    void headingsStandInAnyOrderAndCase() {
        ReadTable read = ReadTable.lines(
                folder,
                "URAM_2;uram_1;Completed_On;PATIENT;uram_3;uram_4;uram_5;uram_6;uram_7;uram_8;uram_9",
                "2;1;2026-03-09;P1");
        assertEquals(List.of("P1 2026-03-09: uram {1=1, 2=2}"), read.sittings);
        assertEquals(List.of("t.csv row 2, column uram_3 [] note-short-row"), read.codes());
    }

    @ParameterizedTest
    @CsvSource({"right,right", "LEFT,left", "Both,both", "r,right", "L,left", "b,both"})
    void aSideMayBeShort(String written, String side) {
        ReadTable read =
                ReadTable.lines(folder, "patient,completed_on,side" + ITEMS, "P1,2026-03-09," + written + ",1");
        assertEquals(List.of("P1 2026-03-09 " + side + ": uram {1=1}"), read.sittings);
    }

    @Test
    void severalInstrumentsOfARowAreReadTogetherAndBlankOnesStayBlank() {
        ReadTable read = ReadTable.lines(
                folder, "patient,completed_on,nprs_rest,nprs_worst,grc_1", "P1,2026-03-09,3,,-2", "P2,2026-03-09,,,");
        assertEquals(
                List.of("P1 2026-03-09: grc {1=-2} nprs {rest=3}", "P2 2026-03-09: grc {} nprs {}"), read.sittings);
    }

    @Test
    void blankRowsAreNeitherReadNorCounted() {
        ReadTable read = ReadTable.lines(
                folder, "", "patient,completed_on,grc_1", ",,", "", "P1,2026-03-09,1", " ,\u00A0,", "P2,2026-03-09,2");
        assertEquals(List.of("P1 2026-03-09: grc {1=1}", "P2 2026-03-09: grc {1=2}"), read.sittings);
        assertEquals(2, read.summary.rows());
    }

    @Test
    void allFaultsOfARowAreToldAndTheRowIsRejected() {
        ReadTable read = ReadTable.lines(
                folder,
                "patient,completed_on,side,grc_1",
                ",,upper,9,extra",
                "P1,2026-02-29,right,1",
                "#N/A,2026-03-09,right,1",
                "P2,2026-03-09,right,1, ,");
        assertEquals(
                List.of(
                        "t.csv row 2 [] too-many-cells",
                        "t.csv row 2, column patient [] patient-missing",
                        "t.csv row 2, column completed_on [] date-missing",
                        "t.csv row 2, column side [upper] side-not-known",
                        "t.csv row 2, column grc_1 [9] response-not-allowed",
                        "t.csv row 3, column completed_on [2026-02-29] date-not-iso",
                        "t.csv row 4, column patient [#N/A] patient-missing"),
                read.codes());
        assertEquals(
                List.of(
                        "The row is rejected: it has more filled cells than the header has columns. A separator inside a cell needs"
                                + " quotes around the cell.",
                        "The row is rejected. Fill in the patient's id.",
                        "The row is rejected. Fill in the day on which the form was completed.",
                        "The side is taken as blank. Write right, left or both."),
                read.advices().subList(0, 4));
        assertEquals(
                "The row is rejected. Write the date as 2026-03-09.",
                read.advices().get(5));
        assertEquals(List.of("P2 2026-03-09 right: grc {1=1}"), read.sittings);
        assertEquals(4, read.summary.rows());
        assertEquals(3, read.summary.rejected());
    }

    @Test
    void anUnknownSideIsBlankAndTheRowIsScored() {
        ReadTable read = ReadTable.lines(folder, "patient,completed_on,side,grc_1", "P1,2026-03-09,ulnar,1");
        assertEquals(List.of("P1 2026-03-09: grc {1=1}"), read.sittings);
        assertEquals(List.of("MAP_SIDES=side,ulnar"), read.remedies());
    }

    /** The files are looked at on 2026-11-25: that day is today, the next one is in the future. */
    @Test
    void aDateInTheFutureIsToldAndTheRowIsScored() {
        ReadTable read = ReadTable.lines(folder, "patient,completed_on,grc_1", "P1,2026-11-25,1", "P2,2026-11-26,1");
        assertEquals(List.of("t.csv row 3, column completed_on [2026-11-26] date-in-future"), read.codes());
        assertEquals(
                List.of("The date is after 2026-11-25. The row is scored but not placed in time. Correct the date."),
                read.advices());
        assertEquals(2, read.sittings.size());
    }

    @Test
    void otherDateStylesAreReadOnlyWhenNamed() {
        String[] lines = {"patient,completed_on,grc_1", "P1,09.03.2026,1", "P2,2026-03-10,1"};
        assertEquals(
                List.of("P1 2026-03-09: grc {1=1}", "P2 2026-03-10: grc {1=1}"),
                ReadTable.lines(folder, ReadTable.with(o -> o.dates("dd.MM.yyyy")), lines).sittings);
        ReadTable plain = ReadTable.lines(folder, lines);
        assertEquals(List.of("P2 2026-03-10: grc {1=1}"), plain.sittings);
        assertEquals(List.of("t.csv row 2, column completed_on [09.03.2026] date-not-iso"), plain.codes());
        assertEquals(List.of("DATE_STYLE=dd.MM.yyyy DATE_STYLE=d.M.yyyy"), plain.remedies());
    }

    @Test
    void aStyleThatFitsNoDateIsToldWithThoseThatWould() {
        ReadTable read = ReadTable.lines(
                folder,
                ReadTable.with(o -> o.dates("MM/dd/yyyy")),
                "patient,completed_on,grc_1",
                "P1,09.03.2026,1",
                "P2,9.3.2026,1");
        assertEquals(
                "t.csv, column completed_on [MM/dd/yyyy] date-style-fits-none",
                read.codes().get(2));
        assertEquals(
                "This style fits no date of the file. These would fit all: d.M.yyyy.",
                read.advices().get(2));
        assertEquals("DATE_STYLE=d.M.yyyy", read.remedies().get(2));
        ReadTable none = ReadTable.lines(
                folder, ReadTable.with(o -> o.dates("MM/dd/yyyy")), "patient,completed_on,grc_1", "P1,May 9,1");
        assertEquals(
                "This style fits no date of the file. Look at the column of dates.",
                none.advices().get(1));
        ReadTable one = ReadTable.lines(
                folder,
                ReadTable.with(o -> o.dates("MM/dd/yyyy")),
                "patient,completed_on,grc_1",
                "P1,03/09/2026,1",
                "P2,9.3.2026,1");
        assertEquals(
                List.of(
                        "t.csv row 3, column completed_on [9.3.2026] date-not-iso",
                        "t.csv, column completed_on [MM/dd/yyyy] note-date-style-in-doubt"),
                one.codes(),
                "one date fits, so the style is not wrong");
    }

    /** 46090 is 2026-03-09 as a spreadsheet counts (days from 1899-12-30). */
    @Test
    void theNumberOfADayIsToldAsSuch() {
        assertEquals(LocalDate.of(2026, 3, 9), LocalDate.of(1899, 12, 30).plusDays(46_090));
        ReadTable read = ReadTable.lines(folder, "patient,completed_on,grc_1", "P1,46090,1");
        assertEquals(
                List.of(
                        "The row is rejected. This looks like the number by which a spreadsheet keeps a day: give the cells of"
                                + " the column a date format (2026-03-09) and save the file again."),
                read.advices());
    }

    @Test
    void columnsWithoutAMeaningAreNamedOnceAndANearMissIsAProblem() {
        ReadTable read = ReadTable.lines(
                folder, "patient,completed_on,quickdsh_3,surgeon,,grc_1,sidee", "P1,2026-03-09,2,x,y,1,r");
        assertEquals(
                List.of(
                        "t.csv row 1, column quickdsh_3 [] unknown-column",
                        "t.csv row 1, column sidee [] unknown-column"),
                read.codes());
        assertEquals(
                List.of(
                        "This column is not known and not used. Did you mean quickdash_3? Rename it.",
                        "This column is not known and not used. Did you mean side? Rename it."),
                read.advices());
        assertEquals(
                List.of("quickdsh_3", "surgeon", "column 5 without a heading", "sidee"), read.summary.unusedColumns());
        ReadTable twice = ReadTable.files(
                ReadTable.PLAIN,
                ReadTable.write(folder, "a.csv", "patient,completed_on,grc_1,ward", "P1,2026-03-09,1,x"),
                ReadTable.write(folder, "b.csv", "patient,completed_on,grc_1,ward", "P2,2026-03-09,1,x"));
        assertEquals(List.of("ward"), twice.summary.unusedColumns());
        assertEquals(2, twice.sittings.size());
    }

    @Test
    void aHeaderThatCannotBeUsedIsRefused() {
        assertEquals(
                "t.csv row 1: the header lacks the column patient. Is 'patients' meant? Rename the column.",
                refusal("patients,completed_on,grc_1", "P1,2026-03-09,1"));
        assertEquals(
                "t.csv row 1: the header lacks the column completed_on. Rename the column.",
                refusal("patient,date,grc_1", "P1,2026-03-09,1"));
        assertEquals(
                "t.csv row 1, column grc_1: two columns of this file mean this. Remove or rename one of them.",
                refusal("patient,completed_on,grc_1,GRC_1", "P1,2026-03-09,1,2"));
        assertEquals(
                "t.csv row 1, column side: two columns of this file mean this. Remove or rename one of them.",
                refusal("patient,completed_on,grc_1,side,Side", "P1,2026-03-09,1,r,l"));
        assertEquals("t.csv: the file holds no rows. Export it again.", refusal("", ",", " "));
    }

    @Test
    void whatStandsAboveTheHeaderIsNotReadAndNoted() {
        ReadTable read = ReadTable.lines(
                folder, "Ratings of May", "", "exported by the ward", "patient,completed_on,grc_1", "P1,2026-03-09,1");
        assertEquals(List.of("t.csv row 4 [] note-title-row"), read.codes());
        assertEquals(List.of("P1 2026-03-09: grc {1=1}"), read.sittings);
        List<String> far = new ArrayList<>();
        for (int i = 0; i < 11; i++) {
            far.add("title");
        }
        far.add("patient,completed_on,grc_1");
        assertEquals(
                "t.csv row 1: the header lacks the column patient. Rename the column.",
                refusal(far.toArray(String[]::new)),
                "ten rows of a title and no more");
    }

    @Test
    void aFileWithoutAnyInstrumentIsAProblem() {
        ReadTable read = ReadTable.lines(folder, "patient,completed_on,weight", "P1,2026-03-09,80");
        assertEquals(List.of("t.csv row 1 [] no-instrument-found"), read.codes());
        assertEquals(
                List.of(
                        "No column of this file belongs to any instrument, so nothing can be scored. An item's column is named"
                                + " after its instrument and number, such as <instrument>_1."),
                read.advices());
        assertEquals(List.of("MAP_HEADINGS INSTRUMENTS"), read.remedies());
    }

    /** quickDASH: 10 of 11 items are needed. MHQ function of each hand: more than half of five. */
    @Test
    void anItemThatIsNeverAskedIsNotedWithItsEffect() {
        StringBuilder ten = new StringBuilder("patient,completed_on");
        for (int i = 1; i <= 10; i++) {
            ten.append(",quickdash_").append(i);
        }
        assertEquals(
                List.of(
                        "The file has no column quickdash_11, so quickdash total is scored with 10 of its 11 items at most, and"
                                + " every form counts as having unanswered ones."),
                ReadTable.lines(folder, ten.toString(), "P1,2026-03-09" + ",".repeat(10))
                        .advices());
        assertEquals(
                List.of(
                        "The file has no column quickdash_10, quickdash_11, so quickdash total can never be scored: 10 of its 11"
                                + " items are needed, and the file has 9."),
                ReadTable.lines(folder, ten.toString().replace(",quickdash_10", ""), "P1,2026-03-09" + ",".repeat(40))
                        .advices());
        assertEquals(
                List.of(
                        "The file has no column mhq_function_3_left, mhq_function_4_left, mhq_function_5_left, so mhq function"
                                + " (left) can never be scored: 3 of its 5 items are needed, and the file has 2."),
                ReadTable.lines(
                                folder,
                                "patient,completed_on,mhq_function_1_left,mhq_function_2_left",
                                "P1,2026-03-09" + ",".repeat(40))
                        .advices());
        assertEquals(
                List.of(),
                ReadTable.lines(folder, "patient,completed_on,psfs_1,psfs_2", "P1,2026-03-09" + ",".repeat(40))
                        .codes(),
                "of a form that is rated as far as it goes nothing lacks");
    }

    @Test
    void headingsWithoutRowsAreNoted() {
        ReadTable read = ReadTable.lines(folder, "patient,completed_on,grc_1");
        assertEquals(List.of("t.csv [] note-no-rows"), read.codes());
        assertEquals(
                List.of("The file has headings and no rows below them. Is it the right file, or the right sheet?"),
                read.advices());
    }

    /** Looked at in 2026, the years count from 1927 on: 99 back. */
    @Test
    void aFormOfACenturyAgoIsASlipOfThePen() {
        ReadTable read = ReadTable.lines(folder, "patient,completed_on,grc_1", "P1,1927-01-01,1", "P2,1926-12-31,1");
        assertEquals(List.of("t.csv row 3, column completed_on [1926-12-31] date-long-ago"), read.codes());
        assertEquals(2, read.sittings.size());
    }

    /** The 9th of March or the 3rd of September: once the 13th stands in the column, the day comes first. */
    @Test
    void theStylesOfferedAreThoseThatFitTheWholeColumn() {
        ReadTable read =
                ReadTable.lines(folder, "patient,completed_on,grc_1", "P1,09/03/2026,1", "P2,13/03/2026,1", "P3,x,1");
        assertEquals(
                List.of("dd/MM/yyyy", "dd/MM/yyyy", ""),
                DateAdvice.settled(read.problems).stream()
                        .map(p -> p.remedies().stream().map(r -> r.detail()).collect(Collectors.joining(" ")))
                        .toList());
    }

    @Test
    void aClinicsOwnHeadingsAreMapped() {
        ReadTable read = ReadTable.lines(
                folder,
                ReadTable.with(o -> o.columns(new ColumnMap(
                        Map.of("pat.-nr.", "patient", "datum", "completed_on", "q1", "grc_1"), Map.of()))),
                "Pat.-Nr.,Datum,Q1",
                "P1,2026-03-09,5");
        assertEquals(List.of("P1 2026-03-09: grc {1=5}"), read.sittings);
    }

    @Test
    void aWorkbookIsReadWithItsDatesFormulasAndHiddenRows() {
        Path file = ReadTable.book(folder, book -> {
            book.createSheet("Notes").createRow(0).createCell(0).setCellValue("read me");
            var sheet = book.createSheet("Ratings");
            Row header = sheet.createRow(0);
            header.createCell(0).setCellValue("patient");
            header.createCell(1).setCellValue("completed_on");
            header.createCell(2).setCellValue("grc_1");
            header.createCell(3).setCellValue("side");
            CellStyle day = book.createCellStyle();
            day.setDataFormat(book.createDataFormat().getFormat("dd.mm.yyyy"));
            for (int i = 1; i <= 3; i++) {
                Row row = sheet.createRow(i);
                row.createCell(0).setCellValue("00" + i);
                row.createCell(1).setCellValue(LocalDate.of(2026, 3, 8 + i));
                row.getCell(1).setCellStyle(day);
                row.createCell(2).setCellValue(i);
            }
            sheet.getRow(2).setZeroHeight(true);
            sheet.getRow(3).setZeroHeight(true);
            sheet.getRow(2).getCell(2).setCellFormula("1+1");
            book.getCreationHelper().createFormulaEvaluator().evaluateAll();
            sheet.getRow(3).createCell(2).setCellFormula("2+1"); // nobody calculates this one
            sheet.getRow(3).createCell(3).setCellFormula("A1");
        });
        ReadTable read = ReadTable.files(ReadTable.PLAIN, file);
        assertEquals(
                List.of("001 2026-03-09: grc {1=1}", "002 2026-03-10: grc {1=2}", "003 2026-03-11: grc {1=no number}"),
                read.sittings);
        assertEquals(
                List.of(
                        "t.xlsx [] note-sheet-chosen",
                        "t.xlsx row 3 [] note-hidden-rows",
                        "t.xlsx row 3 [] note-formula-cells",
                        "t.xlsx row 4, column side [] formula-not-calculated",
                        "t.xlsx row 4, column grc_1 [] formula-not-calculated"),
                read.codes());
        assertEquals(
                "The sheet 'Ratings' is read: the first of the workbook that has the columns patient and completed_on.",
                read.advices().get(0));
        assertEquals(
                "The scale is not scored for this form. The cell holds a formula whose value is not stored in the file. Open the"
                        + " file in a spreadsheet, let it calculate, and save it again.",
                read.advices().get(4));
    }

    @Test
    void aRowWhosePatientOrDayIsNotCalculatedIsRejected() {
        Path file = ReadTable.book(folder, book -> {
            var sheet = book.createSheet();
            Row header = sheet.createRow(0);
            header.createCell(0).setCellValue("patient");
            header.createCell(1).setCellValue("completed_on");
            header.createCell(2).setCellValue("grc_1");
            header.createCell(3).setCellValue("mode");
            Row row = sheet.createRow(1);
            row.createCell(0).setCellFormula("A9");
            row.createCell(1).setCellFormula("B9");
            row.createCell(2).setCellValue(1);
            Row other = sheet.createRow(2);
            other.createCell(0).setCellValue("P1");
            other.createCell(1).setCellValue("2026-03-09");
            other.createCell(3).setCellFormula("A9");
        });
        ReadTable read = ReadTable.files(ReadTable.PLAIN, file);
        assertEquals(
                List.of(
                        "t.xlsx row 2, column patient [] formula-not-calculated",
                        "t.xlsx row 2, column patient [] patient-missing",
                        "t.xlsx row 2, column completed_on [] formula-not-calculated",
                        "t.xlsx row 2, column completed_on [] date-missing"),
                read.codes().subList(1, 5));
        assertEquals(1, read.summary.rejected());
        assertEquals(List.of("P1 2026-03-09: grc {}"), read.sittings, "what nobody calculated is no mode");
    }

    @Test
    void tellsHowFarItIs() {
        List<String> told = new ArrayList<>();
        StringBuilder rows = new StringBuilder("patient,completed_on,grc_1");
        for (int i = 0; i < 5_000; i++) {
            rows.append("\nP").append(i).append(",2026-03-09,1");
        }
        ResponseReader.read(
                List.of(new Input(ReadTable.write(folder, "t.csv", rows.toString()), Optional.empty())),
                ReadTable.CATALOGUE,
                ReadTable.PLAIN,
                row -> {},
                problem -> {},
                (input, count, share) -> told.add(count + " " + (share > 0 && share <= 1)));
        assertEquals(List.of("4095 true", "5000 true"), told, "after 4,096 rows with the header, and at the end");
        assertEquals(
                0, ReadTable.lines(folder, "patient,completed_on,grc_1").summary.rows());
    }
}
