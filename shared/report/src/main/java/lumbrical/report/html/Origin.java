package lumbrical.report.html;

import java.util.List;

/**
 * Where a file comes from.
 *
 * @param program name and version of the program
 * @param lines what else is to be said of it
 */
public record Origin(String program, List<String> lines) {
    /** Copies the list. */
    public Origin {
        lines = List.copyOf(lines);
    }
}
