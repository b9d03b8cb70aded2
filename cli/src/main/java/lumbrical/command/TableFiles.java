package lumbrical.command;

import java.util.List;
import java.util.stream.Stream;
import lumbrical.columns.DataPackage;
import lumbrical.output.OutputFolder;
import lumbrical.output.OutputTable;

/** Writes tables as CSV into a folder, and beside them what their columns hold. */
final class TableFiles {
    private final OutputFolder folder;
    private final boolean guard;
    private final DataPackage described = new DataPackage(Main.VERSION);

    TableFiles(OutputFolder folder, boolean guard) {
        this.folder = folder;
        this.guard = guard;
    }

    /** The names of all files, of tables with these. */
    static List<String> names(List<String> tables) {
        return Stream.concat(tables.stream(), Stream.of(DataPackage.FILE)).toList();
    }

    <R> void write(String name, OutputTable<R> table, Iterable<R> rows) {
        folder.file(name).writeTable(table, rows, guard);
        described.with(name, table);
    }

    /** After the last table. */
    void describe() {
        folder.file(DataPackage.FILE).writeText(described::write);
    }
}
