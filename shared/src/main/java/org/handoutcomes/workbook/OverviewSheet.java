package org.handoutcomes.workbook;

import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.apache.poi.ss.usermodel.Cell;
import org.apache.poi.ss.usermodel.CellStyle;
import org.apache.poi.ss.usermodel.Row;
import org.apache.poi.ss.util.CellRangeAddress;
import org.apache.poi.xssf.streaming.SXSSFSheet;
import org.handoutcomes.followup.Longitudinal;
import org.handoutcomes.followup.Overview;
import org.handoutcomes.followup.Visit;
import org.handoutcomes.followup.VisitCount;
import org.handoutcomes.instrument.Threshold;
import org.handoutcomes.output.Numbers;
import org.handoutcomes.output.Value;
import org.handoutcomes.problem.Problem;

/** The first sheet: a clinic in ten seconds. */
final class OverviewSheet {
    private static final int WIDTH = 14;
    private static final Set<String> WORDS = Set.of("instrument", "scale", "visit", "reason", "MCID used");

    private final Book book;
    private final SXSSFSheet sheet;
    private int row = -1;

    private OverviewSheet(Book book) {
        this.book = book;
        this.sheet = book.sheet("Overview");
        int[] widths = {14, 18, 13, 9, 9, 9, 9, 9, 10, 12, 12, 10, 12, 44};
        for (int i = 0; i < widths.length; i++) {
            sheet.setColumnWidth(i, widths[i] * 256);
        }
        sheet.createFreezePane(0, 1);
    }

    static void write(Book book, Longitudinal clinic, Overview overview, List<Problem> problems) {
        OverviewSheet sheet = new OverviewSheet(book);
        sheet.line("Hand and wrist outcomes as of " + clinic.asOf(), book.styles().title);
        ClinicWorkbook.CAUTIONS.forEach(sheet::caution);
        sheet.who(clinic, overview, problems);
        sheet.results(overview);
        sheet.cameIn(clinic);
        sheet.notScored(overview);
        sheet.sensitivity(overview);
    }

    private Row next() {
        row++;
        return sheet.createRow(row);
    }

    private void line(String text, CellStyle style) {
        Cell cell = next().createCell(0);
        cell.setCellValue(text);
        cell.setCellStyle(style);
    }

    private void caution(String text) {
        line(text, book.styles().caution);
        sheet.addMergedRegion(new CellRangeAddress(row, row, 0, WIDTH - 1));
    }

    private void section(String text) {
        next();
        line(text, book.styles().section);
    }

    private void headings(String... names) {
        Row header = next();
        header.setHeightInPoints(28);
        for (int i = 0; i < names.length; i++) {
            Cell cell = header.createCell(i);
            cell.setCellValue(names[i]);
            boolean words = WORDS.contains(names[i]);
            cell.setCellStyle(words ? book.styles().header : book.styles().headerRight);
        }
    }

    private void values(Value... values) {
        Row cells = next();
        for (int i = 0; i < values.length; i++) {
            TableSheet.set(book, cells, i, values[i]);
        }
    }

    private void who(Longitudinal clinic, Overview overview, List<Problem> problems) {
        section("Who");
        long notes = problems.stream().filter(Problem::isNote).count();
        values(Value.word("patients"), Value.number(overview.patients()));
        values(Value.word("episodes"), Value.number(overview.episodes()));
        values(Value.word("sittings"), Value.number(overview.sittings()));
        values(
                Value.word("both sides"),
                Value.number(overview.bilateral()),
                Value.word("patients with episodes on both sides: their episodes are not independent"));
        values(
                Value.word("problems"),
                Value.number(problems.size() - notes),
                Value.word(problems.size() == notes ? "none to correct" : "to correct: see the sheet Problems"));
        values(Value.word("notes"), Value.number(notes));
        long closed =
                clinic.episodes().stream().filter(e -> e.closure().isPresent()).count();
        values(Value.word("closed"), Value.number(closed), Value.word("episodes closed: nothing more is due"));
    }

