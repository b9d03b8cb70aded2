package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Overview;
import lumbrical.followup.Visit;
import lumbrical.followup.VisitCount;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.output.Value;
import lumbrical.problem.Problem;
import lumbrical.statistics.Wilson;

/** The first sheet: a clinic in ten seconds on its first page, the figures in full below. */
final class OverviewSheet {
    static final String NAME = "Overview";
    /** Narrow enough that the print of a page's width can be read. */
    private static final int[] WIDTHS = {13, 19, 11, 10, 10, 10, 10, 10, 10, 10, 11, 10, 10, 27};

    static final int COLUMNS = WIDTHS.length;

    private final Page page;
    private final StreamingWorkbook book;
    private final FollowUpResult clinic;
    private final Overview overview;

    private OverviewSheet(StreamingWorkbook book, FollowUpResult clinic, Overview overview) {
        this.book = book;
        this.clinic = clinic;
        this.overview = overview;
        this.page = new Page(book, NAME, WIDTHS);
    }

    static void write(StreamingWorkbook book, FollowUpResult clinic, Overview overview, List<Problem> problems) {
        OverviewSheet sheet = new OverviewSheet(book, clinic, overview);
        sheet.page.line("Hand and wrist outcomes as of " + clinic.asOf(), book.styles().title);
        ClinicWorkbook.CAUTIONS.forEach(text -> sheet.page.across(text, book.styles().caution));
        sheet.who(problems);
        sheet.matrix(
                "Median score by visit (number of scores and quartiles below)",
                c -> Value.number(c.scores().median()));
        sheet.matrix(
                "Improved by the MCID or more, percent of those that can be assessed (whose MCID: below)",
                OverviewSheet::percentReached);
        sheet.cameIn();
        sheet.notScored();
        OverviewDetails.write(sheet.page, clinic, overview);
    }

    private void who(List<Problem> problems) {
        long notes = problems.stream().filter(Problem::isNote).count();
        int expected = clinic.counts().stream().mapToInt(VisitCount::expected).sum();
        int received = clinic.counts().stream().mapToInt(VisitCount::received).sum();
        int notScored = overview.notScored().values().stream().mapToInt(n -> n).sum();
        page.line("", book.styles().plain);
        page.tiles(
                List.of(
                        "patients",
                        "episodes",
                        "sittings",
                        "forms expected so far",
                        "of these received",
                        "scales without a score",
                        "problems to correct"),
                List.of(
                        (double) overview.patients(),
                        (double) overview.episodes(),
                        (double) overview.sittings(),
                        (double) expected,
                        (double) received,
                        (double) notScored,
                        (double) (problems.size() - notes)));
        List<String> more = new ArrayList<>();
        if (overview.bilateral() > 0) {
            more.add(count(overview.bilateral(), "patient has", "patients have")
                    + " episodes on both sides: these episodes are not independent");
        }
        long closed = clinic.episodes().stream()
                .filter(e -> e.episode().closureKnown(clinic.asOf()).isPresent())
                .count();
        if (closed > 0) {
            more.add(count(closed, "episode is", "episodes are") + " closed: nothing more is due");
        }
        if (notes > 0) {
            more.add(count(notes, "note", "notes") + " beside the problems: see the sheet Problems");
        }
        if (!more.isEmpty()) {
            page.line(String.join(". ", more) + ".", book.styles().plain);
        }
    }

    private static String count(long n, String one, String many) {
        return n + " " + (n == 1 ? one : many);
    }

    static Value percentReached(Overview.Cell c) {
        boolean judged = c.visit().role() != Visit.Role.BASELINE && c.assessable() > 0;
        return judged ? Value.number(100.0 * c.reachedMcid() / c.assessable()) : Value.BLANK;
    }

    /** A row for each scale, a column for each visit; scales without any figure are left out. */
    private void matrix(String title, Function<Overview.Cell, Value> figure) {
        List<Visit> visits = clinic.schedule().visits();
        List<List<Overview.Cell>> byScale = new ArrayList<>();
        for (Overview.Cell cell : overview.cells()) {
            if (figure.apply(cell) != Value.BLANK) {
                if (byScale.isEmpty() || byScale.get(byScale.size() - 1).get(0).scale() != cell.scale()) {
                    byScale.add(new ArrayList<>());
                }
                byScale.get(byScale.size() - 1).add(cell);
            }
        }
        page.section(title);
        List<String> headings = new ArrayList<>(List.of("instrument", "scale", "better"));
        visits.forEach(v -> headings.add(v.name()));
        page.headings(3, headings);
        if (byScale.isEmpty()) {
            page.values(List.of(Value.word("none")));
        }
        byScale.forEach(cells -> {
            Scale scale = cells.get(0).scale();
            List<Value> values = new ArrayList<>(List.of(
                    Value.word(cells.get(0).instrument().id().value()),
                    Value.word(scale.id().value()),
                    Value.word(scale.better().code())));
            for (Visit visit : visits) {
                Optional<Overview.Cell> at =
                        cells.stream().filter(c -> c.visit() == visit).findFirst();
                values.add(at.map(figure).orElse(Value.BLANK));
            }
            page.values(values);
        });
    }

    private void cameIn() {
        page.section(
                "What came in by visit (forms; from, to: 95 % interval of the percentage; by instrument in the sheet Follow-up)");
        page.headings(
                1,
                List.of(
                        "visit",
                        "expected",
                        "received",
                        "percent",
                        "from",
                        "to",
                        "scorable",
                        "closed before",
                        "not yet open"));
        for (Visit visit : clinic.schedule().visits()) {
            Stream<VisitCount> own =
                    clinic.counts().stream().filter(c -> c.visit().equals(visit));
            List<VisitCount> counts = own.toList();
            int expected = counts.stream().mapToInt(VisitCount::expected).sum();
            int received = counts.stream().mapToInt(VisitCount::received).sum();
            page.values(List.of(
                    Value.text(visit.name()),
                    Value.number(expected),
                    Value.number(received),
                    expected == 0 ? Value.BLANK : Value.number(100.0 * received / expected),
                    expected == 0
                            ? Value.BLANK
                            : Value.number(percent(received, expected).low()),
                    expected == 0
                            ? Value.BLANK
                            : Value.number(percent(received, expected).high()),
                    Value.number(counts.stream().mapToInt(VisitCount::scorable).sum()),
                    Value.number(counts.stream().mapToInt(VisitCount::closed).sum()),
                    Value.number(counts.stream().mapToInt(VisitCount::notYet).sum())));
        }
    }

    /** The 95 % interval of a share, in percent (Wilson). */
    private static Range percent(int of, int all) {
        Range share = Wilson.interval95(of, all);
        return new Range(100 * share.low(), 100 * share.high());
    }

    private void notScored() {
        page.section("Questionnaires that came in and have no score, and why (a row for each scale)");
        page.headings(1, List.of("reason", "scales"));
        if (overview.notScored().isEmpty()) {
            page.values(List.of(Value.word("none"), Value.number(0)));
        }
        overview.notScored().forEach((reason, n) -> page.values(List.of(Value.word(reason.code()), Value.number(n))));
    }
}
