package lumbrical.workbook;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lumbrical.instrument.ItemRule;
import lumbrical.output.Value;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.xssf.streaming.SXSSFSheet;

/** The sheet of conversion tables that the formulas of an entry form look up. */
final class ConversionTables {
    private static final String NAME = "Tables";

    private final List<Line> lines = new ArrayList<>();
    private final Map<ItemRule.Table, String> ranges = new HashMap<>();

    private record Line(String scale, double raw, double score) {}

    /** Adds a table; the formula that looks a raw sum up. */
    String lookUp(String scale, ItemRule.Table table, String raw) {
        String range = ranges.computeIfAbsent(table, rows -> add(scale, rows));
        return "INDEX(" + range + "," + raw + "-"
                + FormulaNumber.of(table.rows().get(0).raw() - 1.0) + ")";
    }

    private String add(String scale, ItemRule.Table table) {
        int first = lines.size();
        table.rows().forEach(row -> lines.add(new Line(scale, row.raw(), row.score())));
        return NAME + "!$C$" + (first + 2) + ":$C$" + (lines.size() + 1);
    }

    /** Writes the sheet, if there is a table. */
    void write(StreamingWorkbook book) {
        if (lines.isEmpty()) {
            return;
        }
        SXSSFSheet sheet = book.sheet(NAME);
        String[] headings = {"scale", "raw sum", "score"};
        Row header = sheet.createRow(0);
        for (int i = 0; i < headings.length; i++) {
            sheet.setColumnWidth(i, (i == 0 ? 30 : 12) * 256);
            Cell cell = header.createCell(i);
            cell.setCellValue(headings[i]);
            cell.setCellStyle(i == 0 ? book.styles().header : book.styles().headerRight);
        }
        StreamingWorkbook.freeze(sheet, 0, 0);
        for (int i = 0; i < lines.size(); i++) {
            Row cells = sheet.createRow(i + 1);
            TableSheet.set(book, cells, 0, Value.word(lines.get(i).scale()));
            TableSheet.set(book, cells, 1, Value.number(lines.get(i).raw()));
            TableSheet.set(book, cells, 2, Value.number(lines.get(i).score()));
        }
        book.lock(sheet);
    }
}
