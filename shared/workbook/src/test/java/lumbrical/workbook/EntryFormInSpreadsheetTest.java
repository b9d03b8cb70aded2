package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.junit.jupiter.api.Assumptions.assumeTrue;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellType;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFCell;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * The scores that an entry form computes in a spreadsheet that people use: LibreOffice, in the deep build. It keeps the values stored
 * in a file when it converts it, so they are taken out before: what comes back it has computed itself.
 */
@Tag("deep")
class EntryFormInSpreadsheetTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();
    private static final int MINUTES = 15;

    private static void requireSpreadsheet() {
        boolean there = Stream.of(System.getenv("PATH").split(java.io.File.pathSeparator))
                .anyMatch(folder -> Files.isExecutable(Path.of(folder, "soffice")));
        assumeTrue(
                there,
                "SKIPPED: LibreOffice (soffice) is not installed, so no spreadsheet has computed the entry forms."
                        + " Install libreoffice-calc and run the deep build again.");
    }

    private static XSSFWorkbook typed(Instrument instrument, List<FormVectors.Vector> vectors) {
        int rows = Math.max(1, FormVectors.sittings(vectors).size());
        XSSFWorkbook book = Written.open(Written.bytes(
                (scratch, out) -> EntryForm.write(List.of(instrument), rows, Written.AS_OF, scratch, out)));
        FormVectors.type(book, instrument, vectors);
        return book;
    }

    private static void saveWithoutStoredValues(XSSFWorkbook book, Path file) throws IOException {
        for (Sheet sheet : book) {
            for (Row row : sheet) {
                for (Cell cell : row) {
                    if (cell.getCellType() == CellType.FORMULA) {
                        XSSFCell formula = (XSSFCell) cell;
                        if (formula.getCTCell().isSetV()) {
                            formula.getCTCell().unsetV();
                        }
                        if (formula.getCTCell().isSetT()) {
                            formula.getCTCell().unsetT();
                        }
                    }
                }
            }
        }
        try (OutputStream out = Files.newOutputStream(file)) {
            book.write(out);
        }
    }

    /** Has the spreadsheet open the files, compute them and save them below {@code computed}. */
    private static void compute(Path folder, List<Path> files) throws IOException, InterruptedException {
        List<String> command = new ArrayList<>(List.of(
                "soffice",
                "-env:UserInstallation=" + folder.resolve("profile").toUri(),
                "--headless",
                "--convert-to",
                "xlsx:Calc MS Excel 2007 XML",
                "--outdir",
                folder.resolve("computed").toString()));
        files.forEach(f -> command.add(f.toString()));
        Path log = folder.resolve("log.txt");
        Process process = new ProcessBuilder(command)
                .redirectErrorStream(true)
                .redirectOutput(log.toFile())
                .start();
        assertTrue(process.waitFor(MINUTES, TimeUnit.MINUTES), "LibreOffice did not end");
        assertEquals(0, process.exitValue(), Files.readString(log));
    }

    private static FormVectors.Shown stored(Path file) throws IOException {
        return FormVectors.stored(Written.open(Files.readAllBytes(file)));
    }

    @Test
    void everyVectorThatAFormCanHoldScoresAsTheEngineDoes(@TempDir Path folder)
            throws IOException, InterruptedException {
        requireSpreadsheet();
        Map<Path, Instrument> files = new LinkedHashMap<>();
        for (Instrument instrument : CATALOGUE.all()) {
            List<FormVectors.Vector> vectors = FormVectors.of(instrument);
            if (!vectors.isEmpty()) {
                Path file = folder.resolve(instrument.id() + ".xlsx");
                saveWithoutStoredValues(typed(instrument, vectors), file);
                files.put(file, instrument);
            }
        }
        compute(folder, List.copyOf(files.keySet()));
        int compared = 0;
        List<String> wrong = new ArrayList<>();
        for (Map.Entry<Path, Instrument> file : files.entrySet()) {
            List<FormVectors.Vector> vectors = FormVectors.of(file.getValue());
            Path computed = folder.resolve("computed").resolve(file.getKey().getFileName());
            wrong.addAll(FormVectors.differences(file.getValue(), vectors, stored(computed)));
            compared += vectors.size();
        }
        assertEquals(List.of(), wrong.stream().limit(20).toList(), wrong.size() + " differ");
        System.out.println("vectors compared in the form, by LibreOffice: " + compared);
        assertTrue(compared >= 1400, "only " + compared + " vectors");
    }

    /** Otherwise the test above could pass on values that nobody computed. */
    @Test
    void aWrongFormulaIsSeen(@TempDir Path folder) throws IOException, InterruptedException {
        requireSpreadsheet();
        Instrument instrument = CATALOGUE.find("quickdash").orElseThrow();
        List<FormVectors.Vector> vectors = FormVectors.of(instrument).stream()
                .filter(v -> v.id().endsWith(" federal-guide"))
                .toList();
        assertEquals(1, vectors.size());
        XSSFWorkbook book = typed(instrument, vectors);
        Sheet sheet = book.getSheet(EntryForm.RESPONSES);
        for (Cell heading : sheet.getRow(0)) {
            if (heading.getStringCellValue().equals("quickdash total score")) {
                Cell score = sheet.getRow(1).getCell(heading.getColumnIndex());
                score.setCellFormula(score.getCellFormula() + "+1");
            }
        }
        Path file = folder.resolve("wrong.xlsx");
        saveWithoutStoredValues(book, file);
        compute(folder, List.of(file));
        assertEquals(
                List.of(
                        vectors.get(0).id() + ": quickdash total score shows '51.0', not '50.0'",
                        vectors.get(0).id() + ": quickdash total score shows '51.0', but the vector states 50.0"),
                FormVectors.differences(
                        instrument, vectors, stored(folder.resolve("computed").resolve("wrong.xlsx"))));
    }

    @Test
    void aTextMeansTheSameToTheFormAndToTheReader(@TempDir Path folder) throws IOException, InterruptedException {
        requireSpreadsheet();
        Map<Path, TypedTexts> files = new LinkedHashMap<>();
        for (String id : List.of("quickdash", "ulfi", "msacrah", "grc", "psfs")) {
            TypedTexts typed = TypedTexts.of(id);
            Path file = folder.resolve(id + ".xlsx");
            saveWithoutStoredValues(typed.book(), file);
            files.put(file, typed);
        }
        compute(folder, List.copyOf(files.keySet()));
        List<String> wrong = new ArrayList<>();
        for (Map.Entry<Path, TypedTexts> file : files.entrySet()) {
            Path computed = folder.resolve("computed").resolve(file.getKey().getFileName());
            wrong.addAll(file.getValue().differences(TypedTexts.read(file.getKey()), stored(computed)));
        }
        assertEquals(List.of(), wrong);
    }
}
