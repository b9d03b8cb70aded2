package lumbrical.workbook;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.stream.Collectors;
import lumbrical.columns.ProblemColumns;
import lumbrical.columns.ScoreColumns;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.Visit;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputColumn.Kind;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.threshold.ThresholdChoice;

/** The sheets that say where numbers come from: thresholds, columns, provenance. */
final class ReferenceTables {
    /** A threshold and how it is used. */
    record ThresholdRow(Instrument instrument, Threshold threshold, String use) {}

    /** A column of another sheet. */
    record ColumnRow(String sheet, String column, String kind, String meaning) {}

    /** A fact about this workbook. */
    record Fact(String what, String value) {}

    static final OutputTable<ThresholdRow> THRESHOLDS = new OutputTable<>(
            "Thresholds",
            List.of(
                    text(
                            "instrument",
                            "Instrument id",
                            r -> Value.word(r.instrument().id().value())),
                    text(
                            "scale",
                            "Scale id",
                            r -> Value.word(r.threshold().scale().value())),
                    text(
                            "kind",
                            "mcid, mdc, sem, pass, norm, or a figure of reliability or responsiveness",
                            r -> Value.word(r.threshold().kind().code())),
                    number(
                            "value",
                            "In the scale's units",
                            r -> Value.number(r.threshold().value())),
                    text(
                            "span",
                            "Where the source prints a span by method",
                            r -> Value.word(r.threshold().ends().map(ReferenceTables::span))),
                    number("interval_low", "Lower end of the confidence interval", r -> r.threshold()
                            .interval()
                            .map(i -> Value.number(i.low()))
                            .orElse(Value.BLANK)),
                    number("interval_high", "Upper end of the confidence interval", r -> r.threshold()
                            .interval()
                            .map(i -> Value.number(i.high()))
                            .orElse(Value.BLANK)),
                    number(
                            "level",
                            "90 or 95 for an MDC",
                            r -> Value.number(r.threshold().level())),
                    text(
                            "metric",
                            "Unit family",
                            r -> Value.word(r.threshold().metric().code())),
                    text(
                            "use",
                            "used in this workbook, default, can be chosen, or why never used",
                            r -> Value.word(r.use())),
                    text(
                            "standing",
                            "How sure the value is",
                            r -> Value.word(
                                    r.threshold().provenance().standing().code())),
                    text(
                            "other_population",
                            "yes if the population is not of hand, wrist or upper limb in general",
                            r -> Value.word(r.threshold().otherPopulation() ? "yes" : "no")),
                    text(
                            "population",
                            "Who was studied",
                            r -> Value.word(r.threshold().population())),
                    number(
                            "n",
                            "Number of people",
                            r -> Value.number(r.threshold().n())),
                    text(
                            "method",
                            "How it was found",
                            r -> Value.word(r.threshold().method())),
                    text("follow_up", "Interval", r -> Value.word(r.threshold().followUp())),
                    text(
                            "only_for",
                            "Conditions it is bound to",
                            r -> Value.word(String.join(", ", r.threshold().conditions()))),
                    text(
                            "threshold_id",
                            "Its id, for a choice of thresholds",
                            r -> Value.word(r.threshold().id())),
                    text("source", "Where it was found", r -> Value.word(source(r.instrument(), r.threshold()))),
                    text(
                            "note",
                            "What else to know",
                            r -> Value.word(r.threshold().note()))));

    static final OutputTable<ColumnRow> COLUMNS = new OutputTable<>(
            "Columns",
            List.of(
                    text("sheet", "Sheet or CSV table", r -> Value.word(r.sheet())),
                    text("column", "Heading", r -> Value.word(r.column())),
                    text("kind", "text, number or date", r -> Value.word(r.kind())),
                    text("meaning", "What it holds", r -> Value.word(r.meaning()))));

    static final OutputTable<Fact> PROVENANCE = new OutputTable<>(
            "Provenance",
            List.of(
                    text("what", "What is stated", r -> Value.word(r.what())),
                    text("statement", "The statement", r -> Value.text(r.value()))));

