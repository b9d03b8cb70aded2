package lumbrical.command;

import java.util.List;
import java.util.stream.Stream;

/** Something the program does when asked by name. */
interface Command {
    /** What it does, a line or more. */
    List<String> description();

    /** What it takes, in the order of the help; {@code --help} comes by itself. */
    Stream<CliOption> options();

    /** Does it, and gives the exit status. */
    int call();
}
