package lumbrical.tabular;

import java.util.List;
import lumbrical.problem.Place;
import lumbrical.problem.Remedy;

/** Input that cannot be read at all, or a file of settings with a fault: the run stops and nothing is written. */
public final class UnreadableInputException extends RuntimeException {
    private static final long serialVersionUID = 1L;
    private final transient Place place;
    private final transient List<Remedy> remedies;

    /**
     * @param place the file, and the row and column if known
     * @param message what is wrong and what to do, in the user's words
     */
    public UnreadableInputException(Place place, String message) {
        this(place, message, List.of());
    }

    /**
     * As {@link #UnreadableInputException(Place, String)}.
     *
     * @param remedies what would mend it without touching the file
     */
    public UnreadableInputException(Place place, String message, List<Remedy> remedies) {
        super(place + ": " + message);
        this.place = place;
        this.remedies = List.copyOf(remedies);
    }

    /** What would mend it without touching the file. */
    public List<Remedy> remedies() {
        return remedies;
    }

    /** Where it stands. */
    public Place place() {
        return place;
    }
}
