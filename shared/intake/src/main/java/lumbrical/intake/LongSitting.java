package lumbrical.intake;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Response;
import lumbrical.scoring.Responses;
import lumbrical.sitting.Sitting;

/** The rows of the long layout that belong to one sitting. Many are held at once, and most have one form or two. */
final class LongSitting {
    private final Sitting sitting;
    /** In the order in which they begin. */
    private final List<LongForm> forms = new ArrayList<>(1);

    LongSitting(Sitting sitting) {
        this.sitting = sitting;
    }

    /** Takes a row. An item given again starts a second form of the sitting. */
    void put(LongResponse row) {
        Instrument instrument = row.column().instrument();
        int position = row.column().column().index();
        int at = place(instrument.id(), position);
        if (at == forms.size() || !forms.get(at).isOf(instrument)) {
            boolean second = at > 0 && forms.get(at - 1).isOf(instrument);
            forms.add(at, new LongForm(instrument, second ? Optional.of(row.sitting()) : Optional.empty()));
        }
        forms.get(at).put(position, row.response());
    }

    /**
     * Where the first form of an instrument stands that lacks the column, or would stand. An earlier form of an instrument has what a later
     * one has, so that it can be looked for by halves: a faulty table may give one item a million times.
     */
    private int place(InstrumentId instrument, int column) {
        int from = 0;
        int to = forms.size();
        while (from < to) {
            int middle = (from + to) >>> 1;
            if (forms.get(middle).isBefore(instrument, column)) {
                from = middle + 1;
            } else {
                to = middle;
            }
        }
        return from;
    }

    /** Hands on the sitting, then the forms that stand twice in it. */
    void handOn(Consumer<SittingRow> rows) {
        List<FormEntry> entries = new ArrayList<>(forms.size());
        List<SittingRow> doubles = new ArrayList<>();
        for (LongForm form : forms) {
            FormEntry entry = form.entry();
            if (form.begun.isEmpty()) {
                entries.add(entry);
            } else {
                FormEntry first = entries.get(entries.size() - 1); // of the same instrument, by the order of the forms
                doubles.add(new SittingRow(
                        form.begun.get(), List.of(form.repeats(first, entry) ? first.again(entry.rows()) : entry)));
            }
        }
        rows.accept(new SittingRow(sitting, entries));
        doubles.forEach(rows);
    }

    /** The rows of one form. */
    private static final class LongForm {
        private final Instrument instrument;
        /** The row where it begins; empty for the first of its instrument. */
        private final Optional<Sitting> begun;

        private final Responses.Builder values;
        private final BitSet named = new BitSet();

        LongForm(Instrument instrument, Optional<Sitting> begun) {
            this.instrument = instrument;
            this.begun = begun;
            this.values = Responses.builder(instrument);
        }

        boolean isOf(Instrument other) {
            return instrument.id().equals(other.id());
        }

        boolean isBefore(InstrumentId other, int column) {
            int order = instrument.id().compareTo(other);
            return order < 0 || order == 0 && named.get(column);
        }

        void put(int position, Response value) {
            values.put(position, value);
            named.set(position);
        }

        /** Whether all that it holds is what the first form of the sitting holds too: rows that stand twice are the whole form again. */
        boolean repeats(FormEntry first, FormEntry own) {
            return named.stream()
                    .allMatch(
                            i -> own.responses().at(i).equals(first.responses().at(i)));
        }

        FormEntry entry() {
            return new FormEntry(instrument, values.build(), RequestedColumns.columns(named), named.cardinality());
        }
    }
}
