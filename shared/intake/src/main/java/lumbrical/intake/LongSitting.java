package lumbrical.intake;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Consumer;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Response;
import lumbrical.scoring.Responses;
import lumbrical.sitting.Sitting;

/** The rows of the long layout that belong to one sitting. */
final class LongSitting {
    private final Sitting sitting;
    private final Map<String, LongForm> forms = new TreeMap<>();

    LongSitting(Sitting sitting) {
        this.sitting = sitting;
    }

    void put(Instrument instrument, Column column, Response value, Sitting row) {
        forms.computeIfAbsent(instrument.id().value(), id -> new LongForm(instrument))
                .put(column, value, row);
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
        /** The row where each form begins. */
        private final List<Sitting> begun = new ArrayList<>();

        LongForm(Instrument instrument) {
            this.instrument = instrument;
        }

        void put(Column column, Response value, Sitting row) {
            int form = 0;
            while (form < named.size() && named.get(form).get(column.index())) {
                form++;
            }
            if (form == named.size()) {
                values.add(Responses.builder(instrument));
                named.add(new BitSet());
                begun.add(row);
            }
            values.get(form).put(column.index(), value);
            named.get(form).set(column.index());
        }

        void addTo(List<FormEntry> entries, List<SittingRow> doubles) {
            for (int i = 0; i < values.size(); i++) {
                FormEntry entry = new FormEntry(
                        instrument,
                        values.get(i).build(),
                        RequestedColumns.columns(named.get(i)),
                        named.get(i).cardinality());
                if (i == 0) {
                    entries.add(entry);
                } else {
                    doubles.add(new SittingRow(begun.get(i), List.of(entry)));
                }
            }
        }
    }
}
