package lumbrical.instrument;

/** How sure a fact is. Shown wherever the score or threshold that rests on it is shown. */
public enum Standing {
    /** Seen in the developer's own or an independent published source. */
    PUBLISHED("published"),
    /** Seen quoted in another place, not at its source. */
    SECOND_HAND("second-hand"),
    /** Recalled and not seen; must be checked against the manual before it is relied on. */
    FROM_MEMORY("from-memory"),
    /** A convention or an item set of this project. */
    OURS("ours");

    private final String code;

    Standing(String code) {
        this.code = code;
    }

    /** The word used in definitions and outputs. */
    public String code() {
        return code;
    }

    /**
     * The weaker of two: from memory is weaker than a convention of ours, that than second-hand, that than published. What is
     * remembered may be wrong without anybody knowing; a convention is at least known for what it is.
     */
    public Standing weaker(Standing other) {
        return strength() <= other.strength() ? this : other;
    }

    private int strength() {
        return switch (this) {
            case FROM_MEMORY -> 0;
            case OURS -> 1;
            case SECOND_HAND -> 2;
            case PUBLISHED -> 3;
        };
    }
}
