package lumbrical.intake;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.function.Supplier;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Response;
import lumbrical.scoring.Responses;
import lumbrical.sitting.Sitting;

/** The rows of the long layout that belong to one sitting. */
public final class LongSitting {
    private final Sitting sitting;
    private final Map<String, LongForm> forms = new TreeMap<>();

    LongSitting(Sitting sitting) {
        this.sitting = sitting;
    }

    /**
     * Takes a row.
     *
     * @param row the sitting as the row says it; asked for only where a form begins that the sitting has already
     */
    public void put(LongColumn column, Response value, Supplier<Sitting> row) {
        forms.computeIfAbsent(column.instrument().id().value(), id -> new LongForm(column.instrument()))
                .put(column.column(), value, row);
    }

    /** Hands on the sitting, then the forms that stand twice in it. */
    void handOn(Consumer<SittingRow> rows) {
        List<FormEntry> entries = new ArrayList<>();
        List<SittingRow> doubles = new ArrayList<>();
        forms.values().forEach(form -> form.addTo(entries, doubles));
        rows.accept(new SittingRow(sitting, entries));
        doubles.forEach(rows);
    }

    /** The rows of one instrument; an item given again starts a second form of the same sitting. */
    private static final class LongForm {
        private final Instrument instrument;
        private final List<Responses.Builder> values = new ArrayList<>();
        private final List<BitSet> named = new ArrayList<>();
        /** The row where each form after the first begins. */
        private final List<Sitting> doubles = new ArrayList<>();

        LongForm(Instrument instrument) {
            this.instrument = instrument;
        }

        void put(Column column, Response value, Supplier<Sitting> row) {
            int form = 0;
            while (form < named.size() && named.get(form).get(column.index())) {
                form++;
            }
            if (form == named.size()) {
                values.add(Responses.builder(instrument));
                named.add(new BitSet());
                if (form > 0) {
                    doubles.add(row.get());
                }
            }
            values.get(form).put(column.index(), value);
            named.get(form).set(column.index());
        }

        void addTo(List<FormEntry> entries, List<SittingRow> rows) {
            for (int i = 0; i < values.size(); i++) {
                FormEntry entry = new FormEntry(
                        instrument,
                        values.get(i).build(),
                        RequestedColumns.columns(named.get(i)),
                        named.get(i).cardinality());
                if (i == 0) {
                    entries.add(entry);
                } else {
                    rows.add(new SittingRow(doubles.get(i - 1), List.of(entry)));
                }
            }
        }
    }
}
