package lumbrical.command;

import java.io.PrintWriter;
import java.nio.file.Path;

/**
 * Where a run prints: data to {@code out}, everything said to {@code err}.
 *
 * @param out data
 * @param err messages
 * @param home the installation's folder
 */
record Console(PrintWriter out, PrintWriter err, Path home) {
    void say(String line) {
        err.println(line);
    }
}
