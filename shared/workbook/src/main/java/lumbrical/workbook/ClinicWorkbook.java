package lumbrical.workbook;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.change.Verdict;
import lumbrical.cohort.CohortAnalysis;
import lumbrical.cohort.CohortRequest;
import lumbrical.cohort.CohortResult;
import lumbrical.columns.ChangeColumns;
import lumbrical.columns.ProblemColumns;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.followup.ChangeRow;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.PlacedForm;
import lumbrical.instrument.Instrument;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.problem.Problem;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ThresholdChoice;

/** The longitudinal workbook: what a coordinator hands to the surgeon. */
public final class ClinicWorkbook {
    /** Shown in the workbook, as in the README. */
    static final List<String> CAUTIONS = List.of(
            "Scores support and never replace clinical judgement.",
            "A threshold holds for the population it came from; the sheet Thresholds says which. Published values"
                    + " differ several-fold.",
            "Check each instrument's licence; follow local policy and the instrument's manual.");

    /** What needs a look comes first. */
    private static final List<Verdict> BY_NEED = List.of(
            Verdict.IMPORTANT_WORSENING,
            Verdict.WORSENING_WITHIN_ERROR,
            Verdict.SMALL_WORSENING,
            Verdict.NO_IMPORTANT_CHANGE,
            Verdict.SMALL_IMPROVEMENT,
            Verdict.IMPROVEMENT_WITHIN_ERROR,
            Verdict.IMPORTANT_IMPROVEMENT,
            Verdict.NOT_ASSESSABLE);

    /** What people read on paper; the long tables are for the screen. */
    private static final Set<String> PRINTED =
            Set.of(OverviewSheet.NAME, TrajectorySheet.NAME, ChartSheet.NAME, FollowUpSheet.TABLE.name());

    private static final Layout SCORES = Layout.of(3)
            .width(Map.of(
                    "visit", 13, "scale", 19, "outcome", 14, "reason", 22, "definition", 14, "better", 8, "side", 8));
    /** The columns of the file, and the digits that cells of two decimals do not show. */
    static final OutputTable<ChangeRow> CHANGES = new OutputTable<>(
            ChangeColumns.TABLE.name(),
            Stream.concat(
                            ChangeColumns.TABLE.columns().stream(),
                            Stream.of(OutputColumn.text(
                                    TellingDigits.COLUMN,
                                    TellingDigits.MEANING,
                                    (ChangeRow r) -> TellingDigits.of(r.change()))))
                    .toList());

    private static final Layout CHANGE = Layout.of(3)
            .pages(3)
            .width(Map.of(
                    "visit",
                    13,
                    "scale",
                    19,
                    "side",
                    8,
                    "verdict",
                    28,
                    "mcid_source",
                    40,
                    "mdc_source",
                    40,
                    "reason",
                    20,
                    TellingDigits.COLUMN,
                    42));
    static final Layout PROBLEMS = Layout.of(0)
            .width(Map.of("file", 26, "row", 8, "column", 18, "value", 18, "problem", 28, "advice", 90))
            .wrap("advice");

    /** Of its groups the workbook shows scores and changes. */
    private static final CohortRequest GROUPS =
            CohortRequest.builder().itemAgreement(false).build();

    private ClinicWorkbook() {}

    /**
     * Has the workbook library got ready by a thread of its own, while files are read of which none is a workbook; writing waits for it.
     * Nothing else depends on it.
     */
    public static void prepare() {
        LibraryStart.begin();
    }

    /**
     * Writes the workbook.
     *
     * @param problems every problem and note of the run, problems first
     * @param scratch a folder for temporary files, which the caller removes
     * @throws IOException if it cannot be written
     */
    public static void write(
            FollowUpResult clinic,
            List<Problem> problems,
            ThresholdChoice choice,
            RunRecord provenance,
            Path scratch,
            OutputStream out)
            throws IOException {
        List<Instrument> instruments = instruments(clinic);
        CohortResult groups = CohortAnalysis.of(clinic, choice, GROUPS, id -> instruments.stream()
                .filter(i -> i.id().value().equals(id))
                .findFirst());
        StreamingWorkbook.write(clinic.asOf(), scratch, out, book -> {
            OverviewSheet.write(book, clinic, groups, problems);
            overTime(book, clinic, groups);
            TableSheet.write(book, CHANGES, CHANGE, byNeed(clinic.changes()), "verdict", c -> book.styles()
                    .of(c.change().verdict()));
            TableSheet.write(book, ScoreColumns.TABLE, SCORES, clinic.forms(), ScoreRow::of);
            GripSheet.write(book, clinic);
            FollowUpSheet.write(book, clinic.counts());
            TableSheet.write(book, ProblemColumns.TABLE, PROBLEMS, problems);
            ReferenceTables.write(book, clinic, instruments, choice, provenance);
            book.printNone(PRINTED);
        });
    }

    /** The sheets of courses, which are let go with them: the long sheets need the room. */
    private static void overTime(StreamingWorkbook book, FollowUpResult clinic, CohortResult groups) {
        Trajectories trajectories = Trajectories.of(clinic);
        TrajectorySheet.write(book, clinic, trajectories);
        ChartSheet.write(book, clinic, groups, trajectories);
    }

    /** Sittings that count first, then by how much a look is needed, then as they came. */
    private static Iterable<ChangeRow> byNeed(Stream<ChangeRow> changes) {
        Map<Boolean, Map<Verdict, List<ChangeRow>>> rows =
                Map.of(true, new EnumMap<>(Verdict.class), false, new EnumMap<>(Verdict.class));
        changes.forEach(row -> rows.get(row.used())
                .computeIfAbsent(row.change().verdict(), v -> new ArrayList<>())
                .add(row));
        return () -> Stream.of(true, false)
                .map(rows::get)
                .flatMap(of -> BY_NEED.stream().flatMap(v -> of.getOrDefault(v, List.of()).stream()))
                .iterator();
    }

    private static List<Instrument> instruments(FollowUpResult clinic) {
        Set<Instrument> used = new LinkedHashSet<>();
        clinic.forms().stream()
                .map(PlacedForm::form)
                .filter(f -> !f.responses().blank())
                .map(ScoredForm::instrument)
                .forEach(used::add);
        return used.stream().sorted(Comparator.comparing(Instrument::id)).toList();
    }
}
