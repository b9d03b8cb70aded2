package lumbrical.report.cohort;

import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.cohort.AttritionRow;
import lumbrical.cohort.CompareRow;
import lumbrical.cohort.EcdfRow;
import lumbrical.cohort.FlowRow;
import lumbrical.cohort.GroupRow;
import lumbrical.cohort.ResponderRow;
import lumbrical.cohort.RowPlace;
import lumbrical.columns.AttritionColumns;
import lumbrical.columns.CohortGroupColumns;
import lumbrical.columns.CompareColumns;
import lumbrical.columns.EcdfColumns;
import lumbrical.columns.FlowColumns;
import lumbrical.columns.ResponderColumns;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.number.Figures;
import lumbrical.output.OutputColumn;
import lumbrical.output.Value;
import lumbrical.report.cohort.ShownColumns.Print;

/** The numbers behind the drawings: columns of the tables that are written as CSV too. */
final class CohortTables {
    /** A distribution of more steps is shown by so many of them. */
    static final int MOST_STEPS = 60;

    private static final String VISIT = "visit";
    private static final String NOT_SCORED = "not_scored_";

    private static final ShownColumns<GroupRow> SCORES = new ShownColumns<>(CohortGroupColumns.TABLE)
            .with(VISIT, "visit", Print.PLAIN)
            .with("expected", "expected", Print.PLAIN)
            .with("received", "received", Print.PLAIN)
            .with("scored", "scored", Print.PLAIN)
            .with("median", "median", Print.SCORE)
            .with("q1", "lower quartile", Print.SCORE)
            .with("q3", "upper quartile", Print.SCORE)
            .with("mean", "mean", Print.SCORE)
            .with("sd", "SD", Print.SCORE)
            .with("lowest", "smallest", Print.SCORE)
            .with("highest", "largest", Print.SCORE)
            .with("best_possible", "at the best end", Print.PLAIN)
            .with("worst_possible", "at the worst end", Print.PLAIN);
    private static final ShownColumns<GroupRow> IMPROVEMENT = new ShownColumns<>(CohortGroupColumns.TABLE)
            .with(VISIT, "visit", Print.PLAIN)
            .with("paired", "with both scores", Print.PLAIN)
            .with("improvement_mean", "mean improvement", Print.SCORE)
            .with("improvement_low", "95 % from", Print.SCORE)
            .with("improvement_high", "to", Print.SCORE)
            .with("interval", "interval", Print.PLAIN)
            .with("improvement_sd", "SD", Print.SCORE)
            .with("improvement_median", "median", Print.SCORE)
            .with("hodges_lehmann", "Hodges-Lehmann", Print.SCORE)
            .with("effect_size", "effect size", Print.RATIO)
            .with("srm", "SRM", Print.RATIO);
    private static final ShownColumns<ResponderRow> RESPONDERS = new ShownColumns<>(ResponderColumns.TABLE)
            .with("mcid", "MCID", Print.PLAIN)
            .with("mcid_used", "used", Print.PLAIN)
            .with("paired", "with both scores", Print.PLAIN)
            .with("improved", "improved", Print.PLAIN)
            .with("improved_percent", "per cent", Print.PERCENT)
            .with("low", "95 % from", Print.PERCENT)
            .with("high", "to", Print.PERCENT)
            .with("worsened", "worsened", Print.PLAIN)
            .with("beyond_error", "beyond error", Print.PLAIN)
            .with("could_not_reach", "no room to reach it", Print.PLAIN)
            .with("if_missing_not_improved_percent", "per cent, had no missing improved", Print.PERCENT)
            .with("if_missing_improved_percent", "had all missing improved", Print.PERCENT)
            .with("mcid_source", "id, population, method", Print.PLAIN);
    private static final ShownColumns<EcdfRow> DISTRIBUTION = new ShownColumns<>(EcdfColumns.TABLE)
            .with("improvement", "improvement", Print.SCORE)
            .with("at_least", "that or more", Print.PLAIN)
            .with("paired", "of", Print.PLAIN)
            .with("percent", "per cent", Print.PERCENT);
    private static final ShownColumns<AttritionRow> ATTRITION = new ShownColumns<>(AttritionColumns.TABLE)
            .with(VISIT, "visit", Print.PLAIN)
            .with("with_follow_up", "seen again", Print.PLAIN)
            .with("mean_with", "their mean baseline score", Print.SCORE)
            .with("sd_with", "SD", Print.SCORE)
            .with("without", "not seen again", Print.PLAIN)
            .with("mean_without", "their mean baseline score", Print.SCORE)
            .with("sd_without", "SD", Print.SCORE)
            .with("standardised_difference", "standardised difference", Print.RATIO);
    private static final ShownColumns<CompareRow> COMPARED = new ShownColumns<>(CompareColumns.TABLE)
            .with("group_by", "within", Print.PLAIN)
            .with("group", "group", Print.PLAIN)
            .with("instrument", "form", Print.PLAIN)
            .with("scale", "scale", Print.PLAIN)
            .with(VISIT, "visit", Print.PLAIN)
            .with("n_a", "A", Print.PLAIN)
            .with("n_b", "B", Print.PLAIN)
            .with("difference", "difference of mean improvement", Print.RATIO)
            .with("low", "95 % from", Print.RATIO)
            .with("high", "to", Print.RATIO)
            .with("adjusted_difference", "at equal baseline", Print.RATIO)
            .with("adjusted_low", "95 % from", Print.RATIO)
            .with("adjusted_high", "to", Print.RATIO)
            .with("improved_a", "improved by the MCID, A", Print.PLAIN)
            .with("improved_b", "B", Print.PLAIN)
            .with("improved_difference", "difference, per cent", Print.PERCENT)
            .with("improved_low", "95 % from", Print.PERCENT)
            .with("improved_high", "to", Print.PERCENT);
    private static final Figures TWO = new Figures(2);

