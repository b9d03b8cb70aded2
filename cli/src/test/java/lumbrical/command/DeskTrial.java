package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.io.TempDir;

/** Invented files of a coordinator, and what the program says of them. */
abstract class DeskTrial {
    @TempDir
    Path folder;

    static final String QUICKDASH =
            IntStream.rangeClosed(1, 11).mapToObj(i -> "quickdash_" + i).collect(Collectors.joining(","));

    String file(String name, String content) throws IOException {
        return Files.writeString(folder.resolve(name), content).toString();
    }

    static Run run(String... args) {
        String[] all = new String[args.length + 2];
        System.arraycopy(args, 0, all, 0, args.length);
        all[args.length] = "--as-of";
        all[args.length + 1] = "2026-11-25";
        return Run.of(List.of(all));
    }

    static void says(Run run, int status, String... texts) {
        assertEquals(status, run.status(), run.err());
        for (String text : texts) {
            assertTrue(run.err().contains(text), "'" + text + "' is not in: " + run.err());
        }
    }

    String quickdash(String answers) throws IOException {
        return file("r.csv", "patient,completed_on," + QUICKDASH + "\nP1,2026-03-09," + answers + "\n");
    }

    static String twos(int n) {
        return String.join(",", Collections.nCopies(n, "2"));
    }

    static void saysNot(Run run, String... texts) {
        for (String text : texts) {
            assertFalse(run.err().contains(text), "'" + text + "' is in: " + run.err());
        }
    }

    /** A workbook of texts: a sheet for each name, a row for each line, a cell at each bar. */
    String book(String name, Map<String, List<String>> sheets) throws IOException {
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
}
