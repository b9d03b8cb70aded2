package lumbrical.workbook;

import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.GroupRow;
import lumbrical.cohort.ResponderRow;
import lumbrical.cohort.RowPlace;
import lumbrical.followup.ChangeRow;
import lumbrical.followup.FollowUpResult;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputColumn.Kind;
import lumbrical.output.Value;
import lumbrical.statistics.Quantiles;
import lumbrical.statistics.Summary;
import lumbrical.statistics.TInterval;
import org.apache.poi.ss.usermodel.CellStyle;

/** The lower part of the first sheet: scores and change by scale and visit, whose MCID, and how much hangs on it. */
final class OverviewDetails {
    /** What stands in a row of results: a group on a scale at a visit, and those who improved by the MCID used. */
    record Result(GroupRow row, Optional<ResponderRow> used) {
        Scale scale() {
            return row.at().scale();
        }

        Optional<Quantiles> scores() {
            return row.scores().optional().map(Summary::quantiles);
        }

        /** An interval in the scale's decimals. */
        Value span(Optional<Range> range) {
            return Value.word(range.map(r -> CohortPage.span(CohortPage.decimals(scale()), r)));
        }

        Value number(Optional<Double> value) {
            return value.map(Value::number).orElse(Value.BLANK);
        }
    }

    /** Scores and change by condition, scale and visit. */
    static final List<OutputColumn<Result>> RESULTS = List.of(
            text(
                    "condition",
                    "Label of the condition, that none is given, or all together",
                    r -> Value.text(condition(r.row().at().group().label()))),
            text(
                    "scale",
                    "Instrument and scale id",
                    r -> Value.word(
                            r.row().at().instrument().id() + " " + r.scale().id())),
            text(
                    "visit",
                    "Visit of the schedule",
                    r -> r.row().at().visit().map(v -> Value.text(v.name())).orElse(Value.BLANK)),
            count(
                    "scores",
                    "Scores that count at the visit",
                    r -> Value.number(r.row().size().scored())),
            count("median", "Their median", r -> r.number(r.scores().map(Quantiles::median))),
            count(
                    "quartiles",
                    "A quarter of the scores lies below the first, a quarter above the second; in between, interpolated",
                    r -> r.span(r.scores().map(q -> new Range(q.lowerQuartile(), q.upperQuartile())))),
            count("with baseline", "How many of them can be set against a baseline", r -> r.row()
                    .improvement()
                    .map(i -> Value.number(i.paired()))
                    .orElse(Value.BLANK)),
            count(
                    "mean improvement",
                    "Positive when better",
                    r -> r.number(r.row()
                            .improvement()
                            .flatMap(i -> i.values().optional())
                            .map(s -> s.quantiles().mean()))),
            count(
                    "95 % interval",
                    "Of the mean improvement; allows for patients with several of the episodes",
                    r -> r.span(r.row()
                            .improvement()
                            .flatMap(i -> i.mean().map(TInterval::interval).optional()))),
            count(
                    "improved by the MCID",
                    "Improved by the MCID or more, beyond measurement error or not, of those with both scores",
                    r -> Value.word(r.used().map(u -> CohortPage.ofSoMany(u.improved())))),
            count(
                    "percent",
                    "Of those with both scores",
                    r -> r.number(r.used().flatMap(u -> u.improved().percent()))),
            count(
                    "95 % interval ",
                    "Of the percentage (Wilson); takes episodes as independent",
                    r -> Value.word(
                            r.used().flatMap(u -> u.improved().interval95()).map(i -> CohortPage.span(1, i)))),
            count(
                    "worsened by it",
                    "Worsened by the MCID or more; the mirror is a convention of ours",
                    r -> Value.word(r.used()
                            .filter(u -> u.improved().of() > 0)
                            .map(u -> u.worsened() + " of " + u.improved().of()))),
            text(
                    "MCID used",
                    "Value and id; population and source above",
                    r -> Value.word(CohortPage.mcid(r.row(), r.used()))));

    private OverviewDetails() {}

    private static String condition(String label) {
        return label.equals(CohortGroup.BLANK) ? "no condition given" : label;
    }

