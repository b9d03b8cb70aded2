package lumbrical.benchmarks;

import java.util.List;

/**
 * The sum of a quickdash's responses and how many of its 11 items were answered: the arithmetic of the rivals that loop over rows, in one
 * place, so that they differ only in how they read and write. It knows no library, since each rival has the jars of its own alone.
 */
record PlainScore(double sum, int answered) {
    static final int ITEMS = 11;

    /** Prefix of an item's column. */
    static final String ITEM = "quickdash_";

    /** The columns that ours writes, but for its last, which says where the rules come from. */
    static final List<String> COLUMNS = List.of(
            "patient",
            "episode",
            "side",
            "completed_on",
            "visit",
            "instrument",
            "scale",
            "score",
            "outcome",
            "reason",
            "items",
            "answered",
            "lowest",
            "highest",
            "better",
            "definition",
            "standard_error",
            "ci_low",
            "ci_high");

    /** The cells of a sitting's row, in the order of {@link #COLUMNS}. */
    String[] row(String patient, String side, String completedOn) {
        boolean scored = answered >= 10;
        int open = ITEMS - answered;
        return new String[] {
            patient,
            "",
            side,
            completedOn,
            "",
            "quickdash",
            "total",
            scored ? String.valueOf((sum / answered - 1) * 25) : "",
            open == 0 ? "complete" : scored ? "with-missing" : "not-scored",
            scored ? "" : "too-few-answered",
            String.valueOf(ITEMS),
            String.valueOf(answered),
            String.valueOf(((sum + open) / ITEMS - 1) * 25),
            String.valueOf(((sum + open * 5) / ITEMS - 1) * 25),
            "lower",
            "quickdash@1",
            "",
            "",
            ""
        };
    }
}
