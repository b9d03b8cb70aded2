package lumbrical.instrument;

import java.util.Locale;

/** Which end of a scale or of an item's codes is the good one. */
public enum Direction {
    /** A lower value is the better state. */
    LOWER,
    /** A higher value is the better state. */
    HIGHER;

    /** {@code lower} or {@code higher}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** How much better {@code to} is than {@code from}: positive when the person got better. */
    public double improvement(double from, double to) {
        return this == LOWER ? from - to : to - from;
    }
}
