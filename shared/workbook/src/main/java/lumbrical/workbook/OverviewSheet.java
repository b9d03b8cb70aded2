package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import lumbrical.cohort.CohortResult;
import lumbrical.followup.ClinicCounts;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Visit;
import lumbrical.followup.VisitCount;
import lumbrical.instrument.Range;
import lumbrical.output.Value;
import lumbrical.problem.Problem;
import lumbrical.statistics.Wilson;
import org.apache.poi.ss.usermodel.CellStyle;

/** The first sheet: a clinic in ten seconds on its first page, the figures in full below. */
final class OverviewSheet {
    static final String NAME = "Overview";

    private final Page page;
    private final StreamingWorkbook book;
    private final FollowUpResult clinic;
    private final ClinicCounts counts;

    private OverviewSheet(StreamingWorkbook book, FollowUpResult clinic) {
        this.book = book;
        this.clinic = clinic;
        this.counts = ClinicCounts.of(clinic);
        this.page = new Page(book, NAME, 26, 24, 13, 9, 9, 15, 11, 13, 17, 12, 9, 15, 10, 34);
    }

    static void write(StreamingWorkbook book, FollowUpResult clinic, CohortResult groups, List<Problem> problems) {
        OverviewSheet sheet = new OverviewSheet(book, clinic);
        sheet.page.line("Hand and wrist outcomes as of " + clinic.asOf(), book.styles().title);
        ClinicWorkbook.CAUTIONS.forEach(text -> sheet.page.across(text, book.styles().caution));
        sheet.who(problems);
        sheet.cameIn();
        sheet.notScored();
        OverviewDetails.mcids(sheet.page, book.styles(), clinic);
        sheet.page.breakBefore("Results by condition (the form that counts at each visit; all together at the end)");
        sheet.page.across(
                "Improvement is positive when the patient is better. Conditions are never pooled under one MCID. Percentages have"
                        + " Wilson's interval; a group of fewer than 5 has none.",
                book.styles().plain);
        OverviewDetails.results(sheet.page, book.styles(), groups);
    }

    private void who(List<Problem> problems) {
        long notes = problems.stream().filter(Problem::isNote).count();
        int expected = clinic.counts().stream().mapToInt(VisitCount::expected).sum();
        int received = clinic.counts().stream().mapToInt(VisitCount::received).sum();
        int notScored = counts.notScored().values().stream().mapToInt(n -> n).sum();
        page.line("", book.styles().plain);
        page.tiles(
                List.of(
                        "patients",
                        "episodes",
                        "days with forms",
                        "forms expected so far",
                        "of these received",
                        "scales without a score",
                        "problems to correct"),
                List.of(
                        (double) counts.patients(),
                        (double) counts.episodes(),
                        (double) counts.sittings(),
                        (double) expected,
                        (double) received,
                        (double) notScored,
                        (double) (problems.size() - notes)));
        List<String> more = new ArrayList<>();
        if (counts.bilateral() > 0) {
            more.add(count(counts.bilateral(), "patient has", "patients have")
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

    private void cameIn() {
        page.section("What came in by visit (forms; by instrument in the sheet Follow-up)");
        page.headings(
                1,
                List.of(
                        "visit",
                        "expected",
                        "received",
                        "scorable",
                        "percent received",
                        "95 % interval",
                        "closed before",
                        "not yet open"));
        Styles styles = book.styles();
        List<CellStyle> looks = List.of(
                styles.plain,
                styles.whole,
                styles.whole,
                styles.whole,
                styles.oneDecimal,
                styles.right,
                styles.whole,
                styles.whole);
        for (Visit visit : clinic.schedule().visits()) {
            List<VisitCount> counts = clinic.counts().stream()
                    .filter(c -> c.visit().name().equals(visit.name()))
                    .toList();
            int expected = counts.stream().mapToInt(VisitCount::expected).sum();
            int received = counts.stream().mapToInt(VisitCount::received).sum();
            page.values(
                    List.of(
                            Value.text(visit.name()),
                            Value.number(expected),
                            Value.number(received),
                            Value.number(counts.stream()
                                    .mapToInt(VisitCount::scorable)
                                    .sum()),
                            expected == 0 ? Value.BLANK : Value.number(100.0 * received / expected),
                            expected == 0 ? Value.BLANK : Value.word(CohortPage.span(1, percent(received, expected))),
                            Value.number(
                                    counts.stream().mapToInt(VisitCount::closed).sum()),
                            Value.number(
                                    counts.stream().mapToInt(VisitCount::notYet).sum())),
                    looks);
        }
    }

    /** The 95 % interval of a share, in percent (Wilson). */
    static Range percent(long of, long all) {
        Range share = Wilson.interval95(of, all);
        return new Range(100 * share.low(), 100 * share.high());
    }

    private void notScored() {
        page.section("Questionnaires that came in and have no score, and why (a row for each scale)");
        page.headings(1, List.of("reason", "scales"));
        if (counts.notScored().isEmpty()) {
            page.values(List.of(Value.word("none"), Value.number(0)));
        }
        counts.notScored().forEach((reason, n) -> page.values(List.of(Value.word(reason.code()), Value.number(n))));
    }
}
