package lumbrical.instrument;

import java.util.Locale;
import java.util.Optional;

/** A side of the body, or both. */
public enum Side {
    RIGHT,
    LEFT,
    BOTH;

    /** {@code right}, {@code left} or {@code both}. */
    public String code() {
        return name().toLowerCase(Locale.ROOT);
    }

    /** The side written as a word or its first letter, case ignored; empty for anything else. */
    public static Optional<Side> parse(String text) {
        return switch (text.toLowerCase(Locale.ROOT)) {
            case "right", "r" -> Optional.of(RIGHT);
            case "left", "l" -> Optional.of(LEFT);
            case "both", "b" -> Optional.of(BOTH);
            default -> Optional.empty();
        };
    }

    /** Whether this side takes in {@code hand}: itself, or either hand when both. */
    public boolean includes(Side hand) {
        return this == hand || this == BOTH;
    }
}
