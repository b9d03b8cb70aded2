package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;

/**
 * A coordinator's files with a coordinator's faults: each gets the status and the message that sections 1, 2, 6 and 14 of the formats
 * say, and an advice that names the option which reads it. All data invented.
 */
class DeskTrialTest extends DeskTrial {
    @Test
    void anAnswerInWordsNamesTheMapOfAnswers() throws IOException {
        says(
                run("check", quickdash("Ingen,2,2,2,2,2,2,2,2,2,2")),
                1,
                "response-not-allowed (Ingen)",
                "--codes CODES.csv (column,text,code)",
                "--not-answered 'Ingen'");
    }

    @Test
    void aNumberForNothingAnsweredNamesTheOptionForIt() throws IOException {
        String file = quickdash("99,2,2,2,2,2,2,2,2,2,2");
        says(run("check", file), 1, "response-not-allowed (99)", "add --not-answered '99'");
        says(run("score", file, "--not-answered", "99"), 0);
        says(run("check", quickdash("k.A.,2,2,2,2,2,2,2,2,2,2")), 1, "add --not-answered 'k.A.'");
        assertFalse(run("check", file).err().contains("empty it"));
    }

    @Test
    void aDecimalCommaOnAVisualScaleNamesItsOption() throws IOException {
        String file = file("r.csv", "patient;completed_on;msacrah_function_1\nP1;2026-03-09;12,25\n");
        says(run("check", file), 1, "--decimal-comma reads it.");
        assertFalse(run("check", file, "--decimal-comma").err().contains("response-not-allowed"));
    }

    @Test
    void aDateInAnotherStyleNamesTheStyle() throws IOException {
        String file = file("r.csv", "patient,completed_on,sane_1\nP1,09.03.2026,50\nP2,10.03.2026,50\n");
        says(
                run("check", file),
                1,
                "date-not-iso (09.03.2026)",
                "--date-format dd.MM.yyyy reads it.",
                "2 of this kind");
        says(run("check", file, "--date-format", "dd.MM.yyyy"), 0);
        says(
                run("check", file, "--date-format", "MM/dd/yyyy"),
                1,
                "date-style-fits-none (MM/dd/yyyy). This style fits no date of the file. These would fit all: dd.MM.yyyy");
    }

    @Test
    void aSpreadsheetsNumberOfADayNamesTheFormatOfTheCells() throws IOException {
        says(
                run("check", file("r.csv", "patient,completed_on,sane_1\nP1,46090,50\n")),
                1,
                "This looks like the number by which a spreadsheet keeps a day: give the cells of the column a date format");
    }

    @Test
    void everyFaultOfARejectedRowIsTold() throws IOException {
        Run run = run("check", file("r.csv", "patient,completed_on,side,sane_1\n,9 March,middle,777\n"));
        says(
                run,
                1,
                "patient-missing",
                "date-not-iso (9 March)",
                "side-not-known (middle)",
                "response-not-allowed (777)");
        assertTrue(run.err().contains("rows read 1 = scored 0 + nothing to score 0 + rejected 1"), run.err());
    }

    @Test
    void anItemThatAFileNeverAsksIsToldOnceWithItsEffect() throws IOException {
        String ten = IntStream.rangeClosed(1, 11)
                .filter(i -> i != 5)
                .mapToObj(i -> "quickdash_" + i)
                .collect(Collectors.joining(","));
        Run run = run(
                "score", file("r.csv", "patient,completed_on," + ten + ",QD5\nP1,2026-03-09" + ",2".repeat(11) + "\n"));
        says(
                run,
                0,
                "note-item-never-asked. The file has no column quickdash_5, so quickdash total is scored with 10 of its 11 items"
                        + " at most",
                "columns not used: qd5",
                "--columns MAP.csv");
        String nine =
                IntStream.rangeClosed(1, 9).mapToObj(i -> "quickdash_" + i).collect(Collectors.joining(","));
        says(
                run("score", file("n.csv", "patient,completed_on," + nine + "\nP1,2026-03-09" + ",2".repeat(9) + "\n")),
                0,
                "can never be scored: 10 of its 11 items are needed, and the file has 9.");
    }

    @Test
    void aFileWithoutAnInstrumentIsAProblem() throws IOException {
        says(
                run("score", file("r.csv", "patient,completed_on,question 1,question 2\nP1,2026-03-09,1,2\n")),
                1,
                "no-instrument-found",
                "'check --suggest-columns MAP.csv' begins such a file");
    }

    @Test
    void aFormulaWithoutAStoredValueIsNeverUnanswered() throws IOException {
        Path book = folder.resolve("formula.xlsx");
        try (XSSFWorkbook workbook = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(book)) {
            XSSFSheet sheet = workbook.createSheet("Forms");
            Row header = sheet.createRow(0);
            header.createCell(0).setCellValue("patient");
            header.createCell(1).setCellValue("completed_on");
            header.createCell(2).setCellValue("sane_1");
            Row row = sheet.createRow(1);
            row.createCell(0).setCellValue("P1");
            row.createCell(1).setCellValue("2026-03-09");
            row.createCell(2).setCellFormula("40+10");
            workbook.write(out);
        }
        Run run = run("score", book.toString());
        says(run, 1, "column sane_1: formula-not-calculated", "let it calculate, and save it again");
        assertTrue(run.out().contains(",sane,total,,not-scored,response-not-allowed,"), run.out());
    }

    @Test
    void anIdThatLostItsLeadingZerosIsNamed() throws IOException {
        String responses = file("r.csv", "patient,completed_on,side,sane_1\n42,2026-03-09,right,50\n");
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\n0042,E1,right,2026-03-09\n");
        says(
                run("check", responses, "--episodes", episodes),
                1,
                "The table of episodes has '0042', which differs only in leading zeros, case or blanks.");
    }

