package lumbrical.sheetxml;

import static org.junit.jupiter.api.Assertions.assertArrayEquals;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Date;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.apache.poi.ooxml.POIXMLDocumentPart;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.streaming.SXSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFSheet;
import org.apache.poi.xssf.usermodel.XSSFVMLDrawing;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Rows written here, against the same rows written by the workbook library; both read by that library. */
class PackedWorkbookTest {
    /** Invented, and as hostile as people's tables are. */
    private static final List<String> TEXTS = List.of(
            "plain",
            "",
            " begins and ends with blanks ",
            "<b>&amp;\"'</b> ]]>",
            "two\nlines\tand a tab\r\n",
            "\u0001\u001f\u007f\u0085",
            "Müller \u2265 \uD83D\uDE00",
            "\uD83D alone, and \uDE00",
            "\uFFFE\uFFFF",
            "=1+1",
            "long ".repeat(300));

    private static final double[] NUMBERS = {
        0, 1, -17, 45.454545454545454, 1e15, 1e16, -1e-7, 999_999_999, 1_000_000_000, 2.5e-310, Double.MAX_VALUE
    };

    private static final List<String> FORMULAS = List.of("1+1", "IF(A1<>\"\",NA(),100*(A1-$B$2)/'a & b'!C3)", "A1>2");

    @TempDir
    Path scratch;

    private interface Filling {
        void fill(SheetRows rows, CellStyle style);
    }

