package lumbrical.output;

import java.util.List;

/**
 * A table described once: the CSV, the sheet of the workbook and the data dictionary all come from it.
 *
 * @param name name of the sheet
 * @param columns columns in order
 */
public record OutputTable<R>(String name, List<OutputColumn<R>> columns) {
    /** Copies the list. */
    public OutputTable {
        columns = List.copyOf(columns);
    }

    /** Headings in order. */
    public List<String> headings() {
        return columns.stream().map(OutputColumn::name).toList();
    }
}
