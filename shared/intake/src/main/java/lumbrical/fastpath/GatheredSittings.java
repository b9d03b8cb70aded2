package lumbrical.fastpath;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import lumbrical.instrument.Instrument;
import lumbrical.intake.FormEntry;
import lumbrical.intake.LongColumn;
import lumbrical.intake.SittingRow;
import lumbrical.problem.Place;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Response;
import lumbrical.scoring.Responses;
import lumbrical.sitting.Sitting;

/**
 * The sittings of a long table, in the order in which they begin, until it ends. They lie in flat arrays: as objects they would take five
 * times the room, and be copied while the table is read. Of a sitting only what the score table says of it is kept.
 */
final class GatheredSittings {
    /** Stands for a response that is blank. */
    static final double NOT_ANSWERED = RowBlock.NOT_ANSWERED;
    /** Stands for an entry that is no number. */
    private static final double NO_NUMBER = Double.NEGATIVE_INFINITY;
    /** Stands for an item of which no row was given. */
    private static final double NOT_NAMED = Double.POSITIVE_INFINITY;

    private static final int NONE = -1;
    /** Forms of a sitting that are looked through one by one. */
    private static final int MANY = 32;

    private final String file;

    private final ByteRow keys = new ByteRow(1 << 16);
    private int sittings;
    private int[] keyEnd = new int[1 << 10];
    private int[] row = new int[1 << 10];
    private int[] firstForm = new int[1 << 10];
    /** Sittings by the hash of their keys; more than half are free. */
    private int[] slots = newSlots(1 << 12);

    private int forms;
    private Instrument[] instrument = new Instrument[1 << 10];
    private int[] nextForm = new int[1 << 10];
    private int[] firstValue = new int[1 << 10];
    /** The row where a form begins that its sitting has already; else {@link #NONE}. */
    private int[] begun = new int[1 << 10];

    /** The forms of sittings that have many. */
    private final Map<Integer, List<Integer>> ordered = new HashMap<>();

    private double[] values = new double[1 << 13];
    private int valueCount;

    /** @param file its name in problems */
    GatheredSittings(String file) {
        this.file = file;
    }

    private static int[] newSlots(int size) {
        int[] slots = new int[size];
        Arrays.fill(slots, NONE);
        return slots;
    }

    /**
     * The sitting with that key; it begins if there is none.
     *
     * @param number of the row that asks
     */
    int of(SittingKey key, int number) {
        int at = slotOf(key.bytes(), 0, key.length());
        while (slots[at] != NONE) {
            int sitting = slots[at];
            if (Arrays.equals(keys.bytes(), keyStart(sitting), keyEnd[sitting], key.bytes(), 0, key.length())) {
                return sitting;
            }
            at = at + 1 & slots.length - 1;
        }
        slots[at] = sittings;
        return begin(key, number);
    }

    private int slotOf(byte[] bytes, int from, int to) {
        return (int) DuplicateDetector.bytes(bytes, from, to, DuplicateDetector.SEED) & slots.length - 1;
    }

    private int keyStart(int sitting) {
        return sitting == 0 ? 0 : keyEnd[sitting - 1];
    }

    private int begin(SittingKey key, int number) {
        int sitting = sittings;
        if (sitting == row.length) {
            keyEnd = Arrays.copyOf(keyEnd, sitting * 2);
            row = Arrays.copyOf(row, sitting * 2);
            firstForm = Arrays.copyOf(firstForm, sitting * 2);
        }
        keys.append(key.bytes(), 0, key.length());
        keyEnd[sitting] = keys.length();
        row[sitting] = number;
        firstForm[sitting] = NONE;
        sittings++;
        if (sittings * 2 > slots.length) {
            moreSlots();
        }
        return sitting;
    }

    private void moreSlots() {
        slots = newSlots(slots.length * 2);
        for (int sitting = 0; sitting < sittings; sitting++) {
            int at = slotOf(keys.bytes(), keyStart(sitting), keyEnd[sitting]);
            while (slots[at] != NONE) {
                at = at + 1 & slots.length - 1;
            }
            slots[at] = sitting;
        }
    }

    /**
     * Takes a row. An item given again starts a second form of the sitting.
     *
     * @param value the response, or {@link #NOT_ANSWERED}
     * @param number of the row
     */
    void put(int sitting, LongColumn column, double value, int number) {
        int position = column.column().index();
        int last = NONE;
        int passed = 0;
        boolean second = false;
        for (int form = firstForm[sitting]; form != NONE; form = nextForm[form]) {
            if (passed == MANY) {
                putInOrder(sitting, column, value, number);
                return;
            }
            passed++;
            if (instrument[form].id().equals(column.instrument().id())) {
                int at = firstValue[form] + position;
                if (values[at] == NOT_NAMED) {
                    values[at] = value;
                    return;
                }
                second = true;
            }
            last = form;
        }
        int form = begin(column.instrument(), second ? number : NONE);
        values[firstValue[form] + position] = value;
        if (last == NONE) {
            firstForm[sitting] = form;
        } else {
            nextForm[last] = form;
        }
    }

