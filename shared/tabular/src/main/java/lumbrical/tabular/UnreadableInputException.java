package lumbrical.tabular;

import lumbrical.problem.Place;

/** Input that cannot be read at all, or a file of settings with a fault: the run stops and nothing is written. */
public final class UnreadableInputException extends RuntimeException {
    private static final long serialVersionUID = 1L;
    private final transient Place place;

    /**
     * @param place the file, and the row and column if known
     * @param message what is wrong and what to do, in the user's words
     */
    public UnreadableInputException(Place place, String message) {
        super(place + ": " + message);
        this.place = place;
    }

    /** Where it stands. */
    public Place place() {
        return place;
    }
}
