package lumbrical.scoring;

import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.number.Numbers;

/**
 * One person's responses to one instrument at one sitting: for each of the instrument's columns a number, nothing, or an entry that
 * was no number. Immutable.
 */
public final class Responses {
    /** Stands for a blank, within this package and in arrays given to {@link ScoringPlan#scoreInto}. */
    static final double NOT_ANSWERED = Double.NaN;
    /** Stands for an entry that was no number. */
    static final double NO_NUMBER = Double.NEGATIVE_INFINITY;

    private static final byte[] NO_BYTES = {};
    private static final double[] NO_VALUES = {};
    private static final byte PACKED_NOT_ANSWERED = Byte.MIN_VALUE;
    private static final byte PACKED_NO_NUMBER = Byte.MIN_VALUE + 1;

    private final Instrument instrument;
    /** Most responses are small codes; so a clinic's forms take an eighth of the room. Empty if one does not fit. */
    private final byte[] packed;
    /** The values if one of them is no small code, else empty. */
    private final double[] values;

    private Responses(Instrument instrument, double[] values) {
        this.instrument = instrument;
        byte[] bytes = new byte[values.length];
        boolean fits = true;
        for (int i = 0; i < values.length; i++) {
            bytes[i] = packed(values[i]);
            fits &= Double.compare(unpacked(bytes[i]), values[i]) == 0;
        }
        this.packed = fits ? bytes : NO_BYTES;
        this.values = fits ? NO_VALUES : values;
    }

    private static byte packed(double value) {
        if (Double.isNaN(value)) {
            return PACKED_NOT_ANSWERED;
        }
        return Double.compare(value, NO_NUMBER) == 0 ? PACKED_NO_NUMBER : (byte) value;
    }

    private static double unpacked(byte packed) {
        return switch (packed) {
            case PACKED_NOT_ANSWERED -> NOT_ANSWERED;
            case PACKED_NO_NUMBER -> NO_NUMBER;
            default -> packed;
        };
    }

    private double inColumn(int column) {
        return packed.length == 0 ? values[column] : unpacked(packed[column]);
    }

    /** Takes responses column by column; what is not given is not answered. Each {@link #build} starts afresh. */
    public static final class Builder {
        private final Instrument instrument;
        private double[] values;

        private Builder(Instrument instrument) {
            this.instrument = instrument;
            this.values = blank(instrument);
        }

        /**
         * What stands in a column.
         *
         * @throws IndexOutOfBoundsException if there is no column of that position
         */
        public Builder put(int column, Response response) {
            if (response instanceof Response.Answered answered) {
                values[column] = answered.value() + 0.0; // -0.0 and 0.0 are one response
            } else {
                values[column] = response.equals(Response.NO_NUMBER) ? NO_NUMBER : NOT_ANSWERED;
            }
            return this;
        }

        /**
         * A number in a column, whether or not the item allows it.
         *
         * @throws IllegalArgumentException if {@code value} is not finite
         * @throws IndexOutOfBoundsException if there is no column of that position
         */
        public Builder answer(int column, double value) {
            return put(column, Response.of(value));
        }

        /** An entry that is no number, such as two ticks; its scales are not scored. */
        public Builder noNumber(int column) {
            return put(column, Response.NO_NUMBER);
        }

        /** The responses given so far. */
        public Responses build() {
            Responses built = new Responses(instrument, values);
            if (built.packed.length == 0) {
                values = blank(instrument); // those built keep the array
            } else {
                Arrays.fill(values, NOT_ANSWERED);
            }
            return built;
        }
    }

    private static double[] blank(Instrument instrument) {
        double[] values = new double[instrument.columns().size()];
        Arrays.fill(values, NOT_ANSWERED);
        return values;
    }

    /** Responses to {@code instrument}, column by column. */
    public static Builder builder(Instrument instrument) {
        return new Builder(instrument);
    }

    /** A form on which nothing was answered. */
    public static Responses blankForm(Instrument instrument) {
        return new Responses(instrument, blank(instrument));
    }

