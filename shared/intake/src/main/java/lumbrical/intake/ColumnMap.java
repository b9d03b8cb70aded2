package lumbrical.intake;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/**
 * A clinic's own headings.
 *
 * @param headings our column name by the clinic's heading, both in lower case
 */
public record ColumnMap(Map<String, String> headings) {
    /** No heading of their own. */
    public static final ColumnMap NONE = new ColumnMap(Map.of());

    /** Copies the map. */
    public ColumnMap {
        headings = Map.copyOf(headings);
    }

    /**
     * Reads {@code heading,column}.
     *
     * @throws UnreadableInputException if the file cannot be read or names a heading twice
     */
    public static ColumnMap read(Input input) {
        SimpleTable table = SimpleTable.read(input, Optional.empty(), List.of("heading", "column"));
        Map<String, String> headings = new HashMap<>();
        for (SimpleTable.Row row : table.rows()) {
            String heading = Cells.heading(row.get("heading"));
            String column = Cells.heading(row.get("column"));
            if (heading.isEmpty() || column.isEmpty()) {
                throw new UnreadableInputException(row.place(), "heading and column must both be filled.");
            }
            if (headings.put(heading, column) != null) {
                throw new UnreadableInputException(
                        row.place(), "the heading '" + Cells.printable(heading) + "' is mapped twice. Keep one row.");
            }
        }
        return new ColumnMap(headings);
    }

    /** Our name for a heading in lower case; itself if it is not mapped. */
    String nameOf(String heading) {
        return headings.getOrDefault(heading, heading);
    }
}
