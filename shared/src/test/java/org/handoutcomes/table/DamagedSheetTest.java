package org.handoutcomes.table;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Optional;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.handoutcomes.catalogue.Catalogue;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DamagedSheetTest {
    @TempDir
    private Path folder;

    /** A workbook whose sheet breaks off in the middle. */
    private Path brokenOff() throws IOException {
        Path whole = folder.resolve("whole.xlsx");
        try (XSSFWorkbook book = new XSSFWorkbook();
                OutputStream out = Files.newOutputStream(whole)) {
            book.createSheet("a").createRow(0).createCell(0).setCellValue("patient");
            book.write(out);
        }
        Path broken = folder.resolve("broken.xlsx");
        try (ZipInputStream in = new ZipInputStream(Files.newInputStream(whole));
                ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(broken))) {
            for (ZipEntry part = in.getNextEntry(); part != null; part = in.getNextEntry()) {
                byte[] content = in.readAllBytes();
                out.putNextEntry(new ZipEntry(part.getName()));
                out.write(content, 0, part.getName().endsWith("sheet1.xml") ? content.length / 2 : content.length);
            }
        }
        return broken;
    }

    @Test
    void isRefusedInOurWordsAlone() throws IOException {
        Input input = new Input(brokenOff(), Optional.empty());
        PrintStream before = System.err;
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        System.setErr(new PrintStream(said, true, StandardCharsets.UTF_8));
        String message;
        try {
            message = assertThrows(
                            UnreadableInput.class,
                            () -> EpisodeReader.read(
                                    input, Catalogue.builtIn(), ReadOptions.asOf(LocalDate.parse("2026-11-25"))))
                    .getMessage();
        } finally {
            System.setErr(before);
        }
        assertEquals(
                "broken.xlsx: the workbook is damaged, unpacks to too much, or is none. Open it in a spreadsheet and save"
                        + " it again as XLSX.",
                message);
        assertEquals(
                0,
                said.toString(StandardCharsets.UTF_8)
                        .lines()
                        .filter(l -> l.contains("[Fatal Error]"))
                        .count());
    }
}