    /**
     * Responses by item: the column's heading with the instrument's prefix or without it, such as {@code quickdash_1} or {@code 1}.
     * Items not named are not answered.
     *
     * @throws IllegalArgumentException if the instrument has no such column, or a value is null or not finite
     */
    public static Responses of(Instrument instrument, Map<String, Double> byItem) {
        Builder builder = builder(instrument);
        byItem.forEach((item, value) -> {
            Column column = instrument
                    .column(instrument.id() + "_" + item)
                    .or(() -> instrument.column(item))
                    .orElseThrow(() -> new IllegalArgumentException(instrument.id() + " has no item '" + item
                            + "'. Its items are "
                            + instrument.columns().stream()
                                    .map(Column::shortName)
                                    .collect(Collectors.joining(", "))));
            if (Objects.isNull(value)) {
                throw new IllegalArgumentException(
                        "The response to item '" + item + "' is null; leave out what was not answered");
            }
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("The response to item '" + item + "' is " + value
                        + ", no number; leave out what was not answered");
            }
            builder.answer(column.index(), value);
        });
        return builder.build();
    }

    /** The instrument they answer. */
    public Instrument instrument() {
        return instrument;
    }

    /** What stands in the column with that position. */
    public Response at(int column) {
        double value = inColumn(column);
        if (Double.isFinite(value)) {
            return Response.of(value);
        }
        return entered(column) ? Response.NO_NUMBER : Response.NOT_ANSWERED;
    }

    /** The number given in the column with that position, allowed or not; empty if not answered or no number. */
    public OptionalDouble value(int column) {
        double value = inColumn(column);
        return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
    }

    /**
     * The response in a column, if it is one that its item allows.
     *
     * @throws IllegalArgumentException if it is no column of the instrument
     */
    public OptionalDouble allowed(Column column) {
        List<Column> own = instrument.columns();
        if (column.index() >= own.size() || !own.get(column.index()).equals(column)) {
            throw new IllegalArgumentException("'" + column.name() + "' is no column of " + instrument);
        }
        return allowed(column.index());
    }

    /**
     * The response in the column with that position, if it is one that its item allows.
     *
     * @throws IndexOutOfBoundsException if there is no such column
     */
    public OptionalDouble allowed(int column) {
        double value = inColumn(column);
        return instrument.columns().get(column).item().responses().allows(value)
                ? OptionalDouble.of(value)
                : OptionalDouble.empty();
    }

    /** Whether the column with that position holds anything at all, allowed or not. */
    public boolean entered(int column) {
        return !Double.isNaN(inColumn(column));
    }

    /** Whether no column holds anything. */
    public boolean blank() {
        for (byte value : packed) {
            if (value != PACKED_NOT_ANSWERED) {
                return false;
            }
        }
        return values.length == 0;
    }

    /** The values column by column, as {@link ScoringPlan#scoreInto} takes them. */
    double[] array() {
        double[] array = new double[instrument.columns().size()];
        copyInto(array);
        return array;
    }

    void copyInto(double[] array) {
        if (packed.length == 0) {
            System.arraycopy(values, 0, array, 0, values.length);
        } else {
            for (int i = 0; i < packed.length; i++) {
                array[i] = unpacked(packed[i]);
            }
        }
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof Responses r
                && instrument.equals(r.instrument)
                && Arrays.equals(packed, r.packed)
                && Arrays.equals(values, r.values);
    }

    @Override
    public int hashCode() {
        return 31 * (31 * instrument.hashCode() + Arrays.hashCode(packed)) + Arrays.hashCode(values);
    }

    /** What was answered, such as {@code quickdash@1 {1=3, 2=no number}}. */
    @Override
    public String toString() {
        return instrument + " "
                + instrument.columns().stream()
                        .filter(c -> entered(c.index()))
                        .map(c -> c.shortName() + "="
                                + (Double.isFinite(inColumn(c.index()))
                                        ? Numbers.format(inColumn(c.index()))
                                        : "no number"))
                        .collect(Collectors.joining(", ", "{", "}"));
    }
}
