package lumbrical.tabular;

import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.problem.Place;

/**
 * A small table read whole: settings, thresholds, decisions, episodes. Headings are in lower case; blank rows are left out.
 *
 * @param input where it came from
 * @param headings headings in order
 * @param rows the rows
 */
public record SimpleTable(Input input, List<String> headings, List<Row> rows) {
    /** Copies the lists. */
    public SimpleTable {
        headings = List.copyOf(headings);
        rows = List.copyOf(rows);
    }

    /**
     * A row.
     *
     * @param place where it stands
     * @param cells cleaned texts by heading
     * @param tooMany whether it holds more filled cells than there are headings
     */
    public record Row(Place place, Map<String, String> cells, boolean tooMany) {
        /** The cell under {@code heading}, blank if there is none. */
        public String get(String heading) {
            String text = cells.getOrDefault(heading, "");
            return text.equals(Cells.NOT_CALCULATED) ? "" : text;
        }

        /** Headings of cells that hold a formula which nobody has calculated; they count as blank. */
        public List<String> notCalculated() {
            return cells.entrySet().stream()
                    .filter(cell -> cell.getValue().equals(Cells.NOT_CALCULATED))
                    .map(Map.Entry::getKey)
                    .toList();
        }

        /** The cell under {@code heading}, or empty if blank. */
        public Optional<String> filled(String heading) {
            return Optional.of(get(heading)).filter(text -> !text.isEmpty());
        }
    }

    /**
     * The table in {@code input}.
     *
     * @throws UnreadableInputException if it cannot be read, lacks one of {@code required}, or has a heading twice
     */
    public static SimpleTable read(Input input, Optional<Charset> encoding, List<String> required) {
        return read(input, encoding, required, Map.of());
    }

    /**
     * A table of settings, such as a map: UTF-8, or where it is not, in the encoding that was named for the tables of data.
     *
     * @throws UnreadableInputException as {@link #read(Input, Optional, List)}
     */
    public static SimpleTable readSettings(Input input, Optional<Charset> encoding, List<String> required) {
        return read(input, encoding.filter(named -> !CsvReader.isUnicode(input)), required);
    }

    /**
     * As {@link #read(Input, Optional, List)}.
     *
     * @param renamed our heading by the one in the file
     */
    public static SimpleTable read(
            Input input, Optional<Charset> encoding, List<String> required, Map<String, String> renamed) {
        List<String> sheets = new ArrayList<>();
        List<String> headings = new ArrayList<>();
        List<Row> rows = new ArrayList<>();
        TableFile.read(input, encoding, new TableSink() {
            @Override
            public void noSheetFits(List<String> names) {
                sheets.addAll(names);
            }

            @Override
            public boolean isHeader(List<String> cells) {
                return cells.stream()
                        .map(Cells::heading)
                        .map(h -> renamed.getOrDefault(h, h))
                        .toList()
                        .containsAll(required);
            }

            @Override
            public void row(int number, List<String> cells) {
                if (cells.stream().allMatch(c -> Cells.clean(c).isEmpty())) {
                    return;
                }
                if (headings.isEmpty()) {
                    cells.forEach(c -> headings.add(renamed.getOrDefault(Cells.heading(c), Cells.heading(c))));
                    while (headings.get(headings.size() - 1).isEmpty()) {
                        headings.remove(headings.size() - 1);
                    }
                } else {
                    rows.add(SimpleTable.row(Place.of(input.name(), number), headings, cells));
                }
            }
        });
        List<String> missing =
                required.stream().filter(r -> !headings.contains(r)).toList();
        if (!missing.isEmpty()) {
            throw new UnreadableInputException(
                    input.place(),
                    "the header lacks " + String.join(", ", missing) + ". It must have " + String.join(", ", required)
                            + "." + TableFile.sheetsRead(sheets));
        }
        for (int i = 0; i < headings.size(); i++) {
            if (!headings.get(i).isEmpty() && headings.indexOf(headings.get(i)) < i) {
                throw new UnreadableInputException(
                        input.place().in(headings.get(i)), "two columns have this heading. Remove or rename one.");
            }
        }
        return new SimpleTable(input, headings, rows);
    }

    private static Row row(Place place, List<String> headings, List<String> cells) {
        Map<String, String> byHeading = new LinkedHashMap<>();
        boolean tooMany = false;
        for (int i = 0; i < cells.size(); i++) {
            String text = Cells.clean(cells.get(i));
            if (i < headings.size()) {
                byHeading.put(headings.get(i), text);
            } else {
                tooMany |= !text.isEmpty();
            }
        }
        return new Row(place, byHeading, tooMany);
    }
}
