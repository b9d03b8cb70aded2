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
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipEntry;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.DataFormatter;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;

/**
 * What a second coordinator ran into: advice that would have done harm, faults that passed in silence, messages that blamed the wrong
 * thing. All data invented.
 */
class DeskHarmTest extends DeskTrial {
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
