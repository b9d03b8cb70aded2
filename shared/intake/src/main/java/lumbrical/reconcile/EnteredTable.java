package lumbrical.reconcile;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.EntrySink;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.ResponseReader;
import lumbrical.problem.Problem;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Input;

/** One of the two tables. */
public final class EnteredTable {
    private final String name;
    private final ReadSummary summary;
    private final Set<String> columns;
    private final Map<Sitting.Key, EnteredSitting> sittings;

    private EnteredTable(
            String name, ReadSummary summary, Set<String> columns, Map<Sitting.Key, EnteredSitting> sittings) {
        this.name = name;
        this.summary = summary;
        this.columns = columns;
        this.sittings = sittings;
    }

    /**
     * Reads a table of responses.
     *
     * @param problems takes each problem and note
     * @throws lumbrical.tabular.UnreadableInputException if the file cannot be read
     */
    public static EnteredTable read(Input input, Catalogue catalogue, ReadOptions options, Consumer<Problem> problems) {
        Set<String> columns = new LinkedHashSet<>();
        Map<Sitting.Key, EnteredSitting> sittings = new LinkedHashMap<>();
        ReadSummary summary = ResponseReader.readEntries(
                input,
                catalogue,
                options,
                new EntrySink() {
                    @Override
                    public void columns(List<String> names) {
                        columns.addAll(names);
                    }

                    @Override
                    public void row(Sitting sitting) {
                        sittings.computeIfAbsent(sitting.key(), key -> new EnteredSitting(sitting));
                    }

                    @Override
                    public void cell(Sitting sitting, String column, String text, double response) {
                        columns.add(column);
                        sittings.get(sitting.key()).put(column, new Entry(text, response), sitting.place());
                    }
                },
                problems);
        return new EnteredTable(input.name(), summary, columns, sittings);
    }

    /** Name of the file. */
    public String name() {
        return name;
    }

    /** What was read. */
    public ReadSummary summary() {
        return summary;
    }

    /** How many sittings it holds. */
    public int size() {
        return sittings.size();
    }

    Set<String> columns() {
        return columns;
    }

    /** Sittings of one patient, day and side, which can be several at other times or of other episodes. */
    Map<PairKey, List<EnteredSitting>> groups() {
        Map<PairKey, List<EnteredSitting>> groups = new LinkedHashMap<>();
        sittings.values().forEach(s -> groups.computeIfAbsent(PairKey.of(s.sitting()), k -> new ArrayList<>())
                .add(s));
        return groups;
    }
}
