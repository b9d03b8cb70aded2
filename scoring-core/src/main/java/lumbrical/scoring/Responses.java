package lumbrical.scoring;

import java.util.Arrays;
import java.util.Map;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;

/**
 * One person's responses to one instrument at one sitting: a value, {@link #NOT_ANSWERED} or {@link #NOT_ALLOWED} for each of
 * the instrument's columns. Immutable.
 */
public final class Responses {
    /** Stands for a blank (NaN). */
    public static final double NOT_ANSWERED = Double.NaN;

    /** Stands for an entry that is not among the item's codes and was not a number (negative infinity). */
    public static final double NOT_ALLOWED = Double.NEGATIVE_INFINITY;

    private final double[] values;

    private Responses(double[] values) {
        this.values = values;
    }

    /**
     * Responses by column position.
     *
     * @param values one per column of {@code instrument}, in their order; copied
     * @throws IllegalArgumentException if there are not as many values as columns
     */
    public static Responses of(Instrument instrument, double[] values) {
        if (values.length != instrument.columns().size()) {
            throw new IllegalArgumentException(instrument.id() + " has "
                    + instrument.columns().size() + " columns, but " + values.length + " values were given");
        }
        return new Responses(values.clone());
    }

    /**
     * Responses by item: the column's heading without the instrument's prefix, such as {@code 1} or {@code pain_1_right}. Items
     * not named are not answered.
     *
     * @throws IllegalArgumentException if the instrument has no such column
     */
    public static Responses of(Instrument instrument, Map<String, Double> byItem) {
        double[] values = new double[instrument.columns().size()];
        Arrays.fill(values, NOT_ANSWERED);
        byItem.forEach((item, value) -> {
            Column column = instrument
                    .column(instrument.id() + "_" + item)
                    .orElseThrow(() -> new IllegalArgumentException(instrument.id() + " has no column for '" + item
                            + "'. Its columns are "
                            + instrument.columns().stream().map(Column::name).toList()));
            values[column.index()] = value;
        });
        return new Responses(values);
    }

    /** The response in the column with that position: NaN if not answered, negative infinity if it was no number. */
    public double at(int column) {
        return values[column];
    }

    /** Whether the column with that position holds anything at all, allowed or not. */
    public boolean entered(int column) {
        return !Double.isNaN(values[column]);
    }

    /** Whether no column holds anything. */
    public boolean blank() {
        return Arrays.stream(values).allMatch(Double::isNaN);
    }

    /** How many columns there are. */
    public int size() {
        return values.length;
    }

    double[] array() {
        return values;
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Responses r && Arrays.equals(values, r.values);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(values);
    }

    @Override
    public String toString() {
        return Arrays.toString(values);
    }
}