    private static OutputColumn<Result> text(String name, String meaning, Function<Result, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.TEXT, of);
    }

    private static OutputColumn<Result> count(String name, String meaning, Function<Result, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.NUMBER, of);
    }

    /** Value, id and what makes it weaker than a published value of the hand. */
    static String brief(Threshold t) {
        return value(t) + " (" + t.id()
                + (t.provenance().published()
                        ? ""
                        : ", " + t.provenance().standing().code())
                + (t.otherPopulation() ? ", other population" : "") + ")";
    }

    /** The table by condition, scale and visit, whose headings every page from there on repeats. */
    static void results(Page page, Styles styles, CohortResult groups) {
        page.repeatedTable(RESULTS, results(groups), (column, result) -> style(styles, column, result));
    }

    /** The numbers of a column stand alike: counts whole, percentages with one decimal, scores with those of their scale. */
    private static CellStyle style(Styles styles, OutputColumn<Result> column, Result result) {
        if (column.kind() == Kind.TEXT) {
            return styles.plain;
        } else if (!(column.of().apply(result) instanceof Value.Number)) {
            return styles.right;
        }
        return switch (column.name()) {
            case "scores", "with baseline" -> styles.whole;
            case "percent" -> styles.oneDecimal;
            default -> CohortPage.decimals(result.scale()) == 2 ? styles.twoDecimals : styles.oneDecimal;
        };
    }

    /** Conditions first, all together last; rows with scores. */
    private static List<Result> results(CohortResult groups) {
        Map<RowPlace, ResponderRow> used = new HashMap<>();
        groups.responders().stream().filter(ResponderRow::used).forEach(r -> used.put(r.at(), r));
        return groups.standing().groups().stream()
                .filter(r -> r.size().scored() > 0)
                .sorted(Comparator.comparing(r -> r.at().group().equals(CohortGroup.ALL)))
                .map(r -> new Result(r, Optional.ofNullable(used.get(r.at()))))
                .toList();
    }

    private record OfScale(Instrument instrument, Scale scale, Set<Threshold> mcids) {}

    /** Whose MCID was used, by scale. */
    static void mcids(Page page, Styles styles, FollowUpResult clinic) {
        Map<String, OfScale> used = new LinkedHashMap<>();
        clinic.changes()
                .filter(ChangeRow::used)
                .forEach(row -> row.change().thresholds().mcid().ifPresent(mcid -> used.computeIfAbsent(
                                row.followUp().form().instrument().id() + " "
                                        + row.followUp().scale().id(),
                                k -> new OfScale(
                                        row.followUp().form().instrument(),
                                        row.followUp().scale(),
                                        new HashSet<>()))
                        .mcids()
                        .add(mcid)));
        page.section("Whose MCID was used (all published values: the sheet Thresholds)");
        int[] spans = {1, 1, 1, 2, 5, 4};
        page.texts(spans, List.of("instrument", "scale", "MCID", "method", "population", "source"), styles.header);
        if (used.isEmpty()) {
            page.values(List.of(Value.word("none")));
        }
        used.values().stream()
                .sorted(Comparator.comparing((OfScale e) -> e.instrument().id())
                        .thenComparingInt(e -> e.instrument().position(e.scale().id())))
                .forEach(e -> e.mcids().stream()
                        .sorted(Comparator.comparing(Threshold::id))
                        .forEach(t -> page.texts(
                                spans,
                                List.of(
                                        e.instrument().id().value(),
                                        e.scale().id().value(),
                                        value(t),
                                        t.method(),
                                        t.population() + marks(t),
                                        source(e.instrument(), t)))));
    }

    private static String value(Threshold t) {
        return t.value().isPresent() ? Numbers.format(t.value().getAsDouble()) : "";
    }

    private static String marks(Threshold t) {
        return (t.n().isPresent() ? "; n " + t.n().getAsInt() : "")
                + "; " + t.provenance().standing().code()
                + (t.otherPopulation() ? "; other population" : "");
    }

    private static String source(Instrument instrument, Threshold t) {
        return instrument
                .source(t.provenance().source())
                .map(Source::inOneLine)
                .orElse(t.provenance().source());
    }
}
