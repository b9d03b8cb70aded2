package lumbrical.intake;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/**
 * A clinic's own answer texts. A text is looked up for the column first, then for its instrument, then for {@code *}.
 *
 * @param codes code by column, instrument, {@code side} or {@code *}, and by text in lower case
 */
public record CodeMap(Map<String, Map<String, String>> codes) {
    /** No texts of their own. */
    public static final CodeMap NONE = new CodeMap(Map.of());

    /** Copies the maps. */
    public CodeMap {
        Map<String, Map<String, String>> copy = new HashMap<>();
        codes.forEach((column, texts) -> copy.put(column, Map.copyOf(texts)));
        codes = Map.copyOf(copy);
    }

    /**
     * Reads {@code column,text,code}.
     *
     * @throws UnreadableInputException if the file cannot be read or gives one text of a column two codes
     */
    public static CodeMap read(Input input) {
        SimpleTable table = SimpleTable.read(input, Optional.empty(), List.of("column", "text", "code"));
        Map<String, Map<String, String>> codes = new HashMap<>();
        for (SimpleTable.Row row : table.rows()) {
            String column = Cells.heading(row.get("column"));
            String text = row.get("text").toLowerCase(Locale.ROOT);
            if (column.isEmpty() || text.isEmpty()) {
                throw new UnreadableInputException(row.place(), "column and text must both be filled.");
            }
            String before = codes.computeIfAbsent(column, c -> new HashMap<>()).put(text, row.get("code"));
            if (before != null && !before.equals(row.get("code"))) {
                throw new UnreadableInputException(
                        row.place(), "'" + Cells.printable(text) + "' of " + column + " has two codes. Keep one row.");
            }
        }
        return new CodeMap(codes);
    }

    /** The code for {@code text} in {@code column} of {@code group}; the text itself if it is not mapped. */
    String codeOf(String column, String group, String text) {
        if (codes.isEmpty() || text.isEmpty()) {
            return text;
        }
        String key = text.toLowerCase(Locale.ROOT);
        for (String level : List.of(column, group, "*")) {
            String code = codes.getOrDefault(level, Map.of()).get(key);
            if (code != null) {
                return code;
            }
        }
        return text;
    }
}
