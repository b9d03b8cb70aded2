package lumbrical.instrument;

import java.util.regex.Pattern;

/**
 * Names an item within an instrument: its column without the prefix and the hand.
 *
 * @param value the id, such as {@code work_1}
 */
public record ItemId(String value) implements Comparable<ItemId> {
    private static final Pattern ALLOWED = Pattern.compile("[a-z0-9]+(_[a-z0-9]+)*");

    /** @throws IllegalArgumentException if {@code value} does not match {@code [a-z0-9]+(_[a-z0-9]+)*} or is longer than 40 characters */
    public ItemId {
        if (value.length() > 40 || !ALLOWED.matcher(value).matches()) {
            throw new IllegalArgumentException("'" + value + "' is no item id: it must match [a-z0-9]+(_[a-z0-9]+)*");
        }
    }

    @Override
    public int compareTo(ItemId other) {
        return value.compareTo(other.value);
    }

    @Override
    public String toString() {
        return value;
    }

    // Equality written out: the one a record is given is put together at run time, and every start would pay for it.

    @Override
    public boolean equals(Object other) {
        return other instanceof ItemId id && value.equals(id.value);
    }

    @Override
    public int hashCode() {
        return value.hashCode();
    }
}