    /**
     * Takes a row of a sitting with many forms, which are looked through by halves: a faulty table may give one item a million times. An
     * earlier form of an instrument has what a later one has.
     */
    private void putInOrder(int sitting, LongColumn column, double value, int number) {
        List<Integer> own = ordered.computeIfAbsent(sitting, this::inOrder);
        int position = column.column().index();
        int from = 0;
        int to = own.size();
        while (from < to) {
            int middle = (from + to) >>> 1;
            int order = instrument[own.get(middle)]
                    .id()
                    .compareTo(column.instrument().id());
            if (order < 0 || order == 0 && values[firstValue[own.get(middle)] + position] != NOT_NAMED) {
                from = middle + 1;
            } else {
                to = middle;
            }
        }
        if (from == own.size() || !isOf(column.instrument(), own.get(from))) {
            boolean second = from > 0 && isOf(column.instrument(), own.get(from - 1));
            own.add(from, begin(column.instrument(), second ? number : NONE));
        }
        values[firstValue[own.get(from)] + position] = value;
    }

    private boolean isOf(Instrument of, int form) {
        return instrument[form].id().equals(of.id());
    }

    /** The forms of a sitting by instrument, those of one as they began. */
    private List<Integer> inOrder(int sitting) {
        List<Integer> own = new ArrayList<>(2);
        for (int form = firstForm[sitting]; form != NONE; form = nextForm[form]) {
            own.add(form);
        }
        if (own.size() > 1) {
            own.sort(Comparator.comparing(form -> instrument[form].id()));
        }
        return own;
    }

    /** As {@link #put(int, LongColumn, double, int)}, with any response. */
    void put(int sitting, LongColumn column, Response response, int number) {
        double other = response.equals(Response.NO_NUMBER) ? NO_NUMBER : NOT_ANSWERED;
        put(sitting, column, response instanceof Response.Answered answered ? answered.value() : other, number);
    }

    private int begin(Instrument of, int number) {
        int form = forms;
        if (form == begun.length) {
            instrument = Arrays.copyOf(instrument, form * 2);
            nextForm = Arrays.copyOf(nextForm, form * 2);
            firstValue = Arrays.copyOf(firstValue, form * 2);
            begun = Arrays.copyOf(begun, form * 2);
        }
        int end = valueCount + of.columns().size();
        if (end > values.length) {
            values = Arrays.copyOf(values, Math.max(end, values.length * 2));
        }
        Arrays.fill(values, valueCount, end, NOT_NAMED);
        instrument[form] = of;
        nextForm[form] = NONE;
        firstValue[form] = valueCount;
        begun[form] = number;
        valueCount = end;
        forms++;
        return form;
    }

    /** Hands on the sittings, each followed by the forms that stand twice in it. */
    void handOn(Consumer<SittingRow> rows) {
        for (int sitting = 0; sitting < sittings; sitting++) {
            handOn(sitting, rows);
        }
    }

    private void handOn(int sitting, Consumer<SittingRow> rows) {
        List<Integer> own = ordered.containsKey(sitting) ? ordered.get(sitting) : inOrder(sitting);
        Sitting first =
                SittingKey.sitting(keys.bytes(), keyStart(sitting), keyEnd[sitting], Place.of(file, row[sitting]));
        List<FormEntry> entries = new ArrayList<>(own.size());
        List<SittingRow> doubles = new ArrayList<>(0);
        int firstOfInstrument = NONE;
        for (int form : own) {
            if (begun[form] == NONE) {
                firstOfInstrument = form;
                entries.add(entry(form));
            } else {
                Sitting again = SittingKey.sitting(
                        keys.bytes(), keyStart(sitting), keyEnd[sitting], Place.of(file, begun[form]));
                FormEntry entry = entry(form);
                doubles.add(new SittingRow(
                        again,
                        List.of(
                                repeats(firstOfInstrument, form)
                                        ? entry(firstOfInstrument).again(entry.rows())
                                        : entry)));
            }
        }
        rows.accept(new SittingRow(first, entries));
        doubles.forEach(rows);
    }

    /** Whether all that a form holds is what the first one holds too: rows that stand twice are the whole form again. */
    private boolean repeats(int first, int form) {
        for (int i = 0; i < instrument[form].columns().size(); i++) {
            double value = values[firstValue[form] + i];
            if (value != NOT_NAMED && Double.compare(value, values[firstValue[first] + i]) != 0) {
                return false;
            }
        }
        return true;
    }

    private FormEntry entry(int form) {
        Responses.Builder builder = Responses.builder(instrument[form]);
        BitSet named = new BitSet();
        int columns = instrument[form].columns().size();
        for (int i = 0; i < columns; i++) {
            double value = values[firstValue[form] + i];
            if (value != NOT_NAMED) {
                named.set(i);
                put(builder, i, value);
            }
        }
        return new FormEntry(instrument[form], builder.build(), RequestedColumns.columns(named), named.cardinality());
    }

    private static void put(Responses.Builder builder, int column, double value) {
        if (Double.isFinite(value)) {
            builder.answer(column, value);
        } else if (value == NO_NUMBER) {
            builder.noNumber(column);
        }
    }
}
