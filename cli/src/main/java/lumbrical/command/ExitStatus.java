package lumbrical.command;

/** What a run ends with. */
final class ExitStatus {
    /** Done, no problems. */
    static final int DONE = 0;
    /** Done, problems found. */
    static final int PROBLEMS = 1;
    /** Nothing done: wrong usage, or input that cannot be read. */
    static final int USAGE = 2;
    /** Nothing done: a failure on our side or of the machine. */
    static final int FAILURE = 3;

    private ExitStatus() {}
}
