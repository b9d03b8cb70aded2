package lumbrical.output;

import java.util.function.Function;

/**
 * A column of a table we write.
 *
 * @param name its heading
 * @param meaning what it holds, for the data dictionary
 * @param kind what kind of values it holds
 * @param of the value of a row
 */
public record OutputColumn<R>(String name, String meaning, Kind kind, Function<R, Value> of) {
    /** Kinds of values. */
    public enum Kind {
        TEXT,
        /** Numbers with decimals. */
        NUMBER,
        /** Whole numbers: counts, days. */
        COUNT,
        DATE;

        /** The type by which a Frictionless Table Schema knows it. */
        public String schemaType() {
            return switch (this) {
                case TEXT -> "string";
                case NUMBER -> "number";
                case COUNT -> "integer";
                case DATE -> "date";
            };
        }
    }

    public static <R> OutputColumn<R> text(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.TEXT, of);
    }

    public static <R> OutputColumn<R> number(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.NUMBER, of);
    }

    public static <R> OutputColumn<R> count(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.COUNT, of);
    }

    public static <R> OutputColumn<R> date(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.DATE, of);
    }
}
