package org.handoutcomes.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import org.handoutcomes.followup.Change;
import org.handoutcomes.followup.Longitudinal;
import org.handoutcomes.followup.Overview;
import org.handoutcomes.instrument.Instrument;
import org.handoutcomes.output.ScoreRow;
import org.handoutcomes.output.Tables;
import org.handoutcomes.problem.Problem;
import org.handoutcomes.sitting.ScoredForm;
import org.handoutcomes.threshold.ThresholdChoice;

/** The longitudinal workbook: what a coordinator hands to the surgeon. */
public final class ClinicWorkbook {
    /** Shown in the workbook, as in the README. */
    static final List<String> CAUTIONS = List.of(
            "Scores support and never replace clinical judgement.",
            "A threshold holds for the population it came from; the sheet Thresholds says which. Published values differ several-fold.",
            "Check each instrument's licence; follow local policy and the instrument's manual.");

    /** What needs a look comes first. */
    private static final List<Change.Verdict> BY_NEED = List.of(
            Change.Verdict.IMPORTANT_WORSENING,
            Change.Verdict.WORSENING_WITHIN_ERROR,
            Change.Verdict.NO_IMPORTANT_CHANGE,
            Change.Verdict.IMPROVEMENT_WITHIN_ERROR,
            Change.Verdict.IMPORTANT_IMPROVEMENT,
            Change.Verdict.NOT_ASSESSABLE);

    private ClinicWorkbook() {}

    /**
     * Writes the workbook.
     *
     * @param problems every problem and note of the run, problems first
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(
            Longitudinal clinic,
            List<Problem> problems,
            ThresholdChoice choice,
            Provenance provenance,
            Path scratch,
            OutputStream out)
            throws IOException {
        Overview overview = Overview.of(clinic);
        List<Instrument> instruments = instruments(clinic);
        Book.write(clinic.asOf(), scratch, out, book -> {
            OverviewSheet.write(book, clinic, overview, problems);
            Trajectories trajectories = Trajectories.of(clinic);
            TrajectorySheet.write(book, clinic, trajectories);
            ChartSheet.write(book, clinic, overview, trajectories);
            TableSheet.write(book, Tables.CHANGE, 3, byNeed(clinic.changes()), verdictColumn(), c -> book.styles()
                    .of(c.verdict()));
            TableSheet.write(book, Tables.SCORES, 3, () -> clinic.scores().stream()
                    .map(ScoreRow::of)
                    .iterator());
            TableSheet.write(book, Tables.GRIP, 3, clinic.grips());
            TableSheet.write(book, Tables.FOLLOW_UP, 2, clinic.counts());
            TableSheet.write(book, Tables.PROBLEMS, 0, problems);
            TableSheet.write(book, ReferenceTables.THRESHOLDS, 3, ReferenceTables.thresholds(instruments, choice));
            TableSheet.write(book, ReferenceTables.COLUMNS, 2, ReferenceTables.columns());
            TableSheet.write(
                    book, ReferenceTables.PROVENANCE, 1, ReferenceTables.provenance(clinic, instruments, provenance));
        });
    }

    private static int verdictColumn() {
        return Tables.CHANGE.headings().indexOf("verdict");
    }

    /** Sittings that count first, then by how much a look is needed, then as they came. */
    private static List<Change> byNeed(List<Change> changes) {
        List<Change> sorted = new ArrayList<>(changes);
        sorted.sort(Comparator.comparing((Change c) -> !c.used()).thenComparingInt(c -> BY_NEED.indexOf(c.verdict())));
        return sorted;
    }

    private static List<Instrument> instruments(Longitudinal clinic) {
        Set<Instrument> used = new LinkedHashSet<>();
        clinic.forms().stream()
                .filter(f -> !f.responses().blank())
                .map(ScoredForm::instrument)
                .forEach(used::add);
        return used.stream().sorted(Comparator.comparing(Instrument::id)).toList();
    }
}
