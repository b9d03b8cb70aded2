package lumbrical.instrument;

import java.util.regex.Pattern;

/**
 * Names an instrument; the prefix of its columns.
 *
 * @param value the id, such as {@code quickdash}
 */
public record InstrumentId(String value) implements Comparable<InstrumentId> {
    private static final Pattern ALLOWED = Pattern.compile("[a-z][a-z0-9]*");

    /** @throws IllegalArgumentException if {@code value} does not match {@code [a-z][a-z0-9]*} or is longer than 40 characters */
    public InstrumentId {
        if (value.length() > 40 || !ALLOWED.matcher(value).matches()) {
            throw new IllegalArgumentException("'" + value + "' is no instrument id: it must match [a-z][a-z0-9]*");
        }
    }

    @Override
    public int compareTo(InstrumentId other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }

    // Equality written out: the one a record is given is put together at run time, and every start would pay for it.

    @Override
    public boolean equals(Object other) {
        return other instanceof InstrumentId id && value.equals(id.value);
    }

    @Override
    public int hashCode() {
        return value.hashCode();
    }
}
