package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.batch.BatchScorer;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.intake.FormScoreColumn;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.FormulaError;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.usermodel.Sheet;
import org.apache.poi.xssf.usermodel.XSSFWorkbook;

/**
 * A form whose first response is typed or pasted in many ways, a row each; the other responses are the highest code. Invented.
 *
 * @param instrument the instrument
 * @param book the form
 */
record TypedTexts(Instrument instrument, XSSFWorkbook book) {
    private static final LocalDate DAY = LocalDate.of(2026, 3, 9);

    private static final List<String> TEXTS = List.of(
            "3",
            "3.0",
            "3.00",
            " 3 ",
            "\u00a03\u00a0",
            "\t3",
            "3\n",
            "\u200b3",
            "\ufeff3",
            "\u30003",
            "\u202f3",
            "03",
            "+3",
            "+3.0",
            "-3",
            "'-3",
            "'+3",
            "--3",
            "+-3",
            "- 3",
            "-0",
            "3-",
            "3'-",
            "\uff13",
            "\uff13.\uff10",
            "3.",
            ".5",
            "0.5",
            "0.50",
            "00.5",
            "1.5",
            "2.5",
            "33.3",
            "100",
            "100.0",
            "100.1",
            "-0.1",
            "3e0",
            "1E0",
            "3,0",
            "0,5",
            "2,3",
            "2;3",
            "2 3",
            "3 3",
            "1/2",
            "50%",
            "$3",
            "3:00",
            "(3)",
            "TRUE",
            "x",
            "?",
            "",
            " ",
            "\u00a0",
            "3.000000000000000",
            "3.0000000000000000",
            "000000000000003",
            "0000000000000003",
            "1000000",
            "#N/A!",
            "3..0",
            "3.0.0",
            "2026-03-09");

    /** Besides texts: a truth value, an error, two numbers. */
    private static final int OTHERS = 4;

    static int rows() {
        return TEXTS.size() + OTHERS;
    }

    static TypedTexts of(String id) {
        Instrument instrument = Catalogue.builtIn().find(id).orElseThrow();
        XSSFWorkbook book = Written.open(Written.bytes(
                (scratch, out) -> EntryForm.write(List.of(instrument), rows(), Written.AS_OF, scratch, out)));
        Sheet sheet = book.getSheetAt(0);
        for (int i = 0; i < rows(); i++) {
            Row row = sheet.getRow(i + 1);
            row.createCell(0).setCellValue("P" + i);
            Cell day = row.createCell(1);
            day.setCellValue(DAY);
            day.setCellStyle(sheet.getColumnStyle(1));
            for (int c = 1; c < instrument.columns().size(); c++) {
                row.createCell(4 + c)
                        .setCellValue(
                                instrument.columns().get(c).item().responses().high());
            }
            Cell first = row.createCell(4);
            switch (i - TEXTS.size()) {
                case 0 -> first.setCellValue(true);
                case 1 -> first.setCellErrorValue(FormulaError.DIV0.getCode());
                case 2 -> first.setCellValue(3);
                case 3 -> first.setCellValue(0.5);
                default -> first.setCellValue(TEXTS.get(i));
            }
        }
        return new TypedTexts(instrument, book);
    }

    /**
     * A saved form as {@code score} reads it.
     *
     * @param forms a form for each row
     * @param problems what is told
     */
    record Read(List<ScoredForm> forms, List<Problem> problems) {}

    static Read read(Path file) {
        List<Problem> problems = new ArrayList<>();
        List<ScoredForm> forms = new ArrayList<>();
        new BatchScorer(Catalogue.builtIn(), ReadOptions.asOf(Written.AS_OF), ScoringOptions.AS_DEFINED)
                .score(
                        List.of(new Input(file, Optional.empty())),
                        (row, scored) -> forms.addAll(scored),
                        problems::add);
        return new Read(forms, problems);
    }

    void save(Path file) throws IOException {
        try (OutputStream out = Files.newOutputStream(file)) {
            book.write(out);
        }
    }

    /** Where the form shows something else than the reader's responses give. */
    List<String> differences(Read read, FormVectors.Shown shown) {
        List<String> wrong = new ArrayList<>();
        for (int i = 0; i < rows(); i++) {
            Map<String, Object> row = new HashMap<>();
            for (FormScoreColumn column : FormScoreColumn.of(instrument)) {
                row.put(column.heading(), shown.at(i + 1, column.heading()));
            }
            String what = i < TEXTS.size() ? "'" + TEXTS.get(i) + "'" : "other cell " + (i - TEXTS.size());
            FormVectors.againstEngine(read.forms().get(i).responses(), Optional.empty(), row)
                    .forEach(w -> wrong.add(instrument.id() + " " + what + ": " + w));
        }
        return wrong;
    }
}
