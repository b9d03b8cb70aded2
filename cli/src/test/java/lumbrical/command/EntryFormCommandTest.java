package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.FormulaEvaluator;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Forms made by the command and read back by the others. */
class EntryFormCommandTest {
    private static final String DAY = "2026-11-25";

    @TempDir
    private Path folder;

    private Run run(String... words) {
        return Run.of(List.of(words));
    }

    private String at(String name) {
        return folder.resolve(name).toString();
    }

    @Test
    void eitherInstrumentsOrEpisodesAreNamed() {
        Run neither = run("entry-form", "--out", at("form.xlsx"));
        assertEquals(2, neither.status());
        assertTrue(
                neither.err()
                        .contains(
                                "Name one or more instruments by their ids, or give --episodes. 'instruments' lists the"
                                        + " ids."),
                neither.err());
        Run both = run("entry-form", "quickdash", "--episodes", "--out", at("form.xlsx"));
        assertEquals(2, both.status());
        assertTrue(
                both.err()
                        .contains("--episodes makes the form for the table of episodes; leave out the instruments, or"
                                + " --episodes."),
                both.err());
        assertTrue(Files.notExists(folder.resolve("form.xlsx")));
    }

    @Test
    void theHeadingsAloneAreThoseToFillIn() {
        Run form = run("entry-form", "nprs", "--csv");
        assertEquals(0, form.status(), form.err());
        assertEquals(
                "patient,completed_on,side,episode,nprs_rest,nprs_activity,nprs_average,nprs_worst\r\n", form.out());
        Run episodes = run("entry-form", "--episodes", "--csv");
        assertEquals(
                "patient,episode,treated_side,index_date,dominant_side,sex,birth_year,condition,procedure,forms,closed_on,"
                        + "closed_reason,share\r\n",
                episodes.out());
    }

    @Test
    void theSameFormGivesTheSameBytes() throws IOException {
        for (String name : List.of("one.xlsx", "two.xlsx")) {
            Run form = run("entry-form", "quickdash", "grc", "--as-of", DAY, "--out", at(name));
            assertEquals(0, form.status(), form.err());
        }
        assertEquals(-1, Files.mismatch(folder.resolve("one.xlsx"), folder.resolve("two.xlsx")));
    }

    /** The worked example of the federal guide: these eleven responses give 50. */
    private void fillIn(String name) throws IOException {
        int[] example = {3, 4, 3, 2, 2, 4, 3, 4, 3, 2, 3};
        Path file = folder.resolve(name);
        try (InputStream in = Files.newInputStream(file);
                XSSFWorkbook book = new XSSFWorkbook(in)) {
            Sheet sheet = book.getSheetAt(0);
            List<String> headings = new ArrayList<>();
            sheet.getRow(0).forEach(c -> headings.add(c.getStringCellValue()));
            Row row = sheet.getRow(1);
            row.createCell(0).setCellValue("007");
            Cell day = row.createCell(1);
            day.setCellValue(LocalDate.of(2026, 3, 9));
            day.setCellStyle(sheet.getColumnStyle(1));
            row.createCell(2).setCellValue("right");
            row.createCell(3).setCellValue("E1");
            for (int i = 0; i < example.length; i++) {
                row.createCell(headings.indexOf("quickdash_" + (i + 1))).setCellValue(example[i]);
            }
            FormulaEvaluator evaluator = book.getCreationHelper().createFormulaEvaluator();
            for (Row each : sheet) {
                each.forEach(evaluator::evaluateFormulaCell);
            }
            Path filled = folder.resolve("filled-" + name);
            try (OutputStream out = Files.newOutputStream(filled)) {
                book.write(out);
            }
        }
    }

    @Test
    void aFilledFormIsScoredWithoutAnyOption() throws IOException {
        run("entry-form", "quickdash", "--as-of", DAY, "--out", at("form.xlsx"));
        fillIn("form.xlsx");
        Run score = run("score", at("filled-form.xlsx"), "--as-of", DAY);
        assertEquals(0, score.status(), score.err());
        List<String> rows = score.out().lines().toList();
        assertEquals(2, rows.size());
        assertTrue(rows.get(1).startsWith("007,E1,right,2026-03-09,,quickdash,total,50,complete,"), rows.get(1));
        assertTrue(!score.err().contains("unused"), score.err());
    }

    /** The form saved as CSV, where the scores are plain numbers. */
    @Test
    void aScoreThatDiffersIsAProblemInCsvToo() throws IOException {
        Path csv = folder.resolve("form.csv");
        Files.writeString(
                csv,
                "patient,completed_on,nprs_rest,NPRS rest score,nprs rest lowest,nprs rest why\n"
                        + "P1,2026-03-09,4,4,4,\n"
                        + "P2,2026-03-09,4,5,4,\n"
                        + ",,,,,\n");
        Run score = run("score", csv.toString(), "--as-of", DAY, "--problems", at("problems.csv"));
        assertEquals(1, score.status(), score.err());
        assertEquals(3, score.out().lines().count());
        List<String> problems = Files.readAllLines(folder.resolve("problems.csv")).stream()
                .filter(line -> !line.contains(",note-"))
                .toList();
        assertEquals(2, problems.size(), problems.toString());
        assertTrue(
                problems.get(1)
                        .startsWith(
                                "form.csv,3,nprs rest score,5,form-score-differs,\"By the definition's rules the responses"
                                        + " of this row give 4. "),
                problems.get(1));
    }

    /** A score whose items the file lacks is a column without a use, and named as such. */
    @Test
    void aScoreWithoutItsItemsIsUnused() throws IOException {
        Path csv = folder.resolve("form.csv");
        Files.writeString(
                csv,
                "patient,completed_on,nprs_rest,quickdash total score,nprs rest right score\nP1,2026-03-09,4,50,4\n");
        Run score = run("score", csv.toString(), "--as-of", DAY);
        assertEquals(0, score.status(), score.err());
        assertTrue(score.err().contains("quickdash total score"), score.err());
        assertTrue(score.err().contains("nprs rest right score"), score.err());
    }

    @Test
    void anEpisodesFormIsATableOfEpisodes() throws IOException {
        Run form = run("entry-form", "--episodes", "--as-of", DAY, "--out", at("episodes.xlsx"));
        assertEquals(0, form.status(), form.err());
        try (InputStream in = Files.newInputStream(folder.resolve("episodes.xlsx"));
                XSSFWorkbook book = new XSSFWorkbook(in)) {
            Row row = book.getSheetAt(0).createRow(1);
            List<String> cells = List.of("007", "E1", "right");
            for (int i = 0; i < cells.size(); i++) {
                row.createCell(i).setCellValue(cells.get(i));
            }
            Cell day = row.createCell(3);
            day.setCellValue(LocalDate.of(2026, 3, 9));
            day.setCellStyle(book.getSheetAt(0).getColumnStyle(3));
            try (OutputStream out = Files.newOutputStream(folder.resolve("filled.xlsx"))) {
                book.write(out);
            }
        }
        run("entry-form", "quickdash", "--as-of", DAY, "--out", at("form.xlsx"));
        fillIn("form.xlsx");
        Run check = run("check", at("filled-form.xlsx"), "--episodes", at("filled.xlsx"), "--as-of", DAY);
        assertEquals(0, check.status(), check.err() + check.out());
    }
}
