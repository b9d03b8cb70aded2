package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DataFormatter;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A coordinator's files with a coordinator's faults: each gets the status and the message that sections 1, 2, 6 and 14 of the formats
 * say, and an advice that names the option which reads it. All data invented.
 */
class DeskTrialTest {
    @TempDir
    private Path folder;

    private static final String QUICKDASH =
            IntStream.rangeClosed(1, 11).mapToObj(i -> "quickdash_" + i).collect(Collectors.joining(","));

    private String file(String name, String content) throws IOException {
        return Files.writeString(folder.resolve(name), content).toString();
    }

    private static Run run(String... args) {
        String[] all = new String[args.length + 2];
        System.arraycopy(args, 0, all, 0, args.length);
        all[args.length] = "--as-of";
        all[args.length + 1] = "2026-11-25";
        return Run.of(List.of(all));
    }

    private static void says(Run run, int status, String... texts) {
        assertEquals(status, run.status(), run.err());
        for (String text : texts) {
            assertTrue(run.err().contains(text), "'" + text + "' is not in: " + run.err());
        }
    }

    private String quickdash(String answers) throws IOException {
        return file("r.csv", "patient,completed_on," + QUICKDASH + "\nP1,2026-03-09," + answers + "\n");
    }

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

    private static String twos(int n) {
        return String.join(",", Collections.nCopies(n, "2"));
    }

    private static void saysNot(Run run, String... texts) {
        for (String text : texts) {
            assertFalse(run.err().contains(text), "'" + text + "' is in: " + run.err());
        }
    }

    /** A workbook of texts: a sheet for each name, a row for each line, a cell at each bar. */
    private String book(String name, Map<String, List<String>> sheets) throws IOException {
        Path path = folder.resolve(name);
        try (XSSFWorkbook workbook = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(path)) {
            sheets.forEach((title, lines) -> {
                XSSFSheet sheet = workbook.createSheet(title);
                for (int i = 0; i < lines.size(); i++) {
                    String[] cells = lines.get(i).split("\\|", -1);
                    Row row = sheet.createRow(i);
                    for (int c = 0; c < cells.length; c++) {
                        row.createCell(c).setCellValue(cells[c]);
                    }
                }
            });
            workbook.write(out);
        }
        return path.toString();
    }

    @Test
    void twoTicksAreNeverToBeTakenAwayFromAllRows() throws IOException {
        for (String ticks : List.of("2,3", "4-5", "2 3", "4,5")) {
            Run run = run("check", quickdash("\"" + ticks + "\"," + twos(10)));
            says(run, 1, "response-not-allowed (" + ticks + ")", "Look at the form and correct the cell.");
            saysNot(run, "--not-answered", "--codes", "--decimal-comma");
        }
    }

    @Test
    void aTextForNothingThatIsAnAnswerIsToldWithItsColumnsAndCount() throws IOException {
        String responses = file(
                "r.csv",
                "patient,completed_on,sane_1," + QUICKDASH + "\nP1,2026-03-09,99," + twos(11) + "\nP2,2026-03-09,50,1,"
                        + twos(10) + "\n");
        says(
                run("score", responses, "--not-answered", "99,2"),
                0,
                "note-answers-taken-away (2). You say that '2' means not answered, and it is an allowed answer of quickdash_1,"
                        + " quickdash_2, quickdash_3, quickdash_4, quickdash_5 and 6 more columns: 21 answers of this file count as"
                        + " not answered.",
                "note-answers-taken-away (99). You say that '99' means not answered, and it is an allowed answer of sane_1:"
                        + " 1 answer of");
        saysNot(run("score", responses, "--not-answered", "n/a"), "taken-away");
    }

    @Test
    void quotesThatACommandLineLeavesAroundATextAreNoPartOfIt() throws IOException {
        String file = quickdash("k.A.,n/a," + twos(9));
        says(run("score", file, "--not-answered", "'k.A.','n/a'"), 0);
        says(run("score", file, "--not-answered", "'k.A.,n/a'"), 0);
    }

    private String dates(String... dates) throws IOException {
        StringBuilder rows = new StringBuilder("patient,completed_on,sane_1\n");
        for (String date : dates) {
            rows.append("P").append(rows.length()).append(',').append(date).append(",50\n");
        }
        return file("r.csv", rows.toString());
    }