    private CohortTables() {}

    static TableView scores(GroupResults results) {
        return SCORES.of(
                "Scores by visit",
                results.standing(),
                Figures.ofScaleWidth(results.scale().range().width()),
                r -> name(r.at()),
                r -> false);
    }

    static TableView improvement(GroupResults results, List<GroupRow> rows) {
        return IMPROVEMENT.of(
                "Improvement since the start, by visit (positive = better)",
                rows,
                Figures.ofScaleWidth(results.scale().range().width()),
                r -> name(r.at()),
                r -> false);
    }

    static TableView responders(GroupResults results, List<ResponderRow> rows) {
        return RESPONDERS.of(
                "Improved by each MCID; the one used is in bold type",
                rows,
                Figures.ofScaleWidth(results.scale().range().width()),
                r -> name(r.at()),
                ResponderRow::used);
    }

    /** All steps, or so many of them, the first and the last among them. */
    static TableView distribution(GroupResults results, List<EcdfRow> rows) {
        List<EcdfRow> shown = rows.size() <= MOST_STEPS
                ? rows
                : Stream.iterate(0, i -> i < MOST_STEPS, i -> i + 1)
                        .map(i -> rows.get((int) ((long) i * (rows.size() - 1) / (MOST_STEPS - 1))))
                        .toList();
        return DISTRIBUTION.of(
                "How many improved by at least so much"
                        + (shown.size() < rows.size()
                                ? ": " + shown.size() + " of " + rows.size()
                                        + " steps, evenly chosen; the table ecdf.csv has all"
                                : ""),
                shown,
                Figures.ofScaleWidth(results.scale().range().width()),
                r -> name(r.at()),
                r -> false);
    }

    static TableView attrition(GroupResults results, List<AttritionRow> rows) {
        return ATTRITION.of(
                "How those seen again and those not seen again had started",
                rows,
                Figures.ofScaleWidth(results.scale().range().width()),
                r -> name(r.at()),
                r -> false);
    }

    static TableView compared(List<CompareRow> rows) {
        return COMPARED.of("Mean improvement and share improved, A minus B", rows, TWO, r -> name(r.at()), r -> false);
    }

    /** The flow of the forms; reasons that nobody has are left out. */
    static TableView flow(InstrumentId form, List<FlowRow> rows) {
        ShownColumns<FlowRow> shown = new ShownColumns<>(FlowColumns.TABLE)
                .with(VISIT, "visit", Print.PLAIN)
                .with("episodes", "episodes", Print.PLAIN)
                .with("not_yet", "not yet", Print.PLAIN)
                .with("closed", "closed before", Print.PLAIN)
                .with("expected", "expected", Print.PLAIN)
                .with("received", "received", Print.PLAIN)
                .with("scorable", "scorable", Print.PLAIN)
                .with("paired", "with both scores", Print.PLAIN);
        for (OutputColumn<FlowRow> column : FlowColumns.TABLE.columns()) {
            if (column.name().startsWith(NOT_SCORED) && rows.stream().anyMatch(r -> counts(column.of(), r))) {
                shown = shown.with(
                        column.name(),
                        "not scored: "
                                + column.name().substring(NOT_SCORED.length()).replace('_', ' '),
                        Print.PLAIN);
            }
        }
        return shown.of("Flow of the form " + form, rows, TWO, r -> r.visit().name(), r -> false);
    }

    private static boolean counts(Function<FlowRow, Value> of, FlowRow row) {
        return of.apply(row) instanceof Value.Number n && n.value() > 0;
    }

    private static String name(RowPlace at) {
        return at.visit().map(Visit::name).orElse("");
    }

    /** Visit, with both scores, mean improvement and interval, improved, per cent and interval: the result told first. */
    static List<TableView.Cell> told(GroupRow row, Optional<ResponderRow> used, Figures figures) {
        return Stream.concat(
                        Stream.of(
                                cell(CohortGroupColumns.TABLE.columns(), VISIT, row, Print.PLAIN, figures),
                                cell(CohortGroupColumns.TABLE.columns(), "paired", row, Print.PLAIN, figures),
                                cell(CohortGroupColumns.TABLE.columns(), "improvement_mean", row, Print.SCORE, figures),
                                cell(CohortGroupColumns.TABLE.columns(), "improvement_low", row, Print.SCORE, figures),
                                cell(
                                        CohortGroupColumns.TABLE.columns(),
                                        "improvement_high",
                                        row,
                                        Print.SCORE,
                                        figures)),
                        Stream.of("improved", "paired", "improved_percent", "low", "high")
                                .map(name -> used.map(r -> cell(
                                                ResponderColumns.TABLE.columns(),
                                                name,
                                                r,
                                                name.equals("improved") || name.equals("paired")
                                                        ? Print.PLAIN
                                                        : Print.PERCENT,
                                                figures))
                                        .orElse(TableView.Cell.BLANK)))
                .toList();
    }

    private static <R> TableView.Cell cell(
            List<OutputColumn<R>> columns, String name, R row, Print print, Figures figures) {
        return columns.stream()
                .filter(c -> c.name().equals(name))
                .findFirst()
                .map(c -> ShownColumns.cell(c.of().apply(row), print, figures))
                .orElse(TableView.Cell.BLANK);
    }
}
