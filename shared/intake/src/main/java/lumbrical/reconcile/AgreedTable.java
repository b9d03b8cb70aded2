package lumbrical.reconcile;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.sitting.Sitting;

/**
 * The table on which both agree: a row a sitting. A cell on which they differ is blank until it is decided; a sitting that only one
 * table has is left out until it is decided.
 */
public final class AgreedTable {
    private AgreedTable() {}

    /**
     * A sitting and its agreed cells.
     *
     * @param sitting who, when, which side
     * @param cells agreed texts by column; patient, day and side only where the tables differed in them
     */
    public record Row(Sitting sitting, Map<String, String> cells) {
        /** Copies the map. */
        public Row {
            cells = Map.copyOf(cells);
        }

        private String cell(String column, String otherwise) {
            return cells.getOrDefault(column, otherwise);
        }
    }

    /** Its columns: those of the sitting, then the others in the order of the first table and then the second. */
    public static OutputTable<Row> table(Comparison comparison) {
        List<OutputColumn<Row>> columns = new ArrayList<>();
        columns.add(
                column("patient", r -> Value.text(r.cell("patient", r.sitting().patient()))));
        columns.add(
                column("completed_on", r -> Value.word(r.cell("completed_on", DifferenceTable.moment(r.sitting())))));
        columns.add(column("side", r -> Value.word(r.cell("side", DifferenceTable.side(r.sitting())))));
        for (String name : comparison.columns()) {
            columns.add(column(name, r -> Value.text(r.cell(name, ""))));
        }
        return new OutputTable<>("Agreed", columns);
    }

    private static OutputColumn<Row> column(String name, Function<Row, Value> of) {
        return new OutputColumn<>(name, "Agreed entry", OutputColumn.Kind.TEXT, of);
    }

    /** @param differences those of {@code comparison}, decided or not */
    public static List<Row> rows(Comparison comparison, List<Difference> differences) {
        Map<Sitting, Map<String, Difference>> bySitting = new HashMap<>();
        differences.forEach(d ->
                bySitting.computeIfAbsent(d.sitting(), s -> new HashMap<>()).put(d.column(), d));
        List<Row> rows = new ArrayList<>();
        for (Comparison.Pair pair : comparison.pairs()) {
            Map<String, Difference> here = bySitting.getOrDefault(pair.first().sitting(), Map.of());
            Map<String, String> cells = new HashMap<>();
            pair.first().cells().forEach((name, entry) -> cells.put(name, entry.text()));
            here.forEach((name, d) ->
                    cells.put(name, d.decision().map(made -> made.settles(d)).orElse("")));
            rows.add(new Row(pair.first().sitting(), cells));
        }
        for (boolean inFirst : new boolean[] {true, false}) {
            for (EnteredSitting sitting : comparison.alone(inFirst)) {
                Map<String, Difference> here = bySitting.getOrDefault(sitting.sitting(), Map.of());
                boolean taken = here.values().stream()
                        .flatMap(d -> d.decision().stream())
                        .anyMatch(made -> made.word().equals(inFirst ? "first" : "second"));
                if (taken) {
                    Map<String, String> cells = new HashMap<>();
                    sitting.cells().forEach((name, entry) -> cells.put(name, entry.text()));
                    rows.add(new Row(sitting.sitting(), cells));
                }
            }
        }
        return rows;
    }
}
