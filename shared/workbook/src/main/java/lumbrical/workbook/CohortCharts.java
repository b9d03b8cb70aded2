package lumbrical.workbook;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.EcdfRow;
import lumbrical.cohort.GroupRow;
import lumbrical.cohort.ResponderRow;
import lumbrical.cohort.RowPlace;
import lumbrical.followup.Visit;
import lumbrical.instrument.Direction;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.number.Numbers;
import lumbrical.output.Value;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;
import lumbrical.workbook.ScatterCharts.Axis;
import lumbrical.workbook.ScatterCharts.Frame;
import lumbrical.workbook.ScatterCharts.Look;
import lumbrical.workbook.ScatterCharts.Points;

/**
 * A printed page of native charts for each group and main scale: the course of the scores, the mean improvement with its interval, how many
 * improved by at least how much, and the share improved over all published MCIDs. Time is to scale.
 */
final class CohortCharts {
    private static final String NAME = "Charts";
    static final String DATA = "Chart data";
    private static final int COLUMNS = 16;
    private static final int HALF = COLUMNS / 2;
    private static final int HEAD_ROWS = 2;
    private static final int CHART_ROWS = 20;
    private static final int PAGE_ROWS = HEAD_ROWS + 2 * CHART_ROWS + 1;
    private static final short PRINT_SCALE =
            70; // a margin for fonts wider than the usual one, at which a chart was cut
    /** So many pages of charts; more would make the file slow to open. The tables hold all. */
    private static final int MOST = 60;
    /** Most points of a curve; one with more steps is drawn through as many of them, its ends included. */
    private static final int MOST_STEPS = 120;
    /** Below so many scores the point is pale. */
    private static final int FEW = 5;

    private static final Look[] LINES = {Look.MAIN, Look.SECOND, Look.THIRD, Look.FOURTH, Look.FIFTH, Look.SIXTH};

    private final StreamingWorkbook book;
    private final CohortResult result;
    private final SmallSheet sheet;
    private final SmallSheet data;
    private final ScatterCharts charts;
    private final Map<Where, List<EcdfRow>> steps;
    private final Map<Where, List<ResponderRow>> responders;
    private int dataRow;

    /** What a row is about. */
    private record Where(CohortGroup group, InstrumentId instrument, ScaleId scale) {
        static Where of(RowPlace at) {
            return new Where(at.group(), at.instrument().id(), at.scale().id());
        }
    }

    private CohortCharts(StreamingWorkbook book, CohortResult result) {
        this.book = book;
        this.result = result;
        this.steps = result.ecdf().stream().collect(Collectors.groupingBy(r -> Where.of(r.at())));
        this.responders = result.responders().stream().collect(Collectors.groupingBy(r -> Where.of(r.at())));
        this.sheet = book.smallSheet(NAME);
        this.data = book.smallSheet(DATA);
        this.charts = new ScatterCharts(sheet.sheet().createDrawingPatriarch());
        for (int i = 0; i < COLUMNS; i++) {
            sheet.sheet().setColumnWidth(i, 9 * 256);
        }
        sheet.sheet().setFitToPage(false);
        sheet.sheet().getPrintSetup().setScale(PRINT_SCALE);
        data.sheet().setColumnWidth(0, 60 * 256);
        StreamingWorkbook.freeze(data.sheet(), 1, 0);
    }

    static void write(StreamingWorkbook book, CohortResult result) {
        CohortCharts charts = new CohortCharts(book, result);
        charts.dataRow(List.of("series", "x", "y"));
        List<RowPlace> places = charts.places();
        int row = 0;
        for (RowPlace place : places.subList(0, Math.min(MOST, places.size()))) {
            charts.page(place, row);
            row += PAGE_ROWS;
        }
        if (places.size() > MOST) {
            charts.sheet.text(
                    row,
                    0,
                    book.styles().plain,
                    "Charts are drawn of the first " + MOST + " of " + places.size()
                            + " groups and scales; the tables hold all.");
        } else if (places.isEmpty()) {
            charts.sheet.text(row, 0, book.styles().plain, "No main scale has scores at two visits.");
        }
    }

