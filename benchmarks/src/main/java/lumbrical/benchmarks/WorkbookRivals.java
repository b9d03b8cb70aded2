package lumbrical.benchmarks;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.usermodel.WorkbookFactory;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** What ours is held against on workbooks. Each is a process of its own. */
public final class WorkbookRivals {
    private WorkbookRivals() {}

    /** {@code xssf OUT}, {@code sxssf OUT}, {@code xssf-in FILE}. */
    public static void main(String[] args) throws IOException {
        Path file = Path.of(args[1]);
        switch (args[0]) {
            case "xssf" -> workbook(new XSSFWorkbook(), file);
            case "sxssf" -> workbook(new SXSSFWorkbook(100), file);
            default -> readWorkbook(file);
        }
    }

    /** (d) A workbook read as a whole, and its cells looked at. */
    private static void readWorkbook(Path file) throws IOException {
        double sum = 0;
        try (Workbook book = WorkbookFactory.create(file.toFile(), null, true)) {
            for (Row row : book.getSheetAt(0)) {
                for (Cell cell : row) {
                    sum += cell.getCellType() == CellType.NUMERIC
                            ? cell.getNumericCellValue()
                            : cell.getStringCellValue().length();
                }
            }
        }
        System.out.println(sum);
    }

    /** (d) 200,000 rows of 20 cells. */
    private static void workbook(Workbook book, Path out) throws IOException {
        try (book;
                OutputStream stream = Files.newOutputStream(out)) {
            Sheet sheet = book.createSheet("Scores");
            for (int r = 0; r < 200_000; r++) {
                Row row = sheet.createRow(r);
                for (int c = 0; c < 20; c++) {
                    if (c < 5) {
                        row.createCell(c).setCellValue("text " + r % 100);
                    } else {
                        row.createCell(c).setCellValue(r * 0.25 + c);
                    }
                }
            }
            book.write(stream);
        }
    }
}
