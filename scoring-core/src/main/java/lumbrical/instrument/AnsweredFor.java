package lumbrical.instrument;

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
}