    /** A group's own before all together; each main scale with scores at two visits or more. */
    private List<RowPlace> places() {
        List<RowPlace> places = new ArrayList<>();
        result.standing().groups().stream()
                .filter(r -> r.size().scored() > 0 && CohortPage.isMain(r.at()))
                .map(r -> new RowPlace(r.at().group(), r.at().instrument(), r.at().scale(), Optional.empty()))
                .filter(p -> rows(p).size() > 1)
                .distinct()
                .forEach(places::add);
        places.sort(Comparator.comparing(p -> p.group().equals(CohortGroup.ALL)));
        return places;
    }

    private List<GroupRow> rows(RowPlace place) {
        return result.standing().groups().stream()
                .filter(r -> same(r.at(), place) && r.size().scored() > 0)
                .toList();
    }

    private static boolean same(RowPlace at, RowPlace place) {
        return at.group().equals(place.group())
                && at.instrument().id().equals(place.instrument().id())
                && at.scale().id().equals(place.scale().id());
    }

    private void page(RowPlace place, int row) {
        String name = (place.group().equals(CohortGroup.ALL)
                        ? "All together"
                        : place.group().label()) + ", " + place.instrument().id() + " "
                + place.scale().id();
        sheet.text(
                row,
                0,
                book.styles().section,
                place.group().equals(CohortGroup.ALL) ? name : place.group().by() + ": " + name);
        sheet.text(
                row + 1,
                0,
                book.styles().plain,
                "A large pale point stands for fewer than " + FEW
                        + " scores. A group is no cause: groups that were not randomised differ in more than their treatment.");
        int top = row + HEAD_ROWS;
        List<GroupRow> rows = rows(place);
        course(place, name, rows, new int[] {0, top, HALF, top + CHART_ROWS});
        List<GroupRow> paired = rows.stream()
                .filter(r -> r.improvement().filter(i -> i.paired() > 0).isPresent())
                .toList();
        if (!paired.isEmpty()) {
            improvement(place, name, paired, new int[] {HALF, top, COLUMNS, top + CHART_ROWS});
            distribution(place, name, paired, new int[] {0, top + CHART_ROWS, HALF, top + 2 * CHART_ROWS});
            responders(place, name, paired, new int[] {HALF, top + CHART_ROWS, COLUMNS, top + 2 * CHART_ROWS});
        }
        sheet.sheet().setRowBreak(row + PAGE_ROWS - 1);
    }

    private static Frame frame(String title, int[] corners) {
        return new Frame(title, corners[0], corners[1], corners[2], corners[3]);
    }

    private static double months(GroupRow row) {
        return row.at().visit().map(TimeAxis::months).orElse(0.0);
    }

    private Axis time() {
        return TimeAxis.of(result.schedule().visits());
    }

    private void course(RowPlace place, String name, List<GroupRow> rows, int[] corners) {
        Scale scale = place.scale();
        boolean turned = scale.better() == Direction.LOWER;
        List<Points> points = new ArrayList<>();
        points.add(scores("median", name, rows, s -> s.quantiles().median(), Look.MAIN));
        points.add(scores("lower quartile", name, rows, s -> s.quantiles().lowerQuartile(), Look.LIMIT));
        points.add(scores("upper quartile", name, rows, s -> s.quantiles().upperQuartile(), Look.LIMIT));
        List<GroupRow> few = rows.stream().filter(r -> r.size().scored() < FEW).toList();
        if (!few.isEmpty()) {
            points.add(scores("fewer than " + FEW, name, few, s -> s.quantiles().median(), Look.PALE));
        }
        charts.add(
                frame(
                        "Median score and quartiles" + (turned ? " (axis turned: better is up)" : " (better is up)"),
                        corners),
                time(),
                new Axis("score", scale.range().low(), scale.range().high(), turned),
                points);
    }

