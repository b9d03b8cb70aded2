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
}
