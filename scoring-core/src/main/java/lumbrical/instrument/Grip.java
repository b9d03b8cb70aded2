package lumbrical.instrument;

import java.util.Locale;

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
}
