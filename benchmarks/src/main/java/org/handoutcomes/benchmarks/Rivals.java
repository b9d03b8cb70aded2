package org.handoutcomes.benchmarks;

import java.io.BufferedReader;
import java.io.BufferedWriter;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.usermodel.WorkbookFactory;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/** What ours is held against. Each is a process of its own. */
public final class Rivals {
    private static final CSVFormat CSV =
            CSVFormat.RFC4180.builder().setHeader().setSkipHeaderRecord(true).get();

    private Rivals() {}

    /**
     * {@code parse FILE}, {@code loop FILE OUT}, {@code bytes FILE}, {@code one}, {@code xssf OUT},
     * {@code sxssf OUT}, {@code xssf-in FILE}.
     */
    public static void main(String[] args) throws IOException {
        switch (args[0]) {
            case "parse" -> parse(Path.of(args[1]));
            case "loop" -> loop(Path.of(args[1]), Path.of(args[2]));
            case "bytes" -> bytes(Path.of(args[1]));
            case "xssf" -> workbook(new XSSFWorkbook(), Path.of(args[1]));
            case "xssf-in" -> readWorkbook(Path.of(args[1]));
            case "sxssf" -> workbook(new SXSSFWorkbook(100), Path.of(args[1]));
            default -> System.out.println("one line");
        }
    }

    /** (a) Commons CSV parses and nothing is scored. */
    private static void parse(Path file) throws IOException {
        long cells = 0;
        try (BufferedReader in = Files.newBufferedReader(file);
                CSVParser parser = CSVParser.parse(in, CSV)) {
            for (CSVRecord row : parser) {
                cells += row.size();
            }
        }
        System.out.println(cells);
    }

    /** (b) What an engineer would write in an afternoon: the same 19 columns for complete and nearly complete forms. */
    private static void loop(Path file, Path out) throws IOException {
        try (BufferedReader in = Files.newBufferedReader(file);
                CSVParser parser = CSVParser.parse(in, CSV);
                BufferedWriter writer = Files.newBufferedWriter(out);
                CSVPrinter printer = new CSVPrinter(writer, CSVFormat.RFC4180)) {
            printer.printRecord(
                    "patient",
                    "episode",
                    "side",
                    "completed_on",
                    "visit",
                    "instrument",
                    "scale",
                    "score",
                    "outcome",
                    "reason",
                    "items",
                    "answered",
                    "lowest",
                    "highest",
                    "better",
                    "definition",
                    "standard_error",
                    "ci_low",
                    "ci_high");
            for (CSVRecord row : parser) {
                double sum = 0;
                int n = 0;
                for (int i = 1; i <= 11; i++) {
                    String cell = row.get("quickdash_" + i);
                    if (!cell.isEmpty()) {
                        sum += Integer.parseInt(cell);
                        n++;
                    }
                }
                boolean scored = n >= 10;
                double low = ((sum + 11 - n) / 11 - 1) * 25;
                double high = ((sum + (11 - n) * 5) / 11 - 1) * 25;
                printer.printRecord(
                        row.get("patient"),
                        "",
                        row.get("side"),
                        row.get("completed_on"),
                        "",
                        "quickdash",
                        "total",
                        scored ? String.valueOf((sum / n - 1) * 25) : "",
                        n == 11 ? "complete" : scored ? "with-missing" : "not-scored",
                        scored ? "" : "too-few-answered",
                        11,
                        n,
                        low,
                        high,
                        "lower",
                        "quickdash@1",
                        "",
                        "",
                        "");
            }
        }
    }

    /** (c) The floor: read the bytes and sum them. */
    private static void bytes(Path file) throws IOException {
        long sum = 0;
        byte[] block = new byte[1 << 16];
        try (InputStream in = Files.newInputStream(file)) {
            for (int n = in.read(block); n >= 0; n = in.read(block)) {
                for (int i = 0; i < n; i++) {
                    sum += block[i];
                }
            }
        }
        System.out.println(sum);
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
