package lumbrical.command;

/** Wrong usage that the option parser cannot see. */
final class UsageException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    UsageException(String message) {
        super(message);
    }
}