    private Points scores(String title, String name, List<GroupRow> rows, Function<Summary, Double> of, Look look) {
        return points(
                title,
                name,
                rows.stream().map(CohortCharts::months).toList(),
                rows.stream()
                        .map(r -> r.scores().optional().map(of).orElse(0.0))
                        .toList(),
                look);
    }

    private void improvement(RowPlace place, String name, List<GroupRow> rows, int[] corners) {
        List<Points> points = new ArrayList<>();
        points.add(points(
                "mean improvement",
                name,
                rows.stream().map(CohortCharts::months).toList(),
                rows.stream().map(CohortCharts::mean).toList(),
                Look.MAIN));
        List<GroupRow> sure = rows.stream().filter(r -> interval(r).isPresent()).toList();
        if (!sure.isEmpty()) {
            List<Double> x = sure.stream().map(CohortCharts::months).toList();
            points.add(points(
                    "95 % limit, low",
                    name,
                    x,
                    sure.stream()
                            .map(r -> interval(r).orElseThrow().interval().low())
                            .toList(),
                    Look.LIMIT));
            points.add(points(
                    "95 % limit, high",
                    name,
                    x,
                    sure.stream()
                            .map(r -> interval(r).orElseThrow().interval().high())
                            .toList(),
                    Look.LIMIT));
        }
        List<GroupRow> few = rows.stream().filter(r -> paired(r) < FEW).toList();
        if (!few.isEmpty()) {
            points.add(points(
                    "fewer than " + FEW,
                    name,
                    few.stream().map(CohortCharts::months).toList(),
                    few.stream().map(CohortCharts::mean).toList(),
                    Look.PALE));
        }
        Axis time = time();
        List<Double> ends = List.of(time.low(), time.high());
        points.add(points("no change", name, ends, List.of(0.0, 0.0), Look.FAINT_MARK));
        used(place)
                .ifPresent(mcid ->
                        points.add(points("MCID " + Numbers.format(mcid), name, ends, List.of(mcid, mcid), Look.MARK)));
        charts.add(
                frame("Mean improvement with its 95 % interval (up is better)", corners),
                time,
                Axis.free("improvement, in points of the scale"),
                points);
    }

    private static Optional<TInterval> interval(GroupRow row) {
        return row.improvement().flatMap(i -> i.mean().optional());
    }

    private static double mean(GroupRow row) {
        return row.improvement()
                .flatMap(i -> i.values().optional())
                .map(s -> s.quantiles().mean())
                .orElse(0.0);
    }

    private static int paired(GroupRow row) {
        return row.improvement().map(GroupRow.Improvement::paired).orElse(0);
    }

    private Stream<ResponderRow> respondersOf(RowPlace place) {
        return responders.getOrDefault(Where.of(place), List.of()).stream();
    }

    /** The MCID used, where the group has one. */
    private Optional<Double> used(RowPlace place) {
        return respondersOf(place)
                .filter(ResponderRow::used)
                .flatMap(r -> r.mcid().value().stream().boxed())
                .findFirst();
    }

    private void distribution(RowPlace place, String name, List<GroupRow> rows, int[] corners) {
        List<Points> points = new ArrayList<>();
        for (GroupRow row : rows) {
            Visit visit = row.at().visit().orElseThrow();
            List<EcdfRow> drawn = thinned(steps.getOrDefault(Where.of(place), List.of()).stream()
                    .filter(r -> r.at().visit().filter(visit::equals).isPresent())
                    .toList());
            if (!drawn.isEmpty() && points.size() < LINES.length) {
                points.add(points(
                        visit.name() + ", n " + paired(row),
                        name,
                        drawn.stream().map(EcdfRow::improvement).toList(),
                        drawn.stream()
                                .map(r -> r.atLeast().percent().orElse(0.0))
                                .toList(),
                        LINES[points.size()]));
            }
        }
        if (points.isEmpty()) {
            return;
        }
        used(place)
                .ifPresent(mcid -> points.add(points(
                        "MCID " + Numbers.format(mcid), name, List.of(mcid, mcid), List.of(0.0, 100.0), Look.MARK)));
        points.add(points("no change", name, List.of(0.0, 0.0), List.of(0.0, 100.0), Look.FAINT_MARK));
        charts.add(
                frame("How many improved by at least so much", corners),
                Axis.free("improvement (more to the right is better)"),
                new Axis("per cent", 0, 100, false),
                points);
    }

