package lumbrical.intake;

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
import lumbrical.catalogue.Catalogue;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
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
                            UnreadableInputException.class,
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

    @Test
    void isRefusedWhenThePartItNamesAsItsWorkbookIsNotThere() throws IOException {
        brokenOff();
        Path without = folder.resolve("without.xlsx");
        try (ZipInputStream in = new ZipInputStream(Files.newInputStream(folder.resolve("whole.xlsx")));
                ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(without))) {
            for (ZipEntry part = in.getNextEntry(); part != null; part = in.getNextEntry()) {
                if (!part.getName().equals("xl/workbook.xml")) {
                    out.putNextEntry(new ZipEntry(part.getName()));
                    in.transferTo(out);
                }
            }
        }
        assertThrows(
                UnreadableInputException.class,
                () -> EpisodeReader.read(
                        new Input(without, Optional.empty()),
                        Catalogue.builtIn(),
                        ReadOptions.asOf(LocalDate.parse("2026-11-25"))));
    }

    @Test
    void aNumberInAWorkbookWithoutStylesIsANumber() throws IOException {
        Path file = folder.resolve("plain.xlsx");
        String main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
        String relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
        String packed = "http://schemas.openxmlformats.org/package/2006/";
        String kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.";
        try (ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(file))) {
            part(
                    out,
                    "[Content_Types].xml",
                    "<Types xmlns='" + packed + "content-types'><Default Extension='rels' ContentType="
                            + "'application/vnd.openxmlformats-package.relationships+xml'/>"
                            + "<Override PartName='/xl/workbook.xml' ContentType='" + kind + "sheet.main+xml'/>"
                            + "<Override PartName='/xl/s.xml' ContentType='" + kind + "worksheet+xml'/></Types>");
            part(out, "_rels/.rels", relationship(packed, relations + "/officeDocument", "xl/workbook.xml"));
            part(out, "xl/_rels/workbook.xml.rels", relationship(packed, relations + "/worksheet", "s.xml"));
            part(
                    out,
                    "xl/workbook.xml",
                    "<workbook xmlns='" + main + "' xmlns:r='" + relations
                            + "'><sheets><sheet name='a' sheetId='1' r:id='r1'/></sheets></workbook>");
            part(
                    out,
                    "xl/s.xml",
                    "<worksheet xmlns='" + main + "'><sheetData><row r='1'><c r='A1' t='str'><v>heading</v></c>"
                            + "<c r='B1' t='str'><v>column</v></c></row>"
                            + "<row r='2'><c r='A2' s='3'><v>45000</v></c><c r='B2' t='str'><v>patient</v></c></row>"
                            + "</sheetData></worksheet>");
        }
        ColumnMap map = ColumnMap.read(new Input(file, Optional.empty()));
        assertEquals("patient", map.nameOf("45000"));
    }

    private static String relationship(String packed, String type, String target) {
        return "<Relationships xmlns='" + packed + "relationships'><Relationship Id='r1' Type='" + type + "' Target='"
                + target + "'/></Relationships>";
    }

    private static void part(ZipOutputStream out, String name, String content) throws IOException {
        out.putNextEntry(new ZipEntry(name));
        out.write(content.getBytes(StandardCharsets.UTF_8));
    }
}
