package lumbrical.command;

/** Wrong usage that the option parser cannot see. */
final class UsageError extends RuntimeException {
    private static final long serialVersionUID = 1L;

    UsageError(String message) {
        super(message);
    }
}
