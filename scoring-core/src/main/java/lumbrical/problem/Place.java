package lumbrical.problem;

import java.util.Optional;
import java.util.OptionalInt;

/**
 * Where something stands in the input.
 *
 * @param file file name without folders, with {@code #Sheet} where a sheet was named
 * @param row row as a spreadsheet shows it, header = 1; empty for the file as a whole
 * @param column heading, where one column is meant
 */
public record Place(String file, OptionalInt row, Optional<String> column) {
    /** The file as a whole. */
    public static Place of(String file) {
        return new Place(file, OptionalInt.empty(), Optional.empty());
    }

    /** A row of a file. */
    public static Place of(String file, int row) {
        return new Place(file, OptionalInt.of(row), Optional.empty());
    }

    /** The same row, in that column. */
    public Place in(String heading) {
        return new Place(file, row, Optional.of(heading));
    }

    /** Such as {@code visits.csv row 12, column dash_3}. */
    @Override
    public String toString() {
        String at = row.isPresent() ? file + " row " + row.getAsInt() : file;
        return column.map(c -> at + ", column " + c).orElse(at);
    }
}
