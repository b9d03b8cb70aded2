package lumbrical.benchmarks;

import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/** A database in the process: one statement reads the table, scores it and writes the same 19 columns, on as many threads as it likes. */
final class DuckDbRival {
    private DuckDbRival() {}

    /** {@code FILE OUT}. */
    public static void main(String[] args) throws SQLException {
        try (Connection memory = DriverManager.getConnection("jdbc:duckdb:");
                Statement statement = memory.createStatement()) {
            statement.execute(copy(args[0], args[1]));
        }
    }

    /** A blank cell is NULL, in and out. The text columns stay text, as they do for the loops: no date is read and written again. */
    private static String copy(String file, String out) {
        return """
                COPY (
                  SELECT patient, NULL AS episode, side, completed_on, NULL AS visit, 'quickdash' AS instrument, 'total' AS scale,
                    CASE WHEN n >= 10 THEN (total / n - 1) * 25 END AS score,
                    CASE WHEN n = 11 THEN 'complete' WHEN n >= 10 THEN 'with-missing' ELSE 'not-scored' END AS outcome,
                    CASE WHEN n < 10 THEN 'too-few-answered' END AS reason,
                    11 AS items, n AS answered,
                    ((total + 11 - n) / 11 - 1) * 25 AS lowest,
                    ((total + (11 - n) * 5) / 11 - 1) * 25 AS highest,
                    'lower' AS better, 'quickdash@1' AS definition, NULL AS standard_error, NULL AS ci_low, NULL AS ci_high
                  FROM (
                    SELECT patient, side, completed_on, CAST(%s AS DOUBLE) AS total, %s AS n
                    FROM read_csv(%s, header = true, delim = ',', quote = '"', types = {%s})))
                TO %s (FORMAT csv, HEADER)
                """
                .formatted(
                        items("coalesce(%s, 0)", " + "),
                        items("CAST(%s IS NOT NULL AS INTEGER)", " + "),
                        text(file),
                        "'patient': 'VARCHAR', 'side': 'VARCHAR', 'completed_on': 'VARCHAR', "
                                + items("'%s': 'INTEGER'", ", "),
                        text(out));
    }

    /** The same of every item's column. */
    private static String items(String each, String between) {
        return IntStream.rangeClosed(1, PlainScore.ITEMS)
                .mapToObj(i -> each.replace("%s", PlainScore.ITEM + i))
                .collect(Collectors.joining(between));
    }

    private static String text(String value) {
        return "'" + value.replace("'", "''") + "'";
    }
}