    @Test
    void onlyAStyleThatFitsEveryDateIsOffered() throws IOException {
        Run american = run("check", dates("01/05/2026", "02/26/2026"));
        says(american, 1, "--date-format MM/dd/yyyy reads it.");
        saysNot(american, "dd/MM/yyyy");
        Run either = run("check", dates("01/05/2026", "02/06/2026"));
        says(
                either,
                1,
                "Which style is meant cannot be told from the file: --date-format dd/MM/yyyy or --date-format MM/dd/yyyy.");
        saysNot(either, "reads it");
        saysNot(run("score", dates("25/05/2026", "02/26/2026")), "--date-format");
        says(run("check", dates("05.01.26", "28.02.26")), 1, "--date-format dd.MM.yy reads it.");
        says(run("check", dates("05.01.26", "28.02.26"), "--date-format", "dd.MM.yy"), 0);
    }

    @Test
    void aStyleThatSwapsSomeDatesIsToldWithHowManyAnotherFits() throws IOException {
        String file = dates("01/05/2026", "02/05/2026", "26/02/2026", "2026-03-01");
        says(
                run("score", file, "--date-format", "MM/dd/yyyy"),
                1,
                "date-not-iso (26/02/2026)",
                "note-date-style-in-doubt (MM/dd/yyyy). This style fits 2 of 3 dates that are not ISO dates. dd/MM/yyyy fits 3.");
        saysNot(run("score", file, "--date-format", "dd/MM/yyyy"), "note-date-style-in-doubt");
        String episodes = file(
                "e.csv", "patient,episode,treated_side,index_date\nP1,a,right,01/05/2026\nP2,a,right,26/02/2026\n");
        says(
                run("check", dates("2026-03-01"), "--episodes", episodes, "--date-format", "MM/dd/yyyy"),
                1,
                "column index_date: note-date-style-in-doubt (MM/dd/yyyy). This style fits 1 of 2 dates");
    }

    @Test
    void aMapOfHeadingsWithBlanksIsGivenBackAsItIs() throws IOException {
        for (String name : List.of("map.csv", "map.xlsx")) {
            String map = folder.resolve(name).toString();
            String file = file("r.csv", "Patient,completed_on,SANE Q1,Remarks,sex\nP1,2026-03-09,50,free text,f\n");
            says(run("check", file, "--suggest-columns", map), 0, "to fill in 2");
            says(
                    run("score", file, "--columns", map),
                    0,
                    "note-columns-left-out. Your map of headings leaves blank what these mean, so they are not used:"
                            + " remarks, sex.");
        }
    }

    @Test
    void aHeadingOfTheMapThatNoFileHasIsNamed() throws IOException {
        String file = file("r.csv", "patient,completed_on,Q1\nP1,2026-03-09,50\n");
        String map = file("map.csv", "heading,column\nQ1,sane_1\nQuestion 7,quickdash_7\nRemarks,\nidx,index_date\n");
        says(
                run("score", file, "--columns", map),
                0,
                "map.csv row 3, column heading: note-mapping-not-used (question 7). No file has this heading",
                "(3 of this kind");
        String episodes = file("e.csv", "patient,episode,treated_side,idx\nP1,a,right,2026-03-01\n");
        says(run("check", file, "--columns", map, "--episodes", episodes), 0, "(2 of this kind");
    }

    @Test
    void everyFaultOfAMapOfAnswersIsNamed() throws IOException {
        String file = quickdash("Ingen," + twos(10));
        String codes = file(
                "c.csv",
                "column,text,code\nquickdash_1,Ingen,7\nquickdsh_2,Lidt,2\nquickdash,Noget,\nside,rechts,links\n"
                        + "quickdash,Meget,12\n*,Alt,5\n");
        says(
                run("score", file, "--codes", codes),
                2,
                "4 faults in the map of answers; none of it is used.",
                "c.csv row 2: the code 7 is not allowed for quickdash_1. Allowed responses are 1, 2, 3, 4, 5, or blank.",
                "c.csv row 3: there is no column or instrument 'quickdsh_2'. Did you mean quickdash_2?",
                "c.csv row 5: the code links is no side. Write right, left or both.",
                "c.csv row 6: the code 12 is not allowed for any item of quickdash.");
        String missing = file("d.csv", "column,text,code\nquickdash,Ingen,99\n");
        says(run("score", file, "--codes", missing, "--not-answered", "99"), 0);
    }

