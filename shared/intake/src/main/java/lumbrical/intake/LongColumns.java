package lumbrical.intake;

import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.tabular.Cells;

/** Finds what the cells 'instrument' and 'item' of a row mean; a table names the same few again and again. */
public final class LongColumns {
    /** Spellings kept; a bound keeps hostile input from filling the memory. */
    private static final int MAX_KNOWN = 10_000;

    private final Catalogue catalogue;
    /** By the texts of both cells, as they stand in the file. */
    private final Map<String, Map<String, LongColumn>> known = new HashMap<>();

    private int count;

    /** Names of the instruments and items of {@code catalogue}. */
    public LongColumns(Catalogue catalogue) {
        this.catalogue = catalogue;
    }

    /** What the texts of both cells name; an item goes with its instrument's prefix or without it. */
    public Optional<LongColumn> find(String instrument, String item) {
        LongColumn before = known.getOrDefault(instrument, Map.of()).get(item);
        if (before != null) {
            return Optional.of(before);
        }
        Optional<LongColumn> found = instrument(instrument).flatMap(named -> column(named, instrument, item));
        found.ifPresent(column -> keep(instrument, item, column));
        return found;
    }

    /** The instrument that the text of a cell names. */
    Optional<Instrument> instrument(String cell) {
        return catalogue.find(name(cell));
    }

    /** The text of a cell as names are compared. */
    static String name(String cell) {
        return Cells.heading(Cells.clean(cell));
    }

    private Optional<LongColumn> column(Instrument named, String instrument, String item) {
        String name = name(item);
        return named.column(name(instrument) + "_" + name)
                .or(() -> named.column(name))
                .map(column -> new LongColumn(catalogue.ownerOf(column.name()).orElseThrow(), column));
    }

    private void keep(String instrument, String item, LongColumn column) {
        if (count >= MAX_KNOWN) {
            known.clear();
            count = 0;
        }
        known.computeIfAbsent(instrument, text -> new HashMap<>()).put(item, column);
        count++;
    }
}