    /** As many steps as are drawn, evenly taken, the first and the last among them. */
    static <T> List<T> thinned(List<T> steps) {
        if (steps.size() <= MOST_STEPS) {
            return steps;
        }
        long last = steps.size() - 1;
        return IntStream.range(0, MOST_STEPS)
                .mapToObj(i -> steps.get((int) (i * last / (MOST_STEPS - 1))))
                .toList();
    }

    private void responders(RowPlace place, String name, List<GroupRow> rows, int[] corners) {
        int most = rows.stream().mapToInt(CohortCharts::paired).max().orElse(0);
        GroupRow late = rows.stream()
                .filter(r -> 2 * paired(r) >= most)
                .reduce((a, b) -> b) // the last visit that has half as many pairs as the one with most
                .orElseThrow();
        Visit visit = late.at().visit().orElseThrow();
        List<ResponderRow> byMcid = respondersOf(place)
                .filter(r -> r.at().visit().filter(visit::equals).isPresent())
                .filter(r ->
                        r.mcid().value().isPresent() && r.improved().percent().isPresent())
                .sorted(Comparator.comparingDouble(r -> r.mcid().value().orElseThrow()))
                .toList();
        if (byMcid.isEmpty()) {
            return;
        }
        List<Double> mcids =
                byMcid.stream().map(r -> r.mcid().value().orElseThrow()).toList();
        List<Points> points = new ArrayList<>();
        points.add(points(
                "per cent improved",
                name,
                mcids,
                byMcid.stream().map(r -> r.improved().percent().orElseThrow()).toList(),
                Look.MAIN));
        points.add(points(
                "95 % limit, low",
                name,
                mcids,
                byMcid.stream()
                        .map(r -> r.improved().interval95().orElseThrow().low())
                        .toList(),
                Look.LIMIT));
        points.add(points(
                "95 % limit, high",
                name,
                mcids,
                byMcid.stream()
                        .map(r -> r.improved().interval95().orElseThrow().high())
                        .toList(),
                Look.LIMIT));
        used(place)
                .ifPresent(mcid -> points.add(points(
                        "MCID used, " + Numbers.format(mcid),
                        name,
                        List.of(mcid, mcid),
                        List.of(0.0, 100.0),
                        Look.MARK)));
        charts.add(
                frame(
                        "Per cent improved by each published MCID, " + visit.name() + " (n " + paired(late) + ")",
                        corners),
                Axis.free("MCID, in points of the scale"),
                new Axis("per cent", 0, 100, false),
                points);
    }

    /** Puts values into the sheet of chart data, and gives the points that refer to them. */
    private Points points(String title, String name, List<Double> x, List<Double> y, Look look) {
        int first = dataRow;
        for (int i = 0; i < x.size(); i++) {
            data.value(dataRow, 0, Value.text(name + ", " + title));
            data.value(dataRow, 1, Value.number(x.get(i)));
            data.value(dataRow, 2, Value.number(y.get(i)));
            dataRow++;
        }
        return new Points(
                title,
                x.toArray(Double[]::new),
                range("B", first, dataRow - 1),
                y.toArray(Double[]::new),
                range("C", first, dataRow - 1),
                look);
    }

    private static String range(String column, int first, int last) {
        return "'" + DATA + "'!$" + column + "$" + (first + 1) + ":$" + column + "$" + (last + 1);
    }

    private void dataRow(List<String> headings) {
        for (int i = 0; i < headings.size(); i++) {
            data.text(dataRow, i, i == 0 ? book.styles().header : book.styles().headerRight, headings.get(i));
        }
        dataRow++;
    }
}
