package lumbrical.fastpath;

import java.util.Arrays;
import java.util.Optional;
import lumbrical.instrument.ResponseSet;
import lumbrical.intake.LongColumn;
import lumbrical.intake.LongColumns;

/** What the bytes of the cells 'instrument' and 'item' mean, found once for each spelling. Not safe to share between threads. */
final class KnownColumns {
    private static final int SLOTS = 1 << 12;
    /** Beyond so many spellings it begins afresh. */
    private static final int MAX_KNOWN = SLOTS / 2;

    private final LongColumns columns;
    private final Known[] slots = new Known[SLOTS];
    private int count;

    /**
     * A spelling.
     *
     * @param instrument bytes of its cell
     * @param item bytes of its cell
     * @param column what they mean
     * @param allowed which of the numbers 0 to 99 its item allows
     */
    record Known(byte[] instrument, byte[] item, LongColumn column, boolean[] allowed) {
        private boolean is(byte[] bytes, int from, int to, int itemFrom, int itemTo) {
            return Arrays.equals(item, 0, item.length, bytes, itemFrom, itemTo)
                    && Arrays.equals(instrument, 0, instrument.length, bytes, from, to);
        }
    }

    KnownColumns(LongColumns columns) {
        this.columns = columns;
    }

    /** What two cells of ASCII text mean; empty if they name no column. */
    Optional<Known> find(byte[] bytes, int from, int to, int itemFrom, int itemTo) {
        int at = slotOf(bytes, from, to, itemFrom, itemTo);
        Known known = slots[at];
        while (known != null) {
            if (known.is(bytes, from, to, itemFrom, itemTo)) {
                return Optional.of(known);
            }
            at = at + 1 & SLOTS - 1;
            known = slots[at];
        }
        return columns.find(PlainCells.text(bytes, from, to), PlainCells.text(bytes, itemFrom, itemTo))
                .map(column -> keep(bytes, from, to, itemFrom, itemTo, column));
    }

    private static int slotOf(byte[] bytes, int from, int to, int itemFrom, int itemTo) {
        long hash = DuplicateDetector.bytes(bytes, from, to, DuplicateDetector.SEED);
        return (int) DuplicateDetector.bytes(bytes, itemFrom, itemTo, hash) & SLOTS - 1;
    }

    private Known keep(byte[] bytes, int from, int to, int itemFrom, int itemTo, LongColumn column) {
        if (count == MAX_KNOWN) {
            Arrays.fill(slots, null);
            count = 0;
        }
        ResponseSet responses = column.column().item().responses();
        boolean[] allowed = new boolean[PlainCells.CODES];
        for (int code = 0; code < allowed.length; code++) {
            allowed[code] = responses.allows(code);
        }
        int at = slotOf(bytes, from, to, itemFrom, itemTo);
        while (slots[at] != null) {
            at = at + 1 & SLOTS - 1;
        }
        slots[at] = new Known(
                Arrays.copyOfRange(bytes, from, to), Arrays.copyOfRange(bytes, itemFrom, itemTo), column, allowed);
        count++;
        return slots[at];
    }
}
