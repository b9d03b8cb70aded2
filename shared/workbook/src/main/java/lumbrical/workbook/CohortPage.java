package lumbrical.workbook;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.CompareRow;
import lumbrical.cohort.GroupRow;
import lumbrical.cohort.ResponderRow;
import lumbrical.cohort.RowPlace;
import lumbrical.cohort.Share;
import lumbrical.followup.Visit;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.number.Figures;
import lumbrical.output.Value;
import lumbrical.statistics.Quantiles;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;
import org.apache.poi.ss.usermodel.CellStyle;

/** The first sheet of group results: the main scales of every group, percentages with their counts, intervals beside. */
final class CohortPage {
    /** A scale no wider than this is shown with two decimals. */
    private static final double NARROW = 20;

    private static final List<String> HEADINGS = List.of(
            "scale",
            "visit",
            "scores",
            "median",
            "quartiles",
            "with baseline",
            "mean improvement",
            "95 % interval",
            "improved by the MCID",
            "percent",
            "95 % interval",
            "worsened",
            "MCID");

    private final StreamingWorkbook book;
    private final Page page;
    private final CohortResult result;
    /** By the MCID used. */
    private final Map<Where, ResponderRow> used;

    /** What a row is about. */
    private record Where(CohortGroup group, InstrumentId instrument, ScaleId scale, Optional<String> visit) {}

    private CohortPage(StreamingWorkbook book, CohortResult result) {
        this.book = book;
        this.result = result;
        this.used = result.responders().stream()
                .filter(ResponderRow::used)
                .collect(Collectors.toMap(
                        r -> new Where(
                                r.at().group(),
                                r.at().instrument().id(),
                                r.at().scale().id(),
                                r.at().visit().map(Visit::name)),
                        r -> r));
        this.page = new Page(book, "Results", 24, 12, 8, 9, 14, 10, 13, 17, 13, 9, 15, 10, 34);
    }

    static void write(StreamingWorkbook book, CohortResult result, LocalDate asOf) {
        CohortPage sheet = new CohortPage(book, result);
        sheet.page.line("Hand and wrist outcomes of groups as of " + asOf, book.styles().title);
        Stream.concat(
                        Stream.of("Groups that were not randomised differ in more than their treatment."),
                        ClinicWorkbook.CAUTIONS.stream()
                                .map(c -> c.replace(
                                        "; the sheet Thresholds says which", "; the sheet Methods says which")))
                .forEach(text -> sheet.page.across(text, book.styles().caution));
        sheet.page.across(
                "Improvement is positive when the patient is better. Main scales only; every scale, interval and published MCID is in"
                        + " the sheets Groups and Responders.",
                book.styles().plain);
        List<CohortResult.GroupSize> groups = new ArrayList<>(result.groups());
        groups.sort((a, b) -> Boolean.compare(
                a.group().equals(CohortGroup.ALL), b.group().equals(CohortGroup.ALL))); // all together last
        groups.forEach(sheet::group);
        sheet.compare();
    }

    private void group(CohortResult.GroupSize size) {
        List<GroupRow> rows = result.standing().groups().stream()
                .filter(r -> r.at().group().equals(size.group()) && r.size().scored() > 0)
                .filter(r -> isMain(r.at()))
                .toList();
        String by = size.group().equals(CohortGroup.ALL)
                ? "All together"
                : size.group().by() + ": " + size.group().label();
        page.section(by + " (" + count(size.episodes(), "episode") + ", " + count(size.patients(), "patient") + ")");
        page.headings(2, HEADINGS.size() - 1, HEADINGS);
        if (rows.isEmpty()) {
            page.values(List.of(Value.word("no scores")));
        }
        rows.forEach(this::row);
    }

    static String count(int n, String one) {
        return n + " " + one + (n == 1 ? "" : "s");
    }

    static boolean isMain(RowPlace at) {
        return Scale.mainOf(at.instrument().scales()).contains(at.scale());
    }

