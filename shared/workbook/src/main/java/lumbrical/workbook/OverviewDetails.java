package lumbrical.workbook;

import java.util.Collections;
import java.util.Comparator;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import lumbrical.followup.Change;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Overview;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.output.Numbers;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputColumn.Kind;
import lumbrical.output.Value;

/** The lower part of the first sheet: scores and change by scale and visit, whose MCID, and how much hangs on it. */
final class OverviewDetails {
    /** Scores and change by scale and visit. */
    static final List<OutputColumn<Overview.Cell>> RESULTS = List.of(
            new OutputColumn<>(
                    "instrument",
                    "Instrument id",
                    Kind.TEXT,
                    c -> Value.word(c.instrument().id().value())),
            new OutputColumn<>(
                    "scale",
                    "Scale id",
                    Kind.TEXT,
                    c -> Value.word(c.scale().id().value())),
            new OutputColumn<>(
                    "visit",
                    "Visit of the schedule",
                    Kind.TEXT,
                    c -> Value.text(c.visit().name())),
            number(
                    "n",
                    "Scores that count at the visit",
                    c -> Value.number(c.scores().n())),
            number("mean", "Their mean", c -> Value.number(c.scores().mean())),
            number("median", "Their median", c -> Value.number(c.scores().median())),
            number(
                    "lower quartile",
                    "Quantiles interpolate between order statistics (type 7)",
                    c -> Value.number(c.scores().lowerQuartile())),
            number(
                    "upper quartile",
                    "Quantiles interpolate between order statistics (type 7)",
                    c -> Value.number(c.scores().upperQuartile())),
            number(
                    "with baseline",
                    "How many of them can be set against a baseline",
                    c -> followUp(c) ? Value.number(c.paired()) : Value.BLANK),
            number(
                    "improved by the MCID",
                    "Improved by the MCID or more, beyond measurement error or not",
                    c -> judged(c) ? Value.number(c.reachedMcid()) : Value.BLANK),
            number("percent of assessable", "Of the changes that have a verdict", OverviewSheet::percentReached),
            number(
                    "worsened by it",
                    "Worsened by the MCID or more; the mirror is a convention of ours",
                    c -> judged(c) ? Value.number(c.worsened()) : Value.BLANK),
            number(
                    "could not reach it",
                    "Baselines that leave less room than the MCID",
                    c -> judged(c) ? Value.number(c.couldNotReach()) : Value.BLANK),
            new OutputColumn<>(
                    "MCID used", "Value and id; population and source below", Kind.TEXT, c -> Value.word(used(c))));

    private OverviewDetails() {}

    private static OutputColumn<Overview.Cell> number(String name, String meaning, Function<Overview.Cell, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.NUMBER, of);
    }

    private static boolean followUp(Overview.Cell c) {
        return c.visit().role() != Visit.Role.BASELINE;
    }

    private static boolean judged(Overview.Cell c) {
        return followUp(c) && c.assessable() > 0;
    }

    private static String used(Overview.Cell c) {
        if (!followUp(c)) {
            return "";
        }
        return c.mcid().map(OverviewDetails::brief).orElse(judged(c) ? "several, by condition" : "none known");
    }

    /** Value, id and what makes it weaker than a published value of the hand. */
    static String brief(Threshold t) {
        return Numbers.format(t.value().orElseThrow()) + " (" + t.id()
                + (t.provenance().published()
                        ? ""
                        : ", " + t.provenance().standing().code())
                + (t.borrowed() ? ", borrowed" : "") + ")";
    }

    static void write(Page page, FollowUpResult clinic, Overview overview) {
        page.section("Scores and change by scale and visit (the sitting that counts at each visit)");
        page.table(RESULTS, overview.cells());
        mcids(page, clinic);
        sensitivity(page, overview);
    }

    private record OfScale(Instrument instrument, Set<Threshold> mcids) {}

    private static void mcids(Page page, FollowUpResult clinic) {
        Map<Scale, OfScale> used = new IdentityHashMap<>();
        for (Change change : clinic.changes()) {
            if (change.used() && change.mcid().isPresent()) {
                used.computeIfAbsent(
                                change.followUp().scale(),
                                s -> new OfScale(
                                        change.followUp().form().instrument(),
                                        Collections.newSetFromMap(new IdentityHashMap<>())))
                        .mcids()
                        .add(change.mcid().get());
            }
        }
        page.section("Whose MCID was used (all published values: the sheet Thresholds)");
        int[] spans = {1, 1, 1, 2, 5, 4};
        page.texts(spans, List.of("instrument", "scale", "MCID", "method", "population", "source"));
        if (used.isEmpty()) {
            page.values(List.of(Value.word("none")));
        }
        used.entrySet().stream()
                .sorted(Comparator.comparing((Map.Entry<Scale, OfScale> e) ->
                                e.getValue().instrument().id())
                        .thenComparingInt(
                                e -> e.getValue().instrument().scales().indexOf(e.getKey())))
                .forEach(e -> e.getValue().mcids().stream()
                        .sorted(Comparator.comparing(Threshold::id))
                        .forEach(t -> page.texts(
                                spans,
                                List.of(
                                        e.getValue().instrument().id().value(),
                                        e.getKey().id().value(),
                                        Numbers.format(t.value().orElseThrow()),
                                        t.method(),
                                        t.population() + marks(t),
                                        source(e.getValue().instrument(), t)))));
    }

    private static String marks(Threshold t) {
        return (t.n().isPresent() ? "; n " + t.n().getAsInt() : "")
                + "; " + t.provenance().standing().code()
                + (t.borrowed() ? "; borrowed population" : "");
    }

    private static String source(Instrument instrument, Threshold t) {
        return instrument
                .source(t.provenance().source())
                .map(Source::inOneLine)
                .orElse(t.provenance().source());
    }

    private static void sensitivity(Page page, Overview overview) {
        page.section(
                "How much the share improved depends on the MCID (published values that hold for every condition)");
        page.headings(
                3,
                List.of(
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
                        "percent"));
        if (overview.sensitivities().isEmpty()) {
            page.values(List.of(Value.word("none")));
        }
        for (Overview.Sensitivity s : overview.sensitivities()) {
            Optional<Overview.Cell> cell = overview.cells().stream()
                    .filter(c -> c.scale() == s.scale() && c.visit() == s.visit() && c.assessable() > 0)
                    .findFirst();
            page.values(List.of(
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
                    cell.map(OverviewSheet::percentReached).orElse(Value.BLANK),
                    Value.number(s.highest()),
                    Value.number(s.atHighest()),
                    Value.number(100.0 * s.atHighest() / s.paired())));
        }
    }
}
