package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assumptions.assumeFalse;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.apache.poi.hssf.usermodel.HSSFWorkbook;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.apache.poi.xwpf.usermodel.XWPFDocument;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A table is told by its first bytes, whatever its name says. */
class TableFileTest {
    @TempDir
    private Path folder;

    private static String refusal(Path file) {
        return assertThrows(UnreadableInputException.class, () -> ReadRows.of(file))
                .getMessage();
    }

    @Test
    void theContentCountsAndNotTheName() throws IOException {
        Path text = Files.writeString(folder.resolve("t.xlsx"), "a,b\n");
        assertEquals(Map.of(1, List.of("a", "b")), ReadRows.of(text).rows);
        Path book = folder.resolve("t.csv");
        try (XSSFWorkbook written = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(book)) {
            written.createSheet().createRow(0).createCell(0).setCellValue("c");
            written.write(out);
        }
        assertEquals(Map.of(1, List.of("c")), ReadRows.of(book).rows);
    }

    @Test
    void aTextThatStartsLikeAWorkbookButIsShorterIsAText() throws IOException {
        assertEquals(Map.of(1, List.of("PK")), ReadRows.of(Files.writeString(folder.resolve("t"), "PK")).rows);
        assertEquals(Map.of(1, List.of("PKWU")), ReadRows.of(Files.writeString(folder.resolve("t"), "PKWU")).rows);
    }

    @Test
    void whatIsNoTableIsRefusedWithWhatToDo() throws IOException {
        assertEquals(
                "none.csv: there is no such file. Check the name and the folder.", refusal(folder.resolve("none.csv")));
        assertEquals(
                "sub: this is a folder. Name a CSV or XLSX file in it.",
                refusal(Files.createDirectory(folder.resolve("sub"))));
        assertEquals(
                "empty.csv: the file is empty. Export it again.",
                refusal(Files.createFile(folder.resolve("empty.csv"))));
        assertEquals(
                "t.ODS: this is an OpenDocument spreadsheet (ODS). Open it and save as XLSX, then read that.",
                refusal(Files.writeString(folder.resolve("t.ODS"), "PK\003\004")));
    }

    @Test
    void anOldWorkbookIsRefusedWithWhatToDo() throws IOException {
        Path file = folder.resolve("old.xls");
        try (HSSFWorkbook book = new HSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            book.createSheet();
            book.write(out);
        }
        assertEquals(
                "old.xls: this is an old XLS workbook or one with a password. Save it as XLSX without a password.",
                refusal(file));
    }

    /** The first bytes that the formats give: PDF (ISO 32000-1, 7.5.2), PNG (ISO 15948, 5.2), JPEG (ISO 10918-1, SOI), GIF 89a. */
    @Test
    void aScanIsRefusedWithWhatToDo() throws IOException {
        String advice =
                ", no table. Name the spreadsheet (XLSX) or CSV file from which it was made, or type the answers into an entry form.";
        Path file = folder.resolve("scan");
        assertEquals("scan: this is a PDF" + advice, refusal(Files.writeString(file, "%PDF-1.7")));
        assertEquals("scan: this is a picture" + advice, refusal(Files.writeString(file, "GIF89a")));
        assertEquals(
                "scan: this is a picture" + advice,
                refusal(Files.write(file, new byte[] {(byte) 0x89, 'P', 'N', 'G', 13, 10, 26, 10})));
        assertEquals(
                "scan: this is a picture" + advice,
                refusal(Files.write(file, new byte[] {(byte) 0xFF, (byte) 0xD8, (byte) 0xFF, (byte) 0xE0})));
    }

    @Test
    void aTextDocumentIsRefusedWithWhatToDo() throws IOException {
        Path file = folder.resolve("letter.docx");
        try (XWPFDocument document = new XWPFDocument();
                OutputStream out = Files.newOutputStream(file)) {
            document.createParagraph().createRun().setText("Dear colleague");
            document.write(out);
        }
        assertEquals(
                "letter.docx: this is a text document (DOCX), no table. Copy its table into a spreadsheet and save that as XLSX.",
                refusal(file));
    }

    @Test
    void theSheetsOfAWorkbookAreNamedInOrder() throws IOException {
        Path file = folder.resolve("t.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(file)) {
            book.createSheet("Visits");
            book.createSheet("Notes");
            book.write(out);
        }
        assertEquals(List.of("Visits", "Notes"), sheets(file));
        assertEquals(List.of(), sheets(Files.writeString(folder.resolve("t.csv"), "a,b")));
        assertEquals(List.of(), sheets(folder.resolve("none.xlsx")));
        Path broken = Files.write(folder.resolve("broken.xlsx"), new byte[] {'P', 'K', 3, 4, 0});
        assertEquals(
                "broken.xlsx: the workbook is damaged, unpacks to too much, or is none. Open it in a spreadsheet and save it again"
                        + " as XLSX.",
                assertThrows(UnreadableInputException.class, () -> sheets(broken))
                        .getMessage());
        assertEquals("", TableFile.sheetsRead(List.of("Visits")));
        assertEquals(
                " Read was the sheet 'Visits'; the others are 'Notes', 'More'.",
                TableFile.sheetsRead(List.of("Visits", "Notes", "More")));
    }

    private static List<String> sheets(Path file) {
        return TableFile.sheets(new Input(file, Optional.empty()));
    }

    @Test
    void aFileThatMayNotBeReadIsRefusedWithWhatToDo() throws IOException {
        assumeTrue(folder.getFileSystem().supportedFileAttributeViews().contains("posix"));
        Path file = Files.writeString(folder.resolve("t.csv"), "a");
        Files.setPosixFilePermissions(file, PosixFilePermissions.fromString("-w-------"));
        assumeFalse(Files.isReadable(file), "an administrator may read everything");
        assertEquals(
                "t.csv: the file may not be read. Close it in other programs, or ask for the right to read it.",
                refusal(file));
    }
}
