package lumbrical.command;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;

/** What a command gave: status, data and messages. */
record Run(int status, String out, String err) {
    private static final Path HOME = Path.of("..");

    /** Runs a command with exactly these words. */
    static Run of(List<String> words) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int status = Main.run(words, new PrintWriter(out), new PrintWriter(err), HOME);
        return new Run(status, out.toString(), err.toString());
    }
}
