package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import java.util.zip.ZipOutputStream;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.ss.usermodel.Workbook;
import org.apache.poi.ss.usermodel.WorkbookFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Files made to do harm: one clear message and status 2, or read without harm. */
class HostileInputTest {
    private static final Path GOOD =
            Path.of("..", "shared", "registry", "src", "test", "resources", "fuzz", "responses.xlsx");
    private static final String SHEET = "xl/worksheets/sheet1.xml";

    @TempDir
    private Path folder;

    private static Run run(String... args) {
        List<String> words = new ArrayList<>(List.of(args));
        words.addAll(List.of("--as-of", "2026-11-25"));
        return Run.of(words);
    }

    private void refused(Path file, String why) {
        Run run = run("score", file.toString());
        assertEquals(2, run.status(), run.err());
        assertTrue(run.err().contains(why), run.err());
        assertEquals("", run.out());
        assertFalse(run.err().contains("Exception"), run.err());
    }

    /** Writes a part of a workbook, however long. */
    private interface Part {
        void writeTo(OutputStream out) throws IOException;
    }

    private static void text(OutputStream out, String text) throws IOException {
        out.write(text.getBytes(StandardCharsets.UTF_8));
    }

    /** A good workbook with some parts exchanged. */
    private Path workbook(Map<String, Part> parts) throws IOException {
        Path file = folder.resolve("hostile.xlsx");
        try (ZipInputStream in = new ZipInputStream(Files.newInputStream(GOOD));
                ZipOutputStream out = new ZipOutputStream(Files.newOutputStream(file))) {
            for (ZipEntry entry = in.getNextEntry(); entry != null; entry = in.getNextEntry()) {
                byte[] content = in.readAllBytes();
                out.putNextEntry(new ZipEntry(entry.getName()));
                parts.getOrDefault(entry.getName(), o -> o.write(content)).writeTo(out);
            }
        }
        return file;
    }

    private static final String OPEN =
            "<worksheet xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><sheetData>";
    private static final String CLOSE = "</sheetData></worksheet>";

    @Test
    void aZipBombIsNotUnpacked() throws IOException {
        byte[] spaces = " ".repeat(1 << 20).getBytes(StandardCharsets.UTF_8);
        Path bomb = workbook(Map.of(SHEET, out -> {
            text(out, OPEN);
            for (int i = 0; i < 300; i++) {
                out.write(spaces);
            }
            text(out, CLOSE);
        }));
        assertTrue(Files.size(bomb) < 1 << 20);
        refused(bomb, "the workbook is damaged, unpacks to too much, or is none.");
    }

