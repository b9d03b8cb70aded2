package lumbrical.report.cohort;

import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import lumbrical.cohort.EcdfRow;
import lumbrical.cohort.GroupRow;
import lumbrical.cohort.McidUsed;
import lumbrical.cohort.ResponderRow;
import lumbrical.cohort.Share;
import lumbrical.columns.ChangeColumns;
import lumbrical.followup.Visit;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.number.Figures;
import lumbrical.number.Numbers;
import lumbrical.report.drawing.DistributionDrawing;
import lumbrical.report.drawing.GroupCourseDrawing;
import lumbrical.report.drawing.ImprovementAxis;
import lumbrical.report.drawing.OrderedImprovements;
import lumbrical.report.drawing.SharesDrawing;
import lumbrical.report.html.ScaleNames;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;

/** What is shown of one group on one scale. */
final class SectionViews {
    private static final Figures ONE = new Figures(1);

    private final GroupResults results;
    private final int smallestGroup;
    private final Figures figures;
    private final List<GroupRow> paired;
    private final ImprovementAxis axis;
    private final Optional<McidUsed> used;
    private final String name;

    SectionViews(GroupResults results, int smallestGroup, OptionalDouble mdc) {
        this.results = results;
        this.smallestGroup = smallestGroup;
        this.figures = Figures.ofScaleWidth(results.scale().range().width());
        this.paired = results.paired();
        this.used = results.responders().stream()
                .filter(ResponderRow::used)
                .map(ResponderRow::mcid)
                .findFirst();
        this.axis = ImprovementAxis.of(
                results.distribution().stream().map(EcdfRow::improvement).toList(),
                used.map(McidUsed::value).orElse(OptionalDouble.empty()),
                results.responders().stream()
                        .filter(r -> !r.used())
                        .flatMap(r -> r.mcid().value().stream().boxed())
                        .distinct()
                        .toList(),
                mdc);
        this.name =
                ScaleNames.full(results.instrument(), results.scale()) + ", " + CohortComposer.words(results.group());
    }

    ReportView.Section of(String anchor, ReportView.Place place) {
        return new ReportView.Section(
                anchor,
                place,
                ScaleNames.full(results.instrument(), results.scale()),
                results.main(),
                facts(),
                sentences(),
                courses(),
                standing(),
                visits(),
                results.flow().isEmpty()
                        ? Optional.empty()
                        : Optional.of(CohortTables.flow(results.instrument().id(), results.flow())),
                attrition());
    }

    private Optional<TableView> attrition() {
        boolean any = results.attrition().stream()
                .anyMatch(r -> r.with().n() > 0 || r.without().n() > 0);
        return any ? Optional.of(CohortTables.attrition(results, results.attrition())) : Optional.empty();
    }

    private List<TableView> standing() {
        List<TableView> tables = new ArrayList<>();
        if (scored().isEmpty()) {
            return tables;
        }
        tables.add(CohortTables.scores(results));
        List<GroupRow> later = results.standing().stream()
                .filter(r -> r.improvement().isPresent())
                .toList();
        if (!paired.isEmpty()) {
            tables.add(CohortTables.improvement(results, later));
        }
        return tables;
    }

    // ---- words

    private List<String> facts() {
        Range range = results.scale().range();
        List<String> facts = new ArrayList<>();
        facts.add("From " + Numbers.format(range.low()) + " to " + Numbers.format(range.high()) + ", "
                + (results.scale().better() == Direction.LOWER ? "lower" : "higher") + " is better ("
                + results.instrument().definition() + ", " + results.scale().id() + ").");
        if (results.standing().stream().noneMatch(r -> r.improvement().isPresent())) {
            facts.add("Itself a rating of change: no start is set against it.");
        } else if (used.isEmpty()) {
            facts.add("No MCID is known: nobody is counted as improved by one.");
        } else {
            facts.add("MCID used: "
                    + used.flatMap(McidUsed::threshold)
                            .map(SectionViews::cite)
                            .orElse(
                                    "each episode's own, by its condition; a group that mixes conditions is never held against"
                                            + " one")
                    + ".");
        }
        if (axis.mdc().isPresent()) {
            facts.add("MDC (smallest change beyond measurement error): "
                    + Numbers.format(axis.mdc().getAsDouble()) + ".");
        }
        return facts;
    }

