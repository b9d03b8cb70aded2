package lumbrical.scoring;

import java.util.Arrays;
import java.util.BitSet;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemId;
import lumbrical.instrument.Scale;

/**
 * Columns that somebody asked about, so that their scales give a row even without an answer: a form expected of a patient, or
 * a blank response in the long layout. Immutable.
 */
public final class RequestedColumns {
    /** Nothing in particular: a form without an answer gives no row. */
    public static final RequestedColumns NOTHING = new RequestedColumns(new BitSet());

    private final BitSet columns;

    private RequestedColumns(BitSet columns) {
        this.columns = columns;
    }

    /** These columns, by position. */
    public static RequestedColumns columns(BitSet columns) {
        return new RequestedColumns((BitSet) columns.clone());
    }

    /** The whole form but its optional modules. */
    public static RequestedColumns form(Instrument instrument) {
        BitSet columns = new BitSet();
        instrument.columns().stream()
                .filter(column -> instrument.scales().stream()
                        .anyMatch(scale ->
                                !scale.optional() && uses(scale, column.item().id())))
                .map(Column::index)
                .forEach(columns::set);
        return new RequestedColumns(columns);
    }

    private static boolean uses(Scale scale, ItemId item) {
        return scale.composition() instanceof Composition.FromItems made
                && made.items().stream().anyMatch(i -> i.item().id().equals(item));
    }

    /** Whether no column is named. */
    public boolean isEmpty() {
        return columns.isEmpty();
    }

    boolean any(int[] positions) {
        return !columns.isEmpty() && Arrays.stream(positions).anyMatch(columns::get);
    }
}