    private static final Layout THRESHOLDS_LAYOUT = Layout.of(3)
            .pages(2)
            .width(Map.of(
                    "scale",
                    19,
                    "span",
                    14,
                    "use",
                    34,
                    "standing",
                    13,
                    "population",
                    34,
                    "method",
                    26,
                    "follow_up",
                    16,
                    "only_for",
                    18,
                    "threshold_id",
                    26,
                    "source",
                    48))
            .width(Map.of("note", 40))
            .wrap("use", "population", "method", "follow_up", "only_for", "threshold_id", "source", "note");
    private static final Layout COLUMNS_LAYOUT = Layout.of(2)
            .width(Map.of("sheet", 16, "column", 30, "meaning", 100))
            .wrap("meaning");
    private static final Layout PROVENANCE_LAYOUT =
            Layout.of(1).width(Map.of("what", 16, "statement", 120)).wrap("statement");

    private ReferenceTables() {}

    static void write(
            StreamingWorkbook book,
            FollowUpResult clinic,
            List<Instrument> instruments,
            ThresholdChoice choice,
            RunRecord provenance) {
        TableSheet.write(book, THRESHOLDS, THRESHOLDS_LAYOUT, thresholds(instruments, choice));
        TableSheet.write(book, COLUMNS, COLUMNS_LAYOUT, columns(clinic));
        TableSheet.write(book, PROVENANCE, PROVENANCE_LAYOUT, provenance(clinic, instruments, provenance));
    }

