package lumbrical.questionnaire;

import java.io.IOException;

/** A file holds more than any form needs; the message is for people. */
final class TooMuchException extends IOException {
    private static final long serialVersionUID = 1L;

    TooMuchException(String message) {
        super(message);
    }
}
