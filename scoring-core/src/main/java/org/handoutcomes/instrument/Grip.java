package org.handoutcomes.instrument;

import java.util.Arrays;
import java.util.Locale;
import java.util.Optional;

/** How a hand takes hold of things; the tag of an item whose task plainly is one of these. Our reading, no published property. */
public enum Grip {
    /** Thumb against the side of the index finger. */
    KEY,
    /** Pulp of the thumb against pulp of a finger. */
    PINCH,
    /** Tripod, as a pen is held. */
    PRECISION,
    /** Forceful grip of the whole hand. */
    POWER,
    /** Bent fingers carry, without the thumb. */
    HOOK,
    /** Hand round a cylinder. */
    CYLINDRICAL;

    /** The word used in definitions and outputs. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The grip with that {@link #code}, or empty. */
    public static Optional<Grip> parse(String code) {
        return Arrays.stream(values()).filter(g -> g.code().equals(code)).findFirst();
    }
}
