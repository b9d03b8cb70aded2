package lumbrical.intake;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Consumer;
import lumbrical.sitting.Sitting;

/** The sittings of a table in the long layout, in the order in which they begin. Its rows may stand anywhere. */
final class LongSittings {
    private final Map<Sitting.Key, LongSitting> sittings = new LinkedHashMap<>();

    /** Takes a row. */
    void put(LongResponse row) {
        sittings.computeIfAbsent(row.sitting().key(), key -> new LongSitting(row.sitting()))
                .put(row);
    }

    /** Hands on the sittings of a table that has ended, each followed by the forms that stand twice in it. */
    void handOn(Consumer<SittingRow> rows) {
        sittings.values().forEach(sitting -> sitting.handOn(rows));
    }
}