    private static <R> OutputColumn<R> text(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.TEXT, of);
    }

    private static <R> OutputColumn<R> number(String name, String meaning, Function<R, Value> of) {
        return new OutputColumn<>(name, meaning, Kind.NUMBER, of);
    }

    private static String span(Range ends) {
        return Numbers.format(ends.low()) + " to " + Numbers.format(ends.high());
    }

    private static String source(Instrument instrument, Threshold threshold) {
        return instrument
                .source(threshold.provenance().source())
                .map(Source::inOneLine)
                .orElse(threshold.provenance().source());
    }

    static List<ThresholdRow> thresholds(List<Instrument> instruments, ThresholdChoice choice) {
        List<ThresholdRow> rows = new ArrayList<>();
        for (Instrument instrument : instruments) {
            instrument.thresholds().forEach(t -> rows.add(new ThresholdRow(instrument, t, use(instrument, t, choice))));
        }
        return rows;
    }

    private static String use(Instrument instrument, Threshold t, ThresholdChoice choice) {
        if (!t.selectable()) {
            return "never used: " + t.whyNotSelectable().orElse("");
        }
        if (choice.chosen().contains(t)) {
            return "used, your choice";
        }
        List<String> uses = new ArrayList<>();
        instrument.scale(t.scale()).ifPresent(scale -> {
            scale.defaults().filter(d -> names(d, t)).ifPresent(d -> uses.add("default: " + d.reason()));
            scale.conditionDefaults().stream()
                    .filter(d -> names(d.defaults(), t))
                    .forEach(d -> uses.add(
                            "default for " + d.condition() + ": " + d.defaults().reason()));
        });
        return uses.isEmpty() ? "can be chosen" : String.join("\n", uses);
    }

    private static boolean names(Scale.Defaults defaults, Threshold t) {
        return List.of(defaults.mcid(), defaults.mdc(), defaults.pass()).contains(Optional.of(t.id()));
    }

    static List<ColumnRow> columns(FollowUpResult clinic) {
        List<ColumnRow> rows = new ArrayList<>();
        add(rows, "Overview", OverviewDetails.RESULTS);
        add(rows, TrajectorySheet.NAME, TrajectorySheet.columns(clinic));
        for (OutputTable<?> table : List.of(
                ClinicWorkbook.CHANGES,
                ScoreColumns.TABLE,
                GripSheet.TABLE,
                FollowUpSheet.TABLE,
                ProblemColumns.TABLE,
                THRESHOLDS,
                PROVENANCE)) {
            add(rows, table.name(), table.columns());
        }
        rows.add(new ColumnRow("Grip tasks", "(whole sheet)", "text", "Descriptive, not a validated scale, no MCID"));
        return rows;
    }

    private static void add(List<ColumnRow> rows, String sheet, List<? extends OutputColumn<?>> columns) {
        for (OutputColumn<?> column : columns) {
            rows.add(new ColumnRow(sheet, column.name(), kind(column.kind()), column.meaning()));
        }
    }

    private static String kind(Kind kind) {
        return switch (kind) {
            case TEXT -> "text";
            case NUMBER -> "number";
            case COUNT -> "whole number";
            case DATE -> "date";
        };
    }

    static List<Fact> provenance(FollowUpResult clinic, List<Instrument> instruments, RunRecord provenance) {
        List<Fact> facts = new ArrayList<>();
        facts.add(new Fact("program", provenance.program()));
        facts.add(new Fact("as of", clinic.asOf().toString()));
        facts.add(
                new Fact("options", provenance.options().isEmpty() ? "none" : String.join(" ", provenance.options())));
        provenance.files().forEach(f -> facts.add(new Fact("file read", f.name() + "  SHA-256 " + f.sha256())));
        facts.add(new Fact("rows", provenance.rows()));
        for (Visit v : clinic.schedule().visits()) {
            facts.add(new Fact(
                    "visit", v.name() + ": day " + v.fromDay() + " to " + v.toDay() + ", target " + v.targetDay()));
        }
        instruments.forEach(i -> addInstrument(i, facts));
        ClinicWorkbook.CAUTIONS.forEach(c -> facts.add(new Fact("caution", c)));
        return facts;
    }

    private static void addInstrument(Instrument i, List<Fact> facts) {
        facts.add(new Fact("instrument", i.definition() + ", " + i.facts().title()));
        facts.add(new Fact(
                "  licence",
                i.facts().licence().terms() + "; " + i.facts().licence().holder()));
        Optional.of(methods(i)).filter(m -> !m.isEmpty()).ifPresent(m -> facts.add(new Fact("  methods", m)));
        i.facts().notes().forEach(n -> facts.add(new Fact("  note", n)));
    }

    /** One sentence for each scale, as a methods section needs it. */
    private static String methods(Instrument i) {
        return i.scales().stream()
                .filter(Scale::reported)
                .map(s -> s.id() + ": " + content(s) + ", recall "
                        + i.facts().recall().note() + ", "
                        + Numbers.format(s.range().low()) + " to "
                        + Numbers.format(s.range().high()) + ", "
                        + s.better().code() + " is better")
                .collect(Collectors.joining("; "));
    }

    private static String content(Scale scale) {
        return scale.composition().fold(ReferenceTables::content, ReferenceTables::content);
    }

    private static String content(Composition.FromItems made) {
        int k = made.items().size();
        String missing = made.missing().fold(new MissingRule.Kinds<>() {
            @Override
            public String noneAllowed(MissingRule.NoneAllowed rule) {
                return "no missing item allowed";
            }

            @Override
            public String meanOfAnswered(MissingRule.MeanOfAnswered rule) {
                return "scored with " + rule.minimum().required(k) + " or more answered";
            }

            @Override
            public String ratedOnly(MissingRule.RatedOnly rule) {
                return "items rated only";
            }
        });
        return k + (k == 1 ? " item" : " items") + ", " + missing + " (rule "
                + made.missing().provenance().standing().code() + ", formula "
                + made.rule().provenance().standing().code() + ", codes "
                + made.items().stream()
                        .map(s -> s.item().responses().provenance().standing().code())
                        .distinct()
                        .collect(Collectors.joining("/"))
                + ")";
    }

    private static String content(Composition.FromParts parts) {
        return "made of " + parts.parts().stream().map(p -> p.scale().value()).collect(Collectors.joining(", "))
                + " (formula " + parts.rule().provenance().standing().code() + ")";
    }
}
