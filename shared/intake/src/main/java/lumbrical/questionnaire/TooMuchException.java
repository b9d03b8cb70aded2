package lumbrical.questionnaire;

import java.io.IOException;

/** A file holds more than any form needs; the message is for people. */
final class TooMuchException extends IOException {
    private static final long serialVersionUID = 1L;

    private final String what;

    /** Of the file as a whole, in a sentence or two. */
    TooMuchException(String message) {
        super(message);
        this.what = message;
    }

    /**
     * Of one form.
     *
     * @param number its entry or line
     * @param what such as {@code a form of more than 5000 items}
     */
    TooMuchException(int number, String what) {
        super("entry or line " + number + " holds " + what + ". Nothing is read.");
        this.what = what;
    }

    /** What there is too much of. */
    String what() {
        return what;
    }
}
