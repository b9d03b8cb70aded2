package lumbrical.command;

import lumbrical.tabular.UnreadableInputException;

/** An input proved unreadable when a part of what was made of it had been printed. */
final class PartPrintedException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    private final transient UnreadableInputException why;

    PartPrintedException(UnreadableInputException why) {
        super(why.getMessage(), why);
        this.why = why;
    }

    UnreadableInputException why() {
        return why;
    }
}
