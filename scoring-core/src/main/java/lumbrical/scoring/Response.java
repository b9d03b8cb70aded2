package lumbrical.scoring;

/** What stands in one column of a form. */
public sealed interface Response {
    /** Nothing. */
    Response NOT_ANSWERED = new NotAnswered();
    /** An entry that is no number, such as two ticks. */
    Response NO_NUMBER = new NoNumber();

    /**
     * A number, whether or not the item allows it.
     *
     * @param value the number
     */
    record Answered(double value) implements Response {
        /** @throws IllegalArgumentException if {@code value} is not finite */
        public Answered {
            if (!Double.isFinite(value)) {
                throw new IllegalArgumentException("A response is a number; leave out what was not answered");
            }
        }
    }

    /** Nothing. */
    record NotAnswered() implements Response {}

    /** An entry that is no number. */
    record NoNumber() implements Response {}

    /** A number. */
    static Response of(double value) {
        return new Answered(value);
    }
}