    @Test
    void anEpisodeThatEndedOnNoDayIsToldAndNobodyIsCalled() throws IOException {
        String responses =
                file("r.csv", "patient,completed_on,side,sane_1\nP1,2026-11-01,right,50\nP2,2026-11-01,left,50\n");
        String episodes = file(
                "e.csv",
                "patient,episode,treated_side,index_date,closed_on,closed_reason\nP1,a,right,2026-11-02,,died\n"
                        + "P2,a,left,2026-11-02,,\n");
        Run run = run("due", responses, "--episodes", episodes);
        says(
                run,
                1,
                "row 2, column closed_on: closed-on-missing. closed_reason says that the episode has ended (died), and the day is"
                        + " missing. Nothing is asked for any more, at any visit. Fill in closed_on, or empty closed_reason.");
        assertFalse(run.out().contains("P1,a"), run.out());
        assertTrue(run.out().contains("P2,a,left,2 weeks"), run.out());
        assertFalse(run("due", responses, "--episodes", episodes, "--state", "open,late,missed,not-yet")
                .out()
                .contains("P1,a"));
    }

    @Test
    void aYearThatIsACenturyOffIsTold() throws IOException {
        String file = dates("1926-03-09", "2027-03-09", "2026-03-09");
        for (String command : List.of("score", "check")) {
            says(
                    run(command, file),
                    1,
                    "row 2, column completed_on: date-long-ago (1926-03-09). The form would have been filled in on 1926-03-09,"
                            + " about 100 years ago or more. Look at the form and correct the year.",
                    "row 3, column completed_on: date-in-future (2027-03-09)");
        }
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\nP1,a,right,1926-05-01\n");
        says(
                run("check", dates("2026-03-09"), "--episodes", episodes),
                1,
                "column index_date: date-long-ago (1926-05-01)");
    }

    @Test
    void aNameWhoseEndingLiesIsRefused() throws IOException {
        String responses = quickdash(twos(11));
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\nP1,a,right,2026-03-01\n");
        String csv = folder.resolve("b.csv").toString();
        says(run("track", responses, "--episodes", episodes, "--out", csv), 2, "--out b.csv", "ends in .xlsx");
        says(Run.of(List.of("entry-form", "quickdash", "--out", csv)), 2, "--out b.csv", "ends in .xlsx");
        says(
                Run.of(List.of(
                        "entry-form",
                        "quickdash",
                        "--out",
                        folder.resolve("f.pdf").toString())),
                2,
                "--out f.pdf");
        says(Run.of(List.of("entry-form", "--episodes", "--out", csv)), 2, "--out b.csv");
        says(
                Run.of(List.of(
                        "entry-form",
                        "quickdash",
                        "--csv",
                        "--out",
                        folder.resolve("h.xlsx").toString())),
                2,
                "ends in .csv");
        says(Run.of(List.of("verify", "--out", folder.resolve("v.xlsx").toString())), 2, "--out v.xlsx", "plain text");
        assertEquals(
                0,
                Run.of(List.of("entry-form", "quickdash", "--csv", "--out", csv))
                        .status());
    }

    @Test
    void aWholeNumberWithADecimalCommaIsRead() throws IOException {
        String file = quickdash("\"3,0\",3.0," + twos(9));
        says(run("check", file), 1, "response-not-allowed (3,0)", "--decimal-comma reads it.");
        saysNot(run("check", file), "--not-answered");
        says(run("check", file, "--decimal-comma"), 0);
        Run ticks = run("check", quickdash("\"2,3\"," + twos(10)), "--decimal-comma");
        says(ticks, 1, "response-not-allowed (2,3)");
    }

    @Test
    void scoresOfAFormThatASpreadsheetSavedWithACommaAreRight() throws IOException {
        String heading = "patient;completed_on;" + QUICKDASH.replace(',', ';')
                + ";quickdash total score;quickdash total lowest\n";
        // 11 items, of which one is 1 and ten are 2: (21/11 - 1) * 25, by the rule of the published form
        String file = file(
                "f.csv",
                heading + "P1;2026-03-09;1;" + twos(10).replace(',', ';') + ";22,7272727272727;22,7272727272727\n");
        says(
                run("check", file),
                1,
                "form-score-differs (22,7272727272727). The score is written with a decimal comma",
                "--decimal-comma reads it.");
        says(run("check", file, "--decimal-comma"), 0);
        String wrong = file(
                "g.csv",
                heading + "P1;2026-03-09;1;" + twos(10).replace(',', ';') + ";23,7272727272727;22,7272727272727\n");
        says(
                run("check", wrong, "--decimal-comma"),
                1,
                "form-score-differs (23,7272727272727). By the definition's rules");
    }