    private void row(GroupRow row) {
        Scale scale = row.at().scale();
        Optional<Quantiles> scores = row.scores().optional().map(Summary::quantiles);
        Optional<GroupRow.Improvement> improvement = row.improvement();
        Optional<ResponderRow> used = used(row.at());
        List<Value> values = List.of(
                Value.word(row.at().instrument().id() + " " + scale.id()),
                row.at().visit().map(v -> Value.text(v.name())).orElse(Value.BLANK),
                Value.number(row.size().scored()),
                scores.map(q -> Value.number(q.median())).orElse(Value.BLANK),
                Value.word(scores.map(q -> span(scale, new Range(q.lowerQuartile(), q.upperQuartile())))),
                improvement.map(i -> Value.number(i.paired())).orElse(Value.BLANK),
                improvement
                        .flatMap(i -> i.values().optional())
                        .map(s -> Value.number(s.quantiles().mean()))
                        .orElse(Value.BLANK),
                Value.word(improvement
                        .flatMap(i -> i.mean().map(TInterval::interval).optional())
                        .map(r -> span(scale, r))),
                Value.word(used.map(r -> ofSoMany(r.improved()))),
                used.flatMap(r -> r.improved().percent()).map(Value::number).orElse(Value.BLANK),
                Value.word(used.flatMap(r -> r.improved().interval95()).map(r -> span(1, r))),
                Value.word(used.filter(r -> r.improved().of() > 0)
                        .map(r -> r.worsened() + " of " + r.improved().of())),
                Value.word(mcid(row, used)));
        CellStyle decimals = decimals(scale) == 2 ? book.styles().twoDecimals : book.styles().oneDecimal;
        CellStyle right = book.styles().right;
        CellStyle whole = book.styles().whole;
        page.values(
                values,
                List.of(
                        book.styles().plain,
                        book.styles().plain,
                        whole,
                        decimals,
                        right,
                        whole,
                        decimals,
                        right,
                        right,
                        book.styles().oneDecimal,
                        right,
                        right,
                        book.styles().wrapped));
    }

    private Optional<ResponderRow> used(RowPlace at) {
        return Optional.ofNullable(used.get(new Where(
                at.group(), at.instrument().id(), at.scale().id(), at.visit().map(Visit::name))));
    }

    static String mcid(GroupRow row, Optional<ResponderRow> used) {
        if (row.improvement().filter(i -> i.paired() > 0).isEmpty()) {
            return "";
        }
        return used.map(r ->
                        r.mcid().threshold().map(OverviewDetails::brief).orElse("each episode's own, by condition"))
                .orElse("none known");
    }

    /** {@code 7 of 10}. */
    static String ofSoMany(Share share) {
        return share.of() == 0 ? "" : share.count() + " of " + share.of();
    }

    static int decimals(Scale scale) {
        return scale.range().width() <= NARROW ? 2 : 1;
    }

    private static String span(Scale scale, Range range) {
        return span(decimals(scale), range);
    }

    static String span(int decimals, Range range) {
        return fixed(decimals, range.low()) + " to " + fixed(decimals, range.high());
    }

    /** With that many decimals, and no negative zero. */
    static String fixed(int decimals, double value) {
        return new Figures(decimals).fixed(value);
    }

    private void compare() {
        List<CompareRow> rows = result.compare().stream()
                .filter(r -> isMain(r.at()) && r.nA() + r.nB() > 0)
                .toList();
        if (rows.isEmpty()) {
            return;
        }
        page.section("Two groups compared, A minus B (who they are: the sheet Methods)");
        page.headings(
                2,
                HEADINGS.size() - 1,
                List.of(
                        "scale",
                        "visit",
                        "A",
                        "B",
                        "difference",
                        "",
                        "at equal baseline",
                        "95 % interval",
                        "improved A",
                        "",
                        "improved B",
                        "",
                        "percent improved, A minus B"));
        for (CompareRow row : rows) {
            Scale scale = row.at().scale();
            int digits = decimals(scale);
            String group = row.at().group().equals(CohortGroup.ALL)
                    ? ""
                    : " (" + row.at().group().label() + ")";
            page.values(
                    List.of(
                            Value.text(row.at().instrument().id() + " " + scale.id() + group),
                            row.at().visit().map(v -> Value.text(v.name())).orElse(Value.BLANK),
                            Value.number(row.nA()),
                            Value.number(row.nB()),
                            row.difference().value().fold(Value::number, reason -> Value.BLANK),
                            Value.BLANK,
                            row.adjusted().difference().value().fold(Value::number, reason -> Value.BLANK),
                            Value.word(row.adjusted()
                                    .difference()
                                    .interval()
                                    .optional()
                                    .map(r -> span(digits, r))),
                            Value.word(row.responders().map(r -> ofSoMany(r.a()))),
                            Value.BLANK,
                            Value.word(row.responders().map(r -> ofSoMany(r.b()))),
                            Value.BLANK,
                            Value.word(row.responders().flatMap(r -> r.difference()
                                    .flatMap(d -> r.interval95().map(i -> fixed(1, d) + " (" + span(1, i) + ")"))))),
                    List.of(
                            book.styles().wrapped,
                            book.styles().plain,
                            book.styles().whole,
                            book.styles().whole,
                            digits == 2 ? book.styles().twoDecimals : book.styles().oneDecimal,
                            book.styles().plain,
                            digits == 2 ? book.styles().twoDecimals : book.styles().oneDecimal,
                            book.styles().right,
                            book.styles().right,
                            book.styles().plain,
                            book.styles().right,
                            book.styles().plain,
                            book.styles().plain));
        }
    }
}
