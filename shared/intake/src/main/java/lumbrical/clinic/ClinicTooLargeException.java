package lumbrical.clinic;

/** A clinic that this program cannot hold in its memory; told before anything is placed in time. */
public final class ClinicTooLargeException extends RuntimeException {
    private static final long serialVersionUID = 1L;
    private final long neededMegabytes;

    ClinicTooLargeException(String message, long neededMegabytes) {
        super(message);
        this.neededMegabytes = neededMegabytes;
    }

    /** How much memory would do, in MB. */
    public long neededMegabytes() {
        return neededMegabytes;
    }
}
