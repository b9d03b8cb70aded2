package lumbrical.reconcile;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import lumbrical.problem.Place;
import lumbrical.sitting.Sitting;

/** A sitting as one table has it, gathered from all its rows there. */
final class EnteredSitting {
    private final Sitting sitting;
    private final Map<String, Entry> cells = new LinkedHashMap<>();
    private Optional<Place> clash = Optional.empty();

    EnteredSitting(Sitting sitting) {
        this.sitting = sitting;
    }

    void put(String column, Entry entry, Place place) {
        Entry before = cells.putIfAbsent(column, entry);
        if (before != null && !before.text().equals(entry.text()) && clash.isEmpty()) {
            clash = Optional.of(place.in(column));
        }
    }

    Sitting sitting() {
        return sitting;
    }

    /** The filled cell in that column, or empty. */
    Optional<Entry> cell(String column) {
        return Optional.ofNullable(cells.get(column));
    }

    Map<String, Entry> cells() {
        return cells;
    }

    /** Where the table contradicts itself: another row of the same sitting fills a cell otherwise. */
    Optional<Place> clash() {
        return clash;
    }
}
