package lumbrical.intake;

import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.Consumer;
import lumbrical.sitting.Sitting;

/** The sittings of a table in the long layout, in the order in which they begin. Its rows may stand anywhere. */
public final class LongSittings {
    private final Map<Sitting.Key, LongSitting> sittings = new LinkedHashMap<>();

    /** No sittings yet. */
    public LongSittings() {}

    /** Takes a row. */
    public void put(LongResponse row) {
        of(row.sitting()).put(row.column(), row.response(), row::sitting);
    }

    /** The sitting that a row belongs to; it begins there if it has no row yet. */
    public LongSitting of(Sitting row) {
        return sittings.computeIfAbsent(row.key(), key -> new LongSitting(row));
    }

    /** Hands on the sittings of a table that has ended, each followed by the forms that stand twice in it. */
    public void handOn(Consumer<SittingRow> rows) {
        sittings.values().forEach(sitting -> sitting.handOn(rows));
    }
}