    @Test
    void aBombInTheSharedTextsIsNotUnpackedEither() throws IOException {
        byte[] letters = "a".repeat(1 << 20).getBytes(StandardCharsets.UTF_8);
        Path bomb = workbook(Map.of("xl/sharedStrings.xml", out -> {
            text(out, "<sst xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"><si><t>");
            for (int i = 0; i < 300; i++) {
                out.write(letters);
            }
            text(out, "</t></si></sst>");
        }));
        refused(bomb, "the workbook is damaged, unpacks to too much, or is none.");
    }

    @Test
    void anEntityOfAnotherFileIsNotRead() throws IOException {
        Path secret = Files.writeString(folder.resolve("secret.txt"), "MARKER");
        Path file = workbook(Map.of(
                SHEET,
                out -> text(
                        out,
                        "<!DOCTYPE a [<!ENTITY b SYSTEM \"" + secret.toUri() + "\">]>" + OPEN
                                + "<row r=\"1\"><c r=\"A1\" t=\"inlineStr\"><is><t>&b;</t></is></c></row>" + CLOSE)));
        refused(file, "the workbook is damaged");
        assertFalse(run("score", file.toString()).err().contains("MARKER"));
    }

    @Test
    void entitiesThatGrowAreNotExpanded() throws IOException {
        StringBuilder laughs = new StringBuilder("<!DOCTYPE a [<!ENTITY l0 \"ha\">");
        for (int i = 1; i < 30; i++) {
            laughs.append("<!ENTITY l")
                    .append(i)
                    .append(" \"&l")
                    .append(i - 1)
                    .append(";&l")
                    .append(i - 1)
                    .append(";\">");
        }
        String content = laughs + "]>" + OPEN + "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>&l29;</v></c></row>" + CLOSE;
        refused(workbook(Map.of(SHEET, out -> text(out, content))), "the workbook is damaged");
        refused(workbook(Map.of("xl/workbook.xml", out -> text(out, content))), "the workbook is damaged");
        refused(workbook(Map.of("xl/sharedStrings.xml", out -> text(out, content))), "the workbook is damaged");
    }

    @Test
    void deepXmlDoesNotOverflow() throws IOException {
        Path file = workbook(Map.of(SHEET, out -> {
            text(out, OPEN);
            for (int i = 0; i < 200_000; i++) {
                text(out, "<x" + i % 97 + ">");
            }
        }));
        refused(file, "the workbook is damaged");
    }

    @Test
    void aSheetThatClaimsABillionRowsIsRefused() throws IOException {
        refused(
                workbook(Map.of(
                        SHEET,
                        out -> text(out, OPEN + "<row r=\"1000000000\"><c r=\"A1\"><v>1</v></c></row>" + CLOSE))),
                "A sheet has at most 1048576 rows, in order.");
    }

    @Test
    void aCellOfHugeLengthIsRefused() throws IOException {
        refused(
                workbook(Map.of(
                        SHEET,
                        out -> text(
                                out,
                                OPEN + "<row r=\"1\"><c r=\"A1\" t=\"str\"><v>" + "aB3-".repeat(10_000)
                                        + "</v></c></row>" + CLOSE))),
                "a cell of more than 32767 characters.");
        Path csv = folder.resolve("huge.csv");
        try (OutputStream out = Files.newOutputStream(csv)) {
            text(out, "patient,completed_on,sane_1\nP1,2026-01-02,\"");
            byte[] block = "x".repeat(1 << 16).getBytes(StandardCharsets.UTF_8);
            for (int i = 0; i < 1000; i++) {
                out.write(block);
            }
        }
        refused(
                csv,
                "huge.csv row 2: a row of more than 4000000 characters. A quote was probably opened and never closed.");
    }

    @Test
    void aHundredThousandColumnsAreRefused() throws IOException {
        refused(
                Files.writeString(
                        folder.resolve("wide.csv"),
                        "patient,completed_on" + ",x".repeat(100_000) + "\nP1,2026-01-02\n"),
                "more than 16384 columns. This is no table of responses.");
        refused(
                workbook(Map.of(
                        SHEET, out -> text(out, OPEN + "<row r=\"1\"><c r=\"ZZZZ1\"><v>1</v></c></row>" + CLOSE))),
                "more than 16384 columns. This is no table of responses.");
    }

    @Test
    void aDefinitionOfAbsurdSizeIsRefused() throws IOException {
        Path own = Files.createDirectories(folder.resolve("own"));
        Path file = own.resolve("mine.json");
        Files.writeString(file, "{\"id\": \"mine\", \"items\": [" + "1,".repeat(3_000_000) + "1]}");
        Run run = run("score", "../shared/demo/responses.csv", "--definitions", own.toString());
        assertEquals(2, run.status());
        assertTrue(run.err().startsWith("mine.json has 1 fault; nothing was loaded."), run.err());
        Files.writeString(file, "[".repeat(50_000));
        Run deep = run("score", "../shared/demo/responses.csv", "--definitions", own.toString());
        assertEquals(2, deep.status(), deep.err());
    }

    @ParameterizedTest
    @ValueSource(strings = {"=1+1", "+1", "-5", "@SUM(A1)", "=cmd|' /C calc'!A0"})
    void anIdThatLooksLikeAFormulaIsText(String id) throws IOException {
        Path responses = Files.writeString(
                folder.resolve("r.csv"),
                "patient,completed_on,side,sane_1\n\"" + id + "\",2026-01-02,right,80\n\"" + id
                        + "\",2026-04-02,right,40.0\n");
        Path episodes = Files.writeString(
                folder.resolve("e.csv"),
                "patient,episode,treated_side,index_date\n\"" + id + "\",E1,right,2026-01-05\n");
        Path book = folder.resolve("book.xlsx");
        Run run = run(
                "track",
                responses.toString(),
                "--episodes",
                episodes.toString(),
                "--out",
                book.toString(),
                "--tables",
                folder.resolve("tables").toString());
        assertEquals(0, run.status(), run.err());
        String change = Files.readString(folder.resolve("tables/change.csv"));
        assertTrue(change.contains("\r\n'" + id + ","), change);
        assertTrue(change.contains(",-40,-40,"), "numbers stay bare: " + change);
        try (Workbook workbook = WorkbookFactory.create(book.toFile())) {
            int seen = 0;
            Sheet sheet = workbook.getSheet("Change");
            for (Row row : sheet) {
                for (Cell cell : row) {
                    if (cell.getCellType() == CellType.STRING
                            && cell.getStringCellValue().equals(id)) {
                        seen++;
                    }
                    assertFalse(cell.getCellType() == CellType.FORMULA);
                }
            }
            assertTrue(seen > 0);
        }
    }

    @Test
    void whatATerminalWouldObeyIsNotPrinted() throws IOException {
        Path responses = Files.writeString(
                folder.resolve("r.csv"),
                "patient,completed_on,side,sane_1\nP\u001B[31m\u202E\u0000,2026-01-02,\u001B]0;x\u0007,\u202E9\u0000\n");
        for (String command : List.of("score", "check")) {
            Run run = run(command, responses.toString());
            assertEquals(1, run.status());
            for (char odd : new char[] {'\u001B', '\u202E', '\u0007', '\u0000'}) {
                assertEquals(-1, run.err().indexOf(odd), command + " prints " + (int) odd);
            }
        }
    }

    @Test
    void tricksInTheNameOfTheOutputEndInOneMessage() throws IOException {
        String demo = "../shared/demo/responses.csv";
        for (String name :
                List.of(folder.toString(), folder.resolve("nowhere/x.csv").toString(), folder + "/a\0b.csv", "", "/")) {
            Run run = run("score", demo, "--out", name);
            assertEquals(2, run.status(), name);
            assertTrue(run.err().endsWith("Nothing was written." + System.lineSeparator()), run.err());
        }
        Files.createDirectories(folder.resolve("in"));
        Run up = run("score", demo, "--out", folder.resolve("in/../out.csv").toString());
        assertEquals(0, up.status());
        assertTrue(Files.exists(folder.resolve("out.csv")));
        Path link = Files.createSymbolicLink(folder.resolve("link.csv"), folder.resolve("out.csv"));
        Run through = run("score", demo, "--out", link.toString());
        assertEquals(2, through.status(), "a link to a file that exists is a file that exists");
        try (Stream<Path> files = Files.list(folder)) {
            assertEquals(3, files.count());
        }
    }
}
