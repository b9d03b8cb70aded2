package lumbrical.workbook;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lumbrical.instrument.ItemRule;
import lumbrical.output.Value;

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
        SmallSheet sheet = book.smallSheet(NAME);
        String[] headings = {"scale", "raw sum", "score"};
        for (int i = 0; i < headings.length; i++) {
            sheet.sheet().setColumnWidth(i, (i == 0 ? 30 : 12) * 256);
            sheet.text(0, i, i == 0 ? book.styles().header : book.styles().headerRight, headings[i]);
        }
        StreamingWorkbook.freeze(sheet.sheet(), 0, 0);
        for (int i = 0; i < lines.size(); i++) {
            sheet.value(i + 1, 0, Value.word(lines.get(i).scale()));
            sheet.value(i + 1, 1, Value.number(lines.get(i).raw()));
            sheet.value(i + 1, 2, Value.number(lines.get(i).score()));
        }
        book.lock(sheet.sheet());
    }
}