    private void results(Overview overview) {
        section(
                "Scores and change by scale and visit (the sitting that counts at each visit; the sheet Thresholds says whose MCID)");
        headings(
                "instrument",
                "scale",
                "visit",
                "n",
                "mean",
                "median",
                "lower quartile",
                "upper quartile",
                "with baseline",
                "improved by the MCID",
                "percent of assessable",
                "worsened by it",
                "could not reach it",
                "MCID used");
        for (Overview.Cell c : overview.cells()) {
            boolean baseline = c.visit().role() == Visit.Role.BASELINE;
            boolean judged = !baseline && c.assessable() > 0;
            values(
                    Value.word(c.instrument().id().value()),
                    Value.word(c.scale().id().value()),
                    Value.text(c.visit().name()),
                    Value.number(c.scores().n()),
                    Value.number(c.scores().mean()),
                    Value.number(c.scores().median()),
                    Value.number(c.scores().lowerQuartile()),
                    Value.number(c.scores().upperQuartile()),
                    baseline ? Value.BLANK : Value.number(c.paired()),
                    judged ? Value.number(c.reachedMcid()) : Value.BLANK,
                    judged ? Value.number(100.0 * c.reachedMcid() / c.assessable()) : Value.BLANK,
                    judged ? Value.number(c.worsened()) : Value.BLANK,
                    judged ? Value.number(c.couldNotReach()) : Value.BLANK,
                    baseline ? Value.BLANK : Value.word(used(c.mcid(), judged)));
        }
    }

    private static String used(Optional<Threshold> mcid, boolean judged) {
        return mcid.map(t -> Numbers.format(t.value().orElseThrow()) + " (" + t.id()
                        + (t.provenance().published()
                                ? ""
                                : ", " + t.provenance().standing().code())
                        + (t.borrowed() ? ", borrowed" : "") + ")")
                .orElse(judged ? "several, by condition" : "none known");
    }

    private void cameIn(Longitudinal clinic) {
        section("What came in by visit (forms; by instrument in the sheet Follow-up)");
        headings("visit", "expected", "received", "percent", "scorable", "closed before", "not yet open");
        for (Visit visit : clinic.schedule().visits()) {
            List<VisitCount> counts = clinic.counts().stream()
                    .filter(c -> c.visit().equals(visit))
                    .toList();
            int expected = counts.stream().mapToInt(VisitCount::expected).sum();
            int received = counts.stream().mapToInt(VisitCount::received).sum();
            values(
                    Value.text(visit.name()),
                    Value.number(expected),
                    Value.number(received),
                    expected == 0 ? Value.BLANK : Value.number(100.0 * received / expected),
                    Value.number(counts.stream().mapToInt(VisitCount::scorable).sum()),
                    Value.number(counts.stream().mapToInt(VisitCount::closed).sum()),
                    Value.number(counts.stream().mapToInt(VisitCount::notYet).sum()));
        }
    }

    private void notScored(Overview overview) {
        section("Score rows without a score, and why");
        headings("reason", "score rows");
        if (overview.notScored().isEmpty()) {
            values(Value.word("none"), Value.number(0));
        }
        overview.notScored().forEach((reason, n) -> values(Value.word(reason.code()), Value.number(n)));
    }

    private void sensitivity(Overview overview) {
        section("How much the share improved depends on the MCID (published values that hold for every condition)");
        headings(
                "instrument",
                "scale",
                "visit",
                "with baseline",
                "lowest MCID",
                "improved by it",
                "percent",
                "default or chosen",
                "percent of assessable",
                "highest MCID",
                "improved by it",
                "percent");
        for (Overview.Sensitivity s : overview.sensitivities()) {
            Stream<Overview.Cell> same =
                    overview.cells().stream().filter(c -> c.scale() == s.scale() && c.visit() == s.visit());
            Optional<Overview.Cell> cell = same.filter(c -> c.assessable() > 0).findFirst();
            values(
                    Value.word(s.instrument().id().value()),
                    Value.word(s.scale().id().value()),
                    Value.text(s.visit().name()),
                    Value.number(s.paired()),
                    Value.number(s.lowest()),
                    Value.number(s.atLowest()),
                    Value.number(100.0 * s.atLowest() / s.paired()),
                    cell.flatMap(Overview.Cell::mcid)
                            .map(t -> Value.number(t.value()))
                            .orElse(Value.BLANK),
                    cell.map(c -> Value.number(100.0 * c.reachedMcid() / c.assessable()))
                            .orElse(Value.BLANK),
                    Value.number(s.highest()),
                    Value.number(s.atHighest()),
                    Value.number(100.0 * s.atHighest() / s.paired()));
        }
    }
}