    private static String cite(Threshold threshold) {
        return Numbers.format(threshold.value().orElse(0)) + ", " + ChangeColumns.cite(threshold);
    }

    private List<String> sentences() {
        if (scored().isEmpty()) {
            return List.of("No form has a score.");
        }
        Optional<GroupRow> told = results.told(smallestGroup);
        if (told.isEmpty()) {
            return results.standing().stream().anyMatch(r -> r.improvement().isPresent())
                    ? List.of("Nobody has both a score from the start and a later one yet.")
                    : List.of();
        }
        GroupRow row = told.get();
        List<String> all = new ArrayList<>();
        all.add(mean(row));
        results.used(row).ifPresent(r -> all.add(improved(r)));
        return all;
    }

    /** {@code 12 months: 13 episodes have both scores; the mean improvement is 12.3 points (95 % interval 3 to 21.6).} */
    private String mean(GroupRow row) {
        int n = GroupResults.pairs(row);
        String start = GroupResults.visit(row.at()).name() + ": " + episodes(n) + (n == 1 ? " has" : " have")
                + " both scores; ";
        return start
                + row.improvement()
                        .flatMap(i -> i.values()
                                .optional()
                                .map(s -> "the mean improvement is "
                                        + figures.points(s.quantiles().mean())
                                        + i.mean()
                                                .map(TInterval::interval)
                                                .fold(
                                                        r -> " (95 % interval " + span(figures, r) + ")",
                                                        why -> ", without an interval: " + why.explanation())
                                        + (s.quantiles().mean() < 0 ? ", that is, worse" : "")))
                        .orElse("no improvement can be told")
                + ".";
    }

    private String improved(ResponderRow row) {
        Share share = row.improved();
        String by = row.mcid().value().isPresent()
                ? "the MCID of " + Numbers.format(row.mcid().value().getAsDouble())
                : "the MCID of their own condition";
        if (share.of() == 0) {
            return "Of none of them an MCID is known.";
        }
        return share.count() + " of " + share.of() + " improved by " + by + " or more"
                + share.percent()
                        .map(p -> " (" + ONE.plain(p) + " %"
                                + share.interval95()
                                        .map(r -> ", 95 % interval " + span(ONE, r) + " %")
                                        .orElse("")
                                + ")")
                        .orElse("")
                + "; " + row.worsened() + " worsened as much.";
    }

    /** {@code Improved by the MCID of 14: 7 of 10 (70 %, 39.7 to 89.2 %); worsened as much: 1.} */
    private static String inShort(ResponderRow row) {
        Share share = row.improved();
        return "Improved by "
                + (row.mcid().value().isPresent()
                        ? "the MCID of " + Numbers.format(row.mcid().value().getAsDouble())
                        : "the MCID of their own condition")
                + ": " + share.count() + " of " + share.of()
                + share.percent()
                        .map(p -> " (" + ONE.plain(p) + " %"
                                + share.interval95()
                                        .map(r -> ", " + span(ONE, r) + " %")
                                        .orElse("")
                                + ")")
                        .orElse("")
                + "; worsened as much: " + row.worsened() + ".";
    }

    static String episodes(int n) {
        return n + (n == 1 ? " episode" : " episodes");
    }

    private static String span(Figures figures, Range range) {
        return figures.plain(range.low()) + " to " + figures.plain(range.high());
    }

    // ---- over time

    private List<GroupRow> scored() {
        return results.standing().stream().filter(r -> r.size().scored() > 0).toList();
    }