    @Test
    void aThresholdOfAConditionThatNoEpisodeHasIsTold() throws IOException {
        String responses = file("r.csv", "patient,completed_on,side,quickdash_1\nP1,2026-03-09,right,2\n");
        String episodes = file(
                "e.csv",
                "patient,episode,treated_side,index_date,condition\nP1,E1,right,2026-03-09,carpal tunnel syndrome\n");
        String strange = file(
                "t.csv", "instrument,scale,condition,threshold_id\nquickdash,total,carpel tunel,sorensen2013-mcid\n");
        says(run("due", responses, "--episodes", episodes, "--thresholds", strange), 2, "carpel tunel");
        String synonym = file(
                "t2.csv", "instrument,scale,condition,threshold_id\nquickdash,total,carpal tunnel,sorensen2013-mcid\n");
        says(run("due", responses, "--episodes", episodes, "--thresholds", synonym), 0);
        String unused = file(
                "t3.csv", "instrument,scale,condition,threshold_id\nquickdash,total,Dupuytren,sorensen2013-mcid\n");
        says(run("due", responses, "--episodes", episodes, "--thresholds", unused), 0, "note-threshold-not-used");
    }

    @Test
    void theEndingOfANameSaysWhatIsWritten() throws IOException {
        String responses = quickdash("2,2,2,2,2,2,2,2,2,2,2");
        Path book = folder.resolve("scores.XLSX");
        says(run("score", responses, "--out", book.toString()), 0);
        try (XSSFWorkbook workbook = new XSSFWorkbook(Files.newInputStream(book))) {
            assertEquals("Scores", workbook.getSheetName(0));
            assertEquals(
                    "quickdash", workbook.getSheetAt(0).getRow(1).getCell(5).getStringCellValue());
            assertEquals(25, workbook.getSheetAt(0).getRow(1).getCell(7).getNumericCellValue());
        }
        says(
                run("score", responses, "--out", folder.resolve("s.ods").toString()),
                2,
                "--out s.ods: this cannot be written here. Name a file that ends in .csv or .xlsx.");
    }

    @Test
    void idsAreTakenInAnyCaseAndAMissingFileIsToldInWords() {
        assertEquals(0, Run.of(List.of("instruments", "QuickDASH")).status());
        says(Run.of(List.of("score")), 2, "No file or name is given where RESPONSES stands: CSV or XLSX files");
        assertEquals(0, Run.of(List.of("score", "-h")).status());
        assertEquals(
                Run.of(List.of("score", "--help")).out(),
                Run.of(List.of("help", "score")).out());
    }

    @Test
    void repeatsAreGroupedWithTheirCount() throws IOException {
        StringBuilder rows = new StringBuilder("patient,completed_on,side,sane_1\n");
        for (int i = 0; i < 1_588; i++) {
            rows.append("P").append(i).append(",2026-03-09,right,50\n");
        }
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\nX,E1,right,2026-03-09\n");
        Run run = run("check", file("r.csv", rows.toString()), "--episodes", episodes);
        says(run, 1, "1588 problems:", "(1588 of this kind; this is the first)");
        assertTrue(run.err().lines().count() < 30, run.err());
    }

    @Test
    void everyHeadingIsSuggestedOrLeftToFillIn() throws IOException {
        Path map = folder.resolve("map.csv");
        says(
                run(
                        "check",
                        file("r.csv", "Pat.-Nr.,Datum,QuickDASH Q1,Bemerkung\nP1,2026-03-09,2,-\n"),
                        "--suggest-columns",
                        map.toString()),
                0,
                "to fill in 3");
        assertEquals(
                "heading,column,review\r\n"
                        + "pat.-nr.,,\"to fill in, or leave blank if it is no response\"\r\n"
                        + "datum,,\"to fill in, or leave blank if it is no response\"\r\n"
                        + "quickdash q1,quickdash_1,\"guessed, to review\"\r\n"
                        + "bemerkung,,\"to fill in, or leave blank if it is no response\"\r\n",
                Files.readString(map));
    }

    @Test
    void anOdsFileIsRefusedByName() throws IOException {
        says(
                run("score", file("forms.ods", "PK\u0003\u0004 mimetypeapplication/vnd.oasis.opendocument")),
                2,
                "save as XLSX");
    }

    /** Section 3: what is not allowed in the details of an episode is told and counts as blank; a closure before it begins closes nothing. */
    @Test
    void detailsOfAnEpisodeThatCannotBeAreToldAndCountAsBlank() throws IOException {
        String responses = quickdash("2,2,2,2,2,2,2,2,2,2,2");
        String episodes = file(
                "e.csv",
                "patient,episode,treated_side,index_date,dominant_side,sex,closed_on\n"
                        + "P1,ctr,right,2026-03-10,rigth,woman,2026-03-01\n"
                        + "P2,ctr,left,2026-03-10,L,F,\n");
        Run run = run(
                "due",
                responses,
                "--episodes",
                episodes,
                "--problems",
                folder.resolve("p.csv").toString());
        says(
                run,
                1,
                "row 2, column dominant_side: side-not-known (rigth). The dominant side is taken as blank. Write"
                        + " right, left or both.",
                "row 2, column sex: value-not-allowed (woman). The sex is taken as blank.",
                "row 2, column closed_on: closed-before-index (2026-03-01). The day of closing lies before the index date, so the"
                        + " episode counts as open.");
        assertTrue(run.err().contains("3 problems:"), run.err());
        assertTrue(run.out().contains("P1,ctr,right,"), run.out());
    }
}
