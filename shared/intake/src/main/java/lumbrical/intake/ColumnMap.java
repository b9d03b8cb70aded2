package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/**
 * A clinic's own headings.
 *
 * @param headings our column name by the clinic's heading, both in lower case; a heading that is left out has none
 * @param places where each heading stands in the map, those that are left out too
 */
public record ColumnMap(Map<String, String> headings, Map<String, Place> places) {
    /** No heading of their own. */
    public static final ColumnMap NONE = new ColumnMap(Map.of());

    /** A map that stands in no file. */
    public ColumnMap(Map<String, String> headings) {
        this(headings, Map.of());
    }

    /** Copies the maps. */
    public ColumnMap {
        headings = Map.copyOf(headings);
        places = Map.copyOf(places);
    }

    /**
     * Reads {@code heading,column}; a blank column leaves the heading out.
     *
     * @throws UnreadableInputException if the file cannot be read, has a row without a heading, or names a heading twice
     */
    public static ColumnMap read(Input input) {
        return read(input, Optional.empty());
    }

    /**
     * As {@link #read(Input)}.
     *
     * @param encoding encoding of a CSV file that is not Unicode
     */
    public static ColumnMap read(Input input, Optional<Charset> encoding) {
        SimpleTable table = SimpleTable.readSettings(input, encoding, List.of("heading", "column"));
        Map<String, String> headings = new HashMap<>();
        Map<String, Place> places = new HashMap<>();
        for (SimpleTable.Row row : table.rows()) {
            String heading = Cells.heading(row.get("heading"));
            String column = Cells.heading(row.get("column"));
            if (heading.isEmpty()) {
                throw new UnreadableInputException(row.place().in("heading"), "write the heading of your file.");
            }
            if (places.put(heading, row.place()) != null) {
                throw new UnreadableInputException(
                        row.place(), "the heading '" + Cells.printable(heading) + "' is mapped twice. Keep one row.");
            }
            if (!column.isEmpty()) {
                headings.put(heading, column);
            }
        }
        return new ColumnMap(headings, places);
    }

    /** Our name for a heading in lower case; itself if it is not mapped. */
    String nameOf(String heading) {
        return headings.getOrDefault(heading, heading);
    }

    /** Whether the map says that a heading is not to be used. */
    boolean leavesOut(String heading) {
        return places.containsKey(heading) && !headings.containsKey(heading);
    }

    /**
     * A note for each heading of the map that no file has.
     *
     * @param there the headings of the files, in lower case, as given
     * @param named headings of the files in which only our own names are known
     */
    public List<Problem> notUsed(Collection<String> there, Collection<String> named) {
        SortedMap<Integer, Problem> notes = new TreeMap<>();
        places.forEach((heading, place) -> {
            boolean found = there.contains(heading)
                    || named.contains(heading)
                    || headings.containsKey(heading) && named.contains(headings.get(heading));
            if (!found) {
                notes.put(
                        place.row().orElse(0),
                        new Problem(
                                place.in("heading"),
                                Cells.printable(heading),
                                ProblemCode.NOTE_MAPPING_NOT_USED,
                                "No file has this heading, so the row maps nothing. Write it as it stands in your file."));
            }
        });
        return List.copyOf(notes.values());
    }
}