    @Test
    void theSheetThatIsMeantIsAskedForByName() throws IOException {
        Map<String, List<String>> sheets = new LinkedHashMap<>();
        sheets.put("Deckblatt", List.of("Klinik Musterhausen (erfunden)", "Stand|März"));
        sheets.put("Daten", List.of("Pat|Datum|SANE Q1|Bemerkung", "P1|2026-03-09|50|-"));
        String book = book("b.xlsx", sheets);
        says(
                run("check", book),
                2,
                "no sheet has a header with the columns patient and completed_on. Read was the sheet 'Deckblatt'; the others are"
                        + " 'Daten'. --sheet NAME chooses another sheet.",
                "--columns MAP.csv");
        String map = folder.resolve("map.csv").toString();
        says(run("check", book, "--suggest-columns", map), 0, "b.xlsx, sheet 'Daten': headings known 0, guessed 1");
        assertTrue(Files.readString(Path.of(map)).contains("sane q1,sane_1"));
        says(
                run("check", quickdash(twos(11)), "--episodes", book),
                2,
                "the header lacks patient, episode, treated_side, index_date.",
                "Read was the sheet 'Deckblatt'; the others are 'Daten'.");
    }

    @Test
    void aFileOfAnotherKindIsCalledByItsName() throws IOException {
        says(run("check", file("a.csv", "%PDF-1.7\n%")), 2, "a.csv: this is a PDF, no table.");
        Path png = folder.resolve("b.csv");
        Files.write(png, new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10});
        says(run("check", png.toString()), 2, "b.csv: this is a picture, no table.");
        Files.write(png, new byte[] {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF, (byte) 0xE0});
        says(run("check", png.toString()), 2, "this is a picture, no table.");
        Path docx = folder.resolve("c.docx");
        try (ZipOutputStream zip = new ZipOutputStream(Files.newOutputStream(docx))) {
            for (String[] part : new String[][] {
                {
                    "[Content_Types].xml",
                    "<?xml version=\"1.0\"?><Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">"
                            + "<Default Extension=\"xml\" ContentType=\"application/xml\"/></Types>"
                },
                {"word/document.xml", "<a/>"}
            }) {
                zip.putNextEntry(new ZipEntry(part[0]));
                zip.write(part[1].getBytes(StandardCharsets.UTF_8));
                zip.closeEntry();
            }
        }
        says(run("check", docx.toString()), 2, "c.docx: this is a text document (DOCX), no table.");
    }

    @Test
    void aNumberForNothingIsNotTakenForAScore() throws IOException {
        Run run = run("check", quickdash("99,99," + twos(9)));
        says(run, 1, "(2 of this kind", "add --not-answered '99'");
        saysNot(run, "A score of the form seems to stand");
        says(run("check", quickdash("45," + twos(10))), 1, "A score of the form seems to stand");
    }

    @Test
    void everyFaultOfAnEpisodeIsTold() throws IOException {
        String episodes = file(
                "e.csv",
                "patient,episode,treated_side,index_date,sex,birth_year\n,,links,5 May,woman,26\nP1,a,links,2026-03-01,f,1960\n");
        String responses = quickdash(twos(11));
        says(
                run("check", responses, "--episodes", episodes),
                1,
                "row 2, column patient: patient-missing",
                "row 2, column episode: episode-missing",
                "row 2, column treated_side: side-not-known (links)",
                "--codes CODES.csv (column,text,code) with the row treated_side,links,right or treated_side,links,left",
                "row 2, column index_date: date-not-iso (5 May)",
                "row 2, column sex: value-not-allowed (woman)",
                "row 2, column birth_year: value-not-allowed");
        String codes = file("c.csv", "column,text,code\ntreated_side,links,left\n");
        saysNot(run("check", responses, "--episodes", episodes, "--codes", codes), "side-not-known");
    }

    @Test
    void everyFaultOfAScheduleIsTold() throws IOException {
        String schedule = file(
                "s.csv",
                "visit,target_day,from_day,to_day,role,forms\n,soon,-90,0,before,\n6 weeks,42,28,x,follow-up,nosuch\n");
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\nP1,a,right,2026-03-01\n");
        says(
                run("due", quickdash(twos(11)), "--episodes", episodes, "--schedule", schedule),
                2,
                "5 faults in the schedule; it is not used.",
                "s.csv row 2, column visit: the visit has no name.",
                "s.csv row 2, column target_day: write a whole number of days",
                "s.csv row 2, column role: write baseline or follow-up.",
                "s.csv row 3, column to_day: write a whole number of days",
                "s.csv row 3, column forms: 'nosuch' is no instrument.");
    }

    @Test
    void zerosThatACellShowsAndDoesNotHoldAreTold() throws IOException {
        Path book = folder.resolve("zeros.xlsx");
        try (XSSFWorkbook workbook = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(book)) {
            CellStyle padded = workbook.createCellStyle();
            padded.setDataFormat(workbook.createDataFormat().getFormat("0000"));
            XSSFSheet sheet = workbook.createSheet("Forms");
            Row header = sheet.createRow(0);
            header.createCell(0).setCellValue("patient");
            header.createCell(1).setCellValue("completed_on");
            header.createCell(2).setCellValue("sane_1");
            Row row = sheet.createRow(1);
            row.createCell(0).setCellValue(42);
            row.getCell(0).setCellStyle(padded);
            row.createCell(1).setCellValue("2026-03-09");
            row.createCell(2).setCellValue(50);
            workbook.write(out);
        }
        says(
                run("score", book.toString()),
                0,
                "row 2, column patient: note-leading-zeros (42). The cell shows leading zeros and holds the number 42, here for the"
                        + " first time; 42 is read.",
                "give the column the cell format 'text'");
        String responses = file("r.csv", "patient,completed_on,side,sane_1\n0040,2026-03-09,right,50\n");
        says(run("explain", "sane", responses, "--patient", "40"), 2, "Did you mean '0040'?");
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\n40,a,right,2026-03-01\n");
        says(
                run("check", responses, "--episodes", episodes),
                1,
                "in a spreadsheet give the ids the cell format 'text'");
    }

    @Test
    void theWordsThatAreNotUnderstoodAreListedWithTheirCounts() throws IOException {
        says(
                run("check", quickdash("Lidt,Ingen,Ingen,Noget,Ingen,Lidt," + twos(5))),
                1,
                "6 of this kind; this is the first",
                "    found: 'Ingen' 3, 'Lidt' 2, 'Noget' 1");
        says(
                run("check", quickdash("a,b,c,d,e,f,g,h,i,j,k")),
                1,
                "    found: 'a' 1, 'b' 1, 'c' 1, 'd' 1, 'e' 1, 'f' 1, 'g' 1, 'h' 1, 'i' 1, 'j' 1, and 1 more");
    }

    @Test
    void aFileOfHeadingsAloneIsTold() throws IOException {
        String header = "patient,completed_on,sane_1\n";
        for (String file :
                List.of(file("a.csv", header), file("b.csv", header.strip()), file("c.csv", header + "\n,,\n"))) {
            says(run("score", file), 0, "note-no-rows. The file has headings and no rows below them.");
        }
        String episodes = file("e.csv", "patient,episode,treated_side,index_date\n");
        says(
                run("check", dates("2026-03-09"), "--episodes", episodes),
                1,
                "e.csv: note-no-rows. The table of episodes");
    }

    @Test
    void mapsInTheEncodingOfTheExportAreRead() throws IOException {
        Charset western = Charset.forName("windows-1252");
        Path map = Files.writeString(folder.resolve("m.csv"), "heading,column\nFöhn,sane_1\n", western);
        Path file =
                Files.writeString(folder.resolve("w.csv"), "patient,completed_on,Föhn\nP1,2026-03-09,weiß\n", western);
        Path codes = Files.writeString(folder.resolve("c.csv"), "column,text,code\nsane_1,weiß,50\n", western);
        String[] words = {"score", file.toString(), "--columns", map.toString(), "--codes", codes.toString()};
        Run without = run(words);
        says(
                without,
                2,
                "the text is not UTF-8 throughout. Save it as CSV UTF-8 or as XLSX.",
                "--encoding windows-1252");
        String[] with = Arrays.copyOf(words, words.length + 2);
        with[words.length] = "--encoding";
        with[words.length + 1] = "windows-1252";
        Run run = run(with);
        says(run, 0);
        assertTrue(run.out().contains(",sane,total,50,complete,"), run.out());
        Files.writeString(codes, "column,text,code\nsane_1,weiß,60\n"); // UTF-8 beside it
        assertTrue(run(with).out().contains(",sane,total,60,complete,"));
    }

    @Test
    void aDecidedValueThatTheItemDoesNotAllowIsNotTaken() throws IOException {
        String first = file("a.csv", "patient,completed_on,side,quickdash_1\n0042,2026-03-09,right,2\n");
        String second = file("b.csv", "patient,completed_on,side,quickdash_1\n0042,2026-03-09,right,3\n");
        String head = "patient,completed_on,side,episode,column,first,second,decision,value\n";
        String bad = file("d.csv", head + "0042,2026-03-09,right,,quickdash_1,2,3,value,9\n");
        Path agreed = folder.resolve("agreed.csv");
        says(
                run("reconcile", first, second, "--decisions", bad, "--out", agreed.toString()),
                1,
                "d.csv row 2, column value: response-not-allowed (9). This is not taken for quickdash_1, and the difference stays"
                        + " open. Allowed responses are 1, 2, 3, 4, 5, or blank.",
                "decided 0, open 1");
        assertFalse(Files.readString(agreed).contains("9\r\n"), Files.readString(agreed));
        String good = file("e.csv", head + "42,2026-03-09,right,,quickdash_1,2,3,value,\"4,0\"\n");
        says(
                run("reconcile", first, second, "--decisions", good, "--out", agreed.toString(), "--overwrite"),
                0,
                "decided 1, open 0");
        assertTrue(Files.readString(agreed).contains("0042,2026-03-09,right,4\r\n"), Files.readString(agreed));
    }

    @Test
    void aProblemThatWasDecidedIsNoneAnyMore() throws IOException {
        String first = file("a.csv", "patient,completed_on,side,quickdash_1\nP1,2026-03-09,right,7\n");
        String second = file("b.csv", "patient,completed_on,side,quickdash_1\nP1,2026-03-09,right,3\n");
        says(run("reconcile", first, second), 1, "response-not-allowed (7)");
        String decisions = file(
                "d.csv",
                "patient,completed_on,side,episode,column,first,second,decision,value\n"
                        + "P1,2026-03-09,right,,quickdash_1,7,3,second,\n");
        says(run("reconcile", first, second, "--decisions", decisions), 0, "open 0");
        String both = file("c.csv", "patient,completed_on,side,quickdash_1\nP1,2026-03-09,right,7\n");
        says(run("reconcile", first, both), 1, "differences 0: decided 0, open 0");
    }

    /** A form without any answer did not come in, wherever it is counted. */
    @Test
    void aBlankFormDidNotComeIn() throws IOException {
        String responses = file(
                "r.csv",
                "patient,completed_on,side,sane_1,quickdash_1\nP1,2026-03-01,right,50,\nP2,2026-03-01,left,,\n");
        String episodes = file(
                "e.csv",
                "patient,episode,treated_side,index_date,forms\nP1,a,right,2026-03-02,sane quickdash\n"
                        + "P2,a,left,2026-03-02,sane\n");
        Path book = folder.resolve("o.xlsx");
        says(run("track", responses, "--episodes", episodes, "--out", book.toString()), 0);
        try (XSSFWorkbook workbook = new XSSFWorkbook(Files.newInputStream(book))) {
            XSSFSheet overview = workbook.getSheet("Overview");
            List<String> texts = new ArrayList<>();
            overview.forEach(row -> row.forEach(cell -> texts.add(new DataFormatter().formatCellValue(cell))));
            assertFalse(texts.contains("no-answers"), texts.toString());
            int at = texts.indexOf("reason");
            assertEquals("none", texts.get(at + 2), texts.toString());
        }
    }

    @Test
    void theLastLinesSayWhatTheyCount() throws IOException {
        Run run = run("score", file("r.csv", "patient,completed_on,sane_1,quickdash_1\nP1,2026-03-09,50,\n"));
        says(run, 0, "questionnaires left blank on these rows (each instrument of the file counts by itself) 1");
        saysNot(run, "forms without an answer", "sitting");
    }
}
