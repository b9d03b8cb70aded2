package org.handoutcomes.instrument;

import java.util.Arrays;
import java.util.Optional;

/** What an instrument asks about. */
public enum AnsweredFor {
    /** The person, whichever hand is used. */
    PERSON("person"),
    /** The treated wrist or hand: one form per side. */
    TREATED_SIDE("treated-side"),
    /** Some items are asked of each hand. */
    HAND("hand");

    private final String code;

    AnsweredFor(String code) {
        this.code = code;
    }

    /** The word used in definitions. */
    public String code() {
        return code;
    }

    /** The value with that {@link #code}, or empty. */
    public static Optional<AnsweredFor> parse(String code) {
        return Arrays.stream(values()).filter(a -> a.code.equals(code)).findFirst();
    }
}