    private byte[] written(Filling filling) throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (XSSFWorkbook book = new XSSFWorkbook();
                PackedWorkbook packed = new PackedWorkbook(scratch)) {
            SheetRows rows = packed.rowsOf(book.createSheet("Rows"));
            filling.fill(rows, book.createCellStyle());
            book.getProperties().getCoreProperties().setCreated(Optional.of(new Date(0))); // else the time of the run
            packed.write(book, out);
        }
        return out.toByteArray();
    }

    /** The library throws that a part could not be saved, and not why. */
    @Test
    void whyTheDiskDidNotTakeItIsTold() throws IOException {
        int whole = written((rows, style) -> {}).length;
        for (int room = 0; room < whole; room += 200) {
            IOException full = new IOException("full, for the test");
            int left = room;
            OutputStream disk = new OutputStream() {
                private int taken;

                @Override
                public void write(int one) throws IOException {
                    if (taken++ == left) {
                        throw full;
                    }
                }
            };
            try (XSSFWorkbook book = new XSSFWorkbook();
                    PackedWorkbook packed = new PackedWorkbook(scratch)) {
                packed.rowsOf(book.createSheet("Rows"));
                assertSame(full, assertThrows(IOException.class, () -> packed.write(book, disk)));
            }
        }
    }

    @Test
    void cellsHoldWhatTheLibraryWouldHaveWritten() throws IOException {
        byte[] own = written((rows, style) -> {
            for (String text : TEXTS) {
                rows.text(0, style, text);
                rows.word(2, style, text);
                rows.word(3, style, text);
                rows.end();
            }
            for (double number : NUMBERS) {
                rows.number(701, style, number);
                rows.end(31.37f);
            }
            for (String formula : FORMULAS) {
                rows.formula(0, style, formula, OptionalDouble.of(45.454545454545454));
                rows.formula(1, style, formula, OptionalDouble.empty());
                rows.empty(2, style);
                rows.end();
            }
            assertEquals(TEXTS.size() + NUMBERS.length + FORMULAS.size(), rows.rows());
            assertEquals(702, rows.columns());
        });
        ByteArrayOutputStream theirs = new ByteArrayOutputStream();
        try (SXSSFWorkbook book = new SXSSFWorkbook()) {
            Sheet sheet = book.createSheet("Rows");
            for (String text : TEXTS) {
                Row row = sheet.createRow(sheet.getLastRowNum() + 1);
                row.createCell(0).setCellValue(text);
                row.createCell(2).setCellValue(text);
                row.createCell(3).setCellValue(text);
            }
            for (double number : NUMBERS) {
                Row row = sheet.createRow(sheet.getLastRowNum() + 1);
                row.setHeightInPoints(31.37f);
                row.createCell(701).setCellValue(number);
            }
            for (String formula : FORMULAS) {
                Row row = sheet.createRow(sheet.getLastRowNum() + 1);
                row.createCell(0).setCellFormula(formula);
                row.getCell(0).setCellValue(45.454545454545454);
                row.createCell(1).setCellFormula(formula);
                row.getCell(1).setCellValue("");
                row.createCell(2);
            }
            book.write(theirs);
        }
        List<String> expected = cells(theirs.toByteArray());
        assertEquals(3 * TEXTS.size() + NUMBERS.length + 3 * FORMULAS.size(), expected.size());
        assertEquals(expected, cells(own));
    }

    /** Address, height of the row, kind and content of every cell. */
    private static List<String> cells(byte[] file) throws IOException {
        try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(file))) {
            Stream.Builder<String> cells = Stream.builder();
            for (Row row : book.getSheetAt(0)) {
                row.forEach(cell -> cells.add(cell.getAddress() + " " + row.getHeight() + " " + cell.getCellType() + " "
                        + cell + " " + result(cell) + "|"));
            }
            return cells.build().toList();
        }
    }

    /** What a formula is said to give. */
    private static String result(Cell cell) {
        if (cell.getCellType() != CellType.FORMULA) {
            return "";
        }
        return cell.getCachedFormulaResultType() == CellType.NUMERIC
                ? "number " + cell.getNumericCellValue()
                : "text " + cell.getStringCellValue();
    }

    @Test
    void notesSayAndLookWhatTheLibraryWouldHaveWritten() throws IOException {
        List<String> texts = TEXTS.stream()
                .filter(t -> t.chars().noneMatch(c -> c < ' ' || c >= 0xFFFE)) // the library writes these as they are
                .toList();
        ByteArrayOutputStream own = new ByteArrayOutputStream();
        ByteArrayOutputStream theirs = new ByteArrayOutputStream();
        try (XSSFWorkbook book = new XSSFWorkbook();
                XSSFWorkbook whole = new XSSFWorkbook();
                PackedWorkbook packed = new PackedWorkbook(scratch)) {
            for (String name : List.of("One", "Two")) {
                SheetNotes notes = packed.notesOf(book.createSheet(name));
                XSSFSheet sheet = whole.createSheet(name);
                for (int i = 0; i < texts.size(); i++) {
                    notes.add(i, 700 + i, texts.get(i));
                    SheetNotes.byLibrary(sheet, i, 700 + i, texts.get(i));
                }
            }
            packed.write(book, own);
            whole.write(theirs);
        }
        List<String> expected = notes(theirs.toByteArray());
        assertEquals(2 * (texts.size() + 1), expected.size());
        assertEquals(expected, notes(own.toByteArray()));
    }

    /** Address and text of every note, and the part that holds the shapes. */
    private static List<String> notes(byte[] file) throws IOException {
        try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(file))) {
            Stream.Builder<String> notes = Stream.builder();
            for (Sheet sheet : book) {
                sheet.getCellComments().forEach((cell, note) -> notes.add(cell + " " + note.getString() + "|"));
                for (POIXMLDocumentPart part : ((XSSFSheet) sheet).getRelations()) {
                    if (part instanceof XSSFVMLDrawing) {
                        try (InputStream shapes = part.getPackagePart().getInputStream()) {
                            notes.add(new String(shapes.readAllBytes(), StandardCharsets.UTF_8));
                        }
                    }
                }
            }
            return notes.build().toList();
        }
    }

    @Test
    void manyBlocksMakeOneWholePartAndTheSameBytesEveryTime() throws IOException {
        Filling many = (rows, style) -> {
            Random random = new Random(2);
            for (int r = 0; r < 20_000; r++) {
                rows.text(0, style, "P" + random.nextInt());
                rows.word(1, style, "word " + random.nextInt(20_000));
                rows.number(2, style, random.nextDouble());
                rows.end();
            }
        };
        byte[] once = written(many);
        assertArrayEquals(once, written(many));
        long sheet = 0;
        try (ZipInputStream parts = new ZipInputStream(new ByteArrayInputStream(once))) {
            for (ZipEntry part = parts.getNextEntry(); part != null; part = parts.getNextEntry()) {
                long size = parts.readAllBytes().length; // fails where the check sum does not hold
                assertEquals(part.getSize(), size, part.getName());
                sheet = part.getName().endsWith("sheet1.xml") ? size : sheet;
            }
        }
        assertTrue(sheet > 5 * (1 << 18), "more blocks than may wait: " + sheet);
        try (XSSFWorkbook book = new XSSFWorkbook(new ByteArrayInputStream(once))) {
            assertEquals(19_999, book.getSheetAt(0).getLastRowNum());
            assertTrue(book.getSheetAt(0)
                    .getRow(19_999)
                    .getCell(1)
                    .getStringCellValue()
                    .startsWith("word "));
        }
    }

    @Test
    void leavesNoTemporaryFile() throws IOException {
        written((rows, style) -> rows.end());
        try (Stream<Path> left = Files.list(scratch)) {
            assertEquals(List.of(), left.toList());
        }
    }
}
