package lumbrical.scoring;

import java.util.Arrays;
import java.util.BitSet;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;

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
                        .filter(scale -> !scale.optional())
                        .anyMatch(scale -> scale.composition().fold(made -> made.uses(column.item()), parts -> false)))
                .map(Column::index)
                .forEach(columns::set);
        return new RequestedColumns(columns);
    }

    /** Whether no column is requested. */
    public boolean isEmpty() {
        return columns.isEmpty();
    }

    boolean any(int[] positions) {
        return !columns.isEmpty() && Arrays.stream(positions).anyMatch(columns::get);
    }
}
