package lumbrical.command;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** What a command gave: status, data and messages. */
record Run(int status, String out, String err) {
    private static final Path HOME = Path.of("..");

    /**
     * Submits the tables {@code responses.csv} and {@code episodes.csv} of a folder into a folder beside them, whoever can be told apart.
     *
     * @param as the format
     * @param more further words; without a key file among them, {@code keys.json} of the folder
     */
    static Run submit(Path folder, String as, String target, String... more) {
        List<String> words = new ArrayList<>(List.of(
                "submit",
                folder.resolve("responses.csv").toString(),
                "--episodes",
                folder.resolve("episodes.csv").toString(),
                "--as",
                as,
                "--out",
                folder.resolve(target).toString(),
                "--accept-disclosure",
                "--as-of",
                "2026-11-25"));
        words.addAll(List.of(more));
        if (!words.contains("--key-file")) {
            words.addAll(List.of("--key-file", folder.resolve("keys.json").toString()));
        }
        return of(words);
    }

    /** Runs a command with exactly these words. */
    static Run of(List<String> words) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int status = Main.run(words, new PrintWriter(out), new PrintWriter(err), HOME);
        return new Run(status, out.toString(), err.toString());
    }
}
