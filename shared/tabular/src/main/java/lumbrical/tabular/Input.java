package lumbrical.tabular;

import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.Path;
import java.util.Optional;
import lumbrical.problem.Place;

/**
 * A file to read, and which sheet of it.
 *
 * @param path the file
 * @param sheet the sheet, for a workbook; empty = the first
 */
public record Input(Path path, Optional<String> sheet) {
    /**
     * {@code FILE} or {@code FILE.xlsx#Sheet}; a file whose own name holds the {@code #} wins.
     *
     * @throws UnreadableInputException if the text can be no file name
     */
    public static Input parse(String text, Optional<String> sheet) {
        try {
            Path whole = Path.of(text);
            int hash = text.lastIndexOf('#');
            if (hash > 0 && hash < text.length() - 1 && !Files.exists(whole)) {
                return new Input(Path.of(text.substring(0, hash)), Optional.of(text.substring(hash + 1)));
            }
            return new Input(whole, sheet);
        } catch (InvalidPathException e) {
            throw new UnreadableInputException(
                    Place.of(Cells.printable(text)),
                    "this can be no file name. Check the name and run the command again.");
        }
    }

    /** The file's name without folders, with {@code #Sheet} where a sheet was named. */
    public String name() {
        String file = Cells.printable(String.valueOf(path.getFileName()));
        return sheet.map(s -> file + "#" + Cells.printable(s)).orElse(file);
    }

    /** The file as a whole. */
    public Place place() {
        return Place.of(name());
    }
}