    private List<ReportView.Figure> courses() {
        List<ReportView.Figure> all = new ArrayList<>();
        if (scored().isEmpty()) {
            return all;
        }
        Range range = results.scale().range();
        List<GroupCourseDrawing.Point> scores = new ArrayList<>();
        List<GroupCourseDrawing.Point> improvements = new ArrayList<>();
        boolean scoredBefore = false;
        boolean pairedBefore = false;
        for (GroupRow row : results.standing()) {
            Optional<GroupCourseDrawing.Point> score = score(row, scoredBefore);
            Optional<GroupCourseDrawing.Point> improvement = improvement(row, pairedBefore);
            score.ifPresent(scores::add);
            improvement.ifPresent(improvements::add);
            scoredBefore = score.isPresent();
            pairedBefore = improvement.isPresent();
        }
        all.add(new ReportView.Figure(
                "Scores: median, and the quartiles between which the middle half lies",
                GroupCourseDrawing.of(new GroupCourseDrawing.Course(
                        name + ": median score and quartiles by visit, better is up. " + told(scores),
                        range.low(),
                        range.high(),
                        results.scale().better() == Direction.HIGHER,
                        List.of(),
                        scores))));
        if (!improvements.isEmpty()) {
            all.add(new ReportView.Figure(
                    "Improvement since the start: mean with its 95 % interval", improvementCourse(improvements)));
        }
        return all;
    }

    private Optional<GroupCourseDrawing.Point> score(GroupRow row, boolean joined) {
        return row.scores().map(Summary::quantiles).optional().map(q -> {
            boolean one = row.size().scored() == 1;
            return new GroupCourseDrawing.Point(
                    GroupResults.visit(row.at()).targetDay(),
                    q.median(),
                    one ? OptionalDouble.empty() : OptionalDouble.of(q.lowerQuartile()),
                    one ? OptionalDouble.empty() : OptionalDouble.of(q.upperQuartile()),
                    figures.plain(q.median()),
                    row.size().scored(),
                    row.size().scored() < smallestGroup,
                    joined);
        });
    }

    private Optional<GroupCourseDrawing.Point> improvement(GroupRow row, boolean joined) {
        return row.improvement()
                .flatMap(i -> i.values().map(Summary::quantiles).optional().map(q -> {
                    Optional<Range> interval = i.mean().map(TInterval::interval).optional();
                    return new GroupCourseDrawing.Point(
                            GroupResults.visit(row.at()).targetDay(),
                            q.mean(),
                            interval.map(r -> OptionalDouble.of(r.low())).orElse(OptionalDouble.empty()),
                            interval.map(r -> OptionalDouble.of(r.high())).orElse(OptionalDouble.empty()),
                            figures.plain(q.mean()),
                            i.paired(),
                            i.paired() < smallestGroup,
                            joined);
                }));
    }

    private lumbrical.report.drawing.Drawing improvementCourse(List<GroupCourseDrawing.Point> points) {
        List<GroupCourseDrawing.Level> levels = new ArrayList<>();
        levels.add(new GroupCourseDrawing.Level(0, "start"));
        axis.used().ifPresent(mcid -> levels.add(new GroupCourseDrawing.Level(mcid, "MCID")));
        double low = 0;
        double high = axis.used().orElse(0);
        for (GroupCourseDrawing.Point point : points) {
            low = Math.min(low, point.value());
            high = Math.max(high, point.value());
            if (!point.few()) { // the interval of a few may reach anywhere: it goes on beyond the drawing
                low = Math.min(low, point.low().orElse(low));
                high = Math.max(high, point.high().orElse(high));
            }
        }
        double room = high > low ? (high - low) * 0.12 : 1;
        return GroupCourseDrawing.of(new GroupCourseDrawing.Course(
                name + ": mean improvement and its 95 % interval by visit, better is up. " + told(points),
                low - room,
                high + room,
                true,
                levels,
                points));
    }

    private String told(List<GroupCourseDrawing.Point> points) {
        return points.stream()
                        .map(p -> "day " + p.day() + ": " + p.text()
                                + (p.low().isPresent() && p.high().isPresent()
                                        ? " (" + figures.plain(p.low().getAsDouble()) + " to "
                                                + figures.plain(p.high().getAsDouble()) + ")"
                                        : "")
                                + " of " + p.n())
                        .collect(Collectors.joining("; "))
                + ".";
    }

