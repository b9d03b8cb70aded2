package lumbrical.report.page;

import java.util.List;
import java.util.Optional;
import lumbrical.report.drawing.Drawing;

/**
 * What a page shows of one scale.
 *
 * @param instrument instrument id
 * @param scale scale id
 * @param name in words
 * @param summary its line in the summary
 * @param main whether a summary speaks of it
 * @param drawing its course; empty if nothing of it has a place in time
 * @param printed whether the drawing has room on the sheet
 * @param rows the table behind it
 * @param facts sentences under the table: thresholds, standing, range
 * @param arithmetic the arithmetic of the latest score
 */
record ScaleView(
        String instrument,
        String scale,
        String name,
        Summary summary,
        boolean main,
        Optional<Drawing> drawing,
        boolean printed,
        List<Row> rows,
        List<String> facts,
        String arithmetic) {
    ScaleView {
        rows = List.copyOf(rows);
        facts = List.copyOf(facts);
    }

    /**
     * The latest score in short.
     *
     * @param score the score, or why there is none
     * @param when its visit and day
     * @param improvement since the baseline; blank if none is known
     * @param verdict both questions together
     */
    record Summary(String score, String when, String improvement, String verdict) {}

    /**
     * One form.
     *
     * @param visit the visit as data: its name, {@code unscheduled}, or blank without a day
     * @param shown the visit as people read it
     * @param date the date, and the days from the treatment
     * @param score the score, or why there is none
     * @param possible what unanswered items could make of it
     * @param answered items answered, of how many
     * @param improvement since the baseline
     * @param beyondError the first question
     * @param reachesMcid the second question
     * @param published of the published MCIDs, how many the improvement reaches
     * @param verdict both together
     */
    record Row(
            String visit,
            String shown,
            String date,
            String score,
            String possible,
            String answered,
            String improvement,
            String beyondError,
            String reachesMcid,
            String published,
            String verdict) {}

    ScaleView withPrinted(boolean onSheet) {
        return new ScaleView(instrument, scale, name, summary, main, drawing, onSheet, rows, facts, arithmetic);
    }
}
