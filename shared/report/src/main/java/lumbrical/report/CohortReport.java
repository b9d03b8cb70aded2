package lumbrical.report;

import java.io.Writer;
import lumbrical.report.cohort.CohortComposer;

/** Results of groups as one HTML file that needs nothing else, for a browser and for print. The same content gives the same bytes. */
public final class CohortReport {
    private CohortReport() {}

    /**
     * Writes the report.
     *
     * @throws java.io.UncheckedIOException if it cannot be written
     */
    public static void write(CohortReportContent content, Writer out) {
        new CohortComposer(
                        content.result(),
                        content.mdcs(),
                        content.asOf(),
                        content.smallestGroup(),
                        content.origin().told())
                .write(out);
    }
}