    // ---- at one visit

    private List<ReportView.Visit> visits() {
        return paired.stream().map(this::visit).toList();
    }

    private ReportView.Visit visit(GroupRow row) {
        Visit visit = GroupResults.visit(row.at());
        int n = GroupResults.pairs(row);
        List<EcdfRow> steps = results.distribution(visit);
        List<ResponderRow> responders = results.responders(visit).stream()
                .sorted(Comparator.comparing(ResponderRow::used)
                        .reversed()
                        .thenComparing(r -> r.mcid().value().orElse(0)))
                .toList();
        List<String> notes = new ArrayList<>();
        results.used(row).ifPresent(r -> notes.add(inShort(r)));
        if (steps.isEmpty()) {
            notes.add("Fewer than " + smallestGroup + " episodes: no percentage, and no drawing of single episodes.");
        }
        List<ReportView.Figure> drawings = new ArrayList<>();
        if (!steps.isEmpty()) {
            drawings.add(new ReportView.Figure(
                    "How many improved by at least so much",
                    DistributionDrawing.of(
                            name + ", " + visit.name() + ": share of " + n
                                    + " episodes that improved by at least so much, thresholds marked. Numbers below.",
                            axis,
                            steps.stream()
                                    .map(s -> new DistributionDrawing.Step(
                                            s.improvement(),
                                            s.atLeast().percent().orElse(0.0)))
                                    .toList())));
            drawings.add(new ReportView.Figure(
                    "Each episode's improvement, in order",
                    OrderedImprovements.of(
                            name + ", " + visit.name() + ": the improvement of each of " + n
                                    + " episodes, from the greatest to the least. Numbers below.",
                            axis,
                            ordered(steps))));
        }
        shares(visit, responders).ifPresent(drawings::add);
        List<TableView> tables = new ArrayList<>();
        if (!responders.isEmpty()) {
            tables.add(CohortTables.responders(results, responders));
        }
        if (!steps.isEmpty()) {
            tables.add(CohortTables.distribution(results, steps));
        }
        return new ReportView.Visit(visit.name() + ": " + episodes(n) + " with both scores", notes, drawings, tables);
    }

    /** Each improvement as often as it was seen, the greatest first. */
    private static List<Double> ordered(List<EcdfRow> steps) {
        List<Double> all = new ArrayList<>();
        int before = 0;
        for (int i = steps.size() - 1; i >= 0; i--) {
            EcdfRow step = steps.get(i);
            all.addAll(Collections.nCopies(step.atLeast().count() - before, step.improvement()));
            before = step.atLeast().count();
        }
        return all;
    }

    private Optional<ReportView.Figure> shares(Visit visit, List<ResponderRow> responders) {
        List<SharesDrawing.Line> lines = responders.stream()
                .flatMap(r -> r.improved().percent().stream()
                        .map(p -> new SharesDrawing.Line(
                                (r.mcid().value().isPresent()
                                                ? Numbers.format(
                                                        r.mcid().value().getAsDouble())
                                                : "own")
                                        + (r.used() ? ", used" : ""),
                                r.used(),
                                p,
                                r.improved().interval95().orElseThrow(),
                                possible(r),
                                r.improved().count() + " of " + r.improved().of())))
                .toList();
        return lines.isEmpty()
                ? Optional.empty()
                : Optional.of(new ReportView.Figure(
                        "Improved by each MCID, 95 % intervals",
                        SharesDrawing.of(
                                name + ", " + visit.name() + ": share improved by MCID. "
                                        + lines.stream()
                                                .map(l -> l.name() + ": " + l.text() + ", " + ONE.plain(l.percent())
                                                        + " % (" + span(ONE, l.interval()) + ")")
                                                .collect(Collectors.joining("; "))
                                        + ".",
                                lines)));
    }

    private static Optional<Range> possible(ResponderRow row) {
        return row.ifMissing().notImproved().percent().flatMap(low -> row.ifMissing()
                .improved()
                .percent()
                .filter(high -> high >= low)
                .map(high -> new Range(low, high)));
    }
}
