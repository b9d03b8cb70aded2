package lumbrical.workbook;

import java.util.HashMap;
import java.util.Map;
import java.util.Set;
import lumbrical.output.OutputColumn;
import org.apache.poi.ss.usermodel.Row;

/**
 * How a table looks as a sheet.
 *
 * @param frozenColumns columns that stay in sight and repeat on every printed page
 * @param pagesWide printed pages side by side
 * @param widths width in characters of columns that need another than their kind's
 * @param wrapped columns whose text goes on over several lines; the others are cut where the next cell begins
 */
record Layout(int frozenColumns, int pagesWide, Map<String, Integer> widths, Set<String> wrapped) {
    private static final double LINE_POINTS = 13.2;
    private static final int MOST_LINES = 30;

    Layout {
        widths = Map.copyOf(widths);
        wrapped = Set.copyOf(wrapped);
    }

    static Layout of(int frozenColumns) {
        return new Layout(frozenColumns, 1, Map.of(), Set.of());
    }

    Layout pages(int wide) {
        return new Layout(frozenColumns, wide, widths, wrapped);
    }

    Layout width(Map<String, Integer> more) {
        Map<String, Integer> all = new HashMap<>(widths);
        all.putAll(more);
        return new Layout(frozenColumns, pagesWide, all, wrapped);
    }

    Layout wrap(String... columns) {
        return new Layout(frozenColumns, pagesWide, widths, Set.of(columns));
    }

    <R> int widthOf(OutputColumn<R> column) {
        Integer own = widths.get(column.name());
        if (own != null) {
            return own;
        }
        int byKind =
                switch (column.kind()) {
                    case DATE -> 13;
                    case NUMBER, COUNT -> 9;
                    case TEXT -> 12;
                };
        return Math.max(byKind, Math.min(longestWord(column.name()) + 3, 22));
    }

    /** Headings break at nothing but blanks, so an id is as long as it is. */
    private static int longestWord(String heading) {
        int longest = 0;
        for (String word : heading.split(" ")) {
            longest = Math.max(longest, word.length());
        }
        return longest;
    }

    /** How many lines a text needs in a column of that width. Programs do not agree on doing this by themselves. */
    static int lines(String text, int width) {
        int lines = 0;
        for (String part : text.split("\n")) {
            lines += (int) Math.max(1, Math.ceil((double) part.length() / width));
        }
        return Math.min(lines, MOST_LINES);
    }

    /** Makes a row high enough for so many lines. */
    static void height(Row row, int lines) {
        if (lines > 1) {
            row.setHeightInPoints(points(lines));
        }
    }

    /** How high a row of so many lines is. */
    static float points(int lines) {
        return (float) (lines * LINE_POINTS + 2);
    }
}
