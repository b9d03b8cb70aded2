package lumbrical.statistics;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Predicate;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/** Reads the tables of {@code shared/reference}; where each comes from is told there. */
public final class Reference {
    private static final Path FOLDER = Path.of("..", "shared", "reference");
    private static final Pattern CELL = Pattern.compile("\\G(?:^|,)(?:\"([^\"]*)\"|([^,]*))");

    private Reference() {}

    /** The rows of a table as maps from column to cell. */
    public static List<Map<String, String>> rows(String file) throws IOException {
        List<String> lines = Files.readAllLines(FOLDER.resolve(file));
        List<String> header = cells(lines.get(0));
        return lines.stream()
                .skip(1)
                .map(Reference::cells)
                .map(cells -> IntStream.range(0, header.size())
                        .boxed()
                        .collect(Collectors.toMap(header::get, i -> i < cells.size() ? cells.get(i) : "")))
                .toList();
    }

    /** The columns named, of the rows for which all of them hold a number. */
    static double[][] columns(String file, String... columns) throws IOException {
        return columns(rows(file), columns);
    }

    static double[][] columns(List<Map<String, String>> rows, String... columns) {
        List<Map<String, String>> whole = rows.stream()
                .filter(row -> List.of(columns).stream()
                        .noneMatch(c -> row.get(c).isEmpty() || row.get(c).equals("NA")))
                .toList();
        return List.of(columns).stream()
                .map(c -> whole.stream()
                        .mapToDouble(row -> Double.parseDouble(row.get(c)))
                        .toArray())
                .toArray(double[][]::new);
    }

    static List<Map<String, String>> where(List<Map<String, String>> rows, Predicate<Map<String, String>> test) {
        return rows.stream().filter(test).toList();
    }

    /** Rows to columns and back. */
    static double[][] transposed(double[][] table) {
        return IntStream.range(0, table[0].length)
                .mapToObj(i -> IntStream.range(0, table.length)
                        .mapToDouble(j -> table[j][i])
                        .toArray())
                .toArray(double[][]::new);
    }

    static double[] differences(double[] first, double[] second) {
        return IntStream.range(0, first.length)
                .mapToDouble(i -> first[i] - second[i])
                .toArray();
    }

    public static <T> T valueOf(Estimate<T> estimate) {
        return estimate.fold(v -> v, reason -> {
            throw new AssertionError("not estimable: " + reason);
        });
    }

    static void assertNone(Estimate.Reason reason, Estimate<?> estimate) {
        assertEquals(Estimate.none(reason), estimate);
    }

    /** Equal to a share of {@code tolerance} of the expected value, or of 1e-3 where that is nearer to 0. */
    public static void assertClose(double expected, double actual, double tolerance, String what) {
        assertEquals(expected, actual, tolerance * Math.max(1e-3, Math.abs(expected)), what);
    }

    private static List<String> cells(String line) {
        List<String> cells = new ArrayList<>();
        Matcher matcher = CELL.matcher(line);
        while (matcher.find()) {
            cells.add(matcher.group(1) == null ? matcher.group(2) : matcher.group(1));
        }
        return cells;
    }
}
