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

        // Equality written out: the one a record is given is put together at run time, and every start would pay.

        @Override
        public boolean equals(Object other) {
            return other instanceof Answered answered && Double.compare(value, answered.value) == 0;
        }

        @Override
        public int hashCode() {
            return Double.hashCode(value);
        }
    }

    /** Nothing. */
    record NotAnswered() implements Response {
        @Override
        public boolean equals(Object other) {
            return other instanceof NotAnswered;
        }

        @Override
        public int hashCode() {
            return 0;
        }
    }

    /** An entry that is no number. */
    record NoNumber() implements Response {
        @Override
        public boolean equals(Object other) {
            return other instanceof NoNumber;
        }

        @Override
        public int hashCode() {
            return 1;
        }
    }

    /** A number. */
    static Response of(double value) {
        return new Answered(value);
    }
}
