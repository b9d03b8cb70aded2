package lumbrical.workbook;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.instrument.Column;
import lumbrical.instrument.Side;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/**
 * The sheet of an entry form that counts blank cells while it is filled in: by row, and by what may rightly be left out
 * together, that is an instrument, one of its modules, or one hand of it.
 */
final class EntryBlanks {
    private static final String NAME = "Blanks";
    private static final int FIRST_GROUP = 3;
    /** Headings, then the line of totals. */
    private static final int FIRST_ROW = 2;

    private EntryBlanks() {}

    private record Group(String instrument, Optional<String> module, Optional<Side> hand) {
        String heading() {
            return instrument
                    + module.map(m -> " " + m).orElse("")
                    + hand.map(h -> " " + h.code()).orElse("");
        }
    }

    static void write(StreamingWorkbook book, List<EntryForm.Field> fields, int rows) {
        Map<Group, List<Integer>> groups = groups(fields);
        SXSSFSheet sheet = book.sheet(NAME);
        List<String> headings = new ArrayList<>(List.of("row", "patient", "completed_on"));
        groups.keySet().forEach(g -> headings.add(g.heading()));
        Row header = sheet.createRow(0);
        header.setHeightInPoints(30);
        for (int i = 0; i < headings.size(); i++) {
            sheet.setColumnWidth(i, (i == 0 ? 8 : 14) * 256);
            Cell cell = header.createCell(i);
            cell.setCellValue(headings.get(i));
            boolean words = i == 1 || i == 2;
            cell.setCellStyle(words ? book.styles().header : book.styles().headerRight);
        }
        StreamingWorkbook.freeze(sheet, FIRST_GROUP, FIRST_ROW - 1);
        totals(book, sheet, headings.size(), rows);
        List<String> counts = groups.values().stream().map(EntryBlanks::count).toList();
        for (int i = 0; i < rows; i++) {
            line(book, sheet.createRow(FIRST_ROW + i), i + 2, counts);
        }
        book.lock(sheet);
    }

    private static Map<Group, List<Integer>> groups(List<EntryForm.Field> fields) {
        Map<Group, List<Integer>> groups = new LinkedHashMap<>();
        for (int i = 0; i < fields.size(); i++) {
            int position = i;
            Optional<Column> column = fields.get(i).column();
            column.ifPresent(c -> groups.computeIfAbsent(
                            new Group(
                                    fields.get(position)
                                            .instrument()
                                            .orElseThrow()
                                            .id()
                                            .value(),
                                    c.item().module(),
                                    c.hand()),
                            g -> new ArrayList<>())
                    .add(position));
        }
        return groups;
    }

    /** The sum that counts blanks in the columns at {@code positions}; {@code #} stands for the row. */
    private static String count(List<Integer> positions) {
        List<String> runs = new ArrayList<>();
        int i = 0;
        while (i < positions.size()) {
            int end = i;
            while (end + 1 < positions.size() && positions.get(end + 1) == positions.get(end) + 1) {
                end++;
            }
            runs.add("COUNTBLANK(" + EntryForm.RESPONSES + "!$" + TableSheet.letters(positions.get(i)) + "#:$"
                    + TableSheet.letters(positions.get(end)) + "#)");
            i = end + 1;
        }
        return runs.stream().collect(Collectors.joining("+"));
    }

    private static void totals(StreamingWorkbook book, SXSSFSheet sheet, int columns, int rows) {
        Row totals = sheet.createRow(1);
        Cell name = totals.createCell(0);
        name.setCellValue("all rows");
        name.setCellStyle(book.styles().strong);
        for (int i = FIRST_GROUP; i < columns; i++) {
            String letters = TableSheet.letters(i);
            Cell cell = totals.createCell(i);
            cell.setCellFormula("SUM(" + letters + (FIRST_ROW + 1) + ":" + letters + (FIRST_ROW + rows) + ")");
            cell.setCellValue(0);
            cell.setCellStyle(book.styles().strongRight);
        }
    }

    private static void line(StreamingWorkbook book, Row cells, int row, List<String> counts) {
        String patient = EntryForm.RESPONSES + "!$A$" + row;
        String day = EntryForm.RESPONSES + "!$B$" + row;
        Cell number = cells.createCell(0);
        number.setCellValue(row);
        number.setCellStyle(book.styles().whole);
        formula(cells.createCell(1), "IF(" + patient + "=\"\",\"\"," + patient + ")", book.styles().plain);
        formula(cells.createCell(2), "IF(" + day + "=\"\",\"\"," + day + ")", book.styles().date);
        for (int i = 0; i < counts.size(); i++) {
            String count = counts.get(i).replace("#", String.valueOf(row));
            formula(
                    cells.createCell(FIRST_GROUP + i),
                    "IF(" + patient + "=\"\",\"\"," + count + ")",
                    book.styles().whole);
        }
    }

    private static void formula(Cell cell, String formula, org.apache.poi.ss.usermodel.CellStyle style) {
        cell.setCellFormula(formula);
        cell.setCellValue("");
        cell.setCellStyle(style);
    }
}
