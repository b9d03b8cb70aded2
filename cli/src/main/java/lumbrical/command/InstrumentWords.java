package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.catalogue.Summary;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Licence;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.number.Numbers;

/** A definition in words. */
final class InstrumentWords {
    private InstrumentWords() {}

    /** An instrument in a list. */
    static List<String> inShort(Summary summary) {
        return List.of(
                summary.id() + "  " + summary.title()
                        + summary.variantOf()
                                .map(v -> "  [another coding of " + v + "]")
                                .orElse(""),
                "    scales: " + joined(summary.scales(), "none, read item by item"),
                "    licence: " + summary.terms() + ", " + summary.holder(),
                "    standing of rules: " + joined(summary.standings(), "no scale"));
    }

    private static String joined(List<String> words, String ifNone) {
        return words.isEmpty() ? ifNone : String.join(", ", words);
    }

    static List<String> inFull(Instrument instrument) {
        List<String> lines = new ArrayList<>();
        Instrument.Facts facts = instrument.facts();
        lines.add(instrument.definition() + "  " + facts.title());
        lines.add("  measures: " + facts.measures());
        facts.variantOf().ifPresent(v -> lines.add("  another coding of " + v + "; never mix the two in one course"));
        lines.add("  asked about: " + facts.answeredFor().code());
        lines.add("  recall period: " + facts.recall().note()
                + (facts.recall().days().isPresent()
                        ? " (" + facts.recall().days().getAsInt() + " days)"
                        : "") + " "
                + cite(instrument, facts.recall().provenance()));
        licence(instrument, facts.licence(), lines);
        lines.add("  change: " + facts.change().kind().code()
                + facts.change().note().map(n -> "; " + n).orElse(""));
        facts.notes().forEach(n -> lines.add("  note: " + n));
        lines.add("response codes:");
        facts.responseSets().forEach(s -> lines.add("  " + responses(s) + " " + cite(instrument, s.provenance())));
        lines.add("items (column: topic, our own label):");
        instrument.columns().forEach(c -> lines.add("  " + column(c)));
        lines.add("scales:");
        instrument.scales().forEach(s -> scale(instrument, s, lines));
        lines.add("thresholds: " + instrument.thresholds().size() + "; --list-thresholds lists them");
        lines.add("sources:");
        facts.sources().forEach(s -> lines.add("  " + s.key() + ": " + s.inOneLine()));
        return lines;
    }

    private static void licence(Instrument instrument, Licence licence, List<String> lines) {
        lines.add("  licence: " + licence.terms()
                + licence.spdx().map(s -> " (" + s + ")").orElse("") + "; holder "
                + licence.holder() + "; granted by " + licence.grantedBy() + " "
                + cite(instrument, licence.provenance()));
        licence.note().ifPresent(n -> lines.add("    " + n));
        lines.add("    wording of items: "
                + (licence.wordingIncluded() ? "included, ours" : "not included; use the licensed form"));
    }

    private static String responses(ResponseSet set) {
        String allowed = set instanceof ResponseSet.Codes codes
                ? codes.codes().stream().map(Numbers::format).collect(Collectors.joining(", "))
                : Numbers.format(set.low()) + " to " + Numbers.format(set.high());
        String labels = set.labels().entrySet().stream()
                .map(e -> Numbers.format(e.getKey()) + " = " + e.getValue())
                .collect(Collectors.joining(", "));
        return set.name() + ": " + allowed + (labels.isEmpty() ? "" : " (" + labels + ")");
    }

    private static String column(Column column) {
        Item item = column.item();
        return column.name() + ": " + item.topic() + ", " + item.responses().name() + ", "
                + item.better().code()
                + " is better"
                + item.grip().map(g -> ", grip " + g.code()).orElse("")
                + (item.topicStanding().equals("published") ? "" : ", topic " + item.topicStanding())
                + item.note().map(n -> ". " + n).orElse("")
                + item.text().map(t -> " \"" + t + "\"").orElse("");
    }

    private static void scale(Instrument instrument, Scale scale, List<String> lines) {
        lines.add("  " + scale.id() + ": " + scale.title() + ", "
                + Numbers.format(scale.range().low()) + " to "
                + Numbers.format(scale.range().high()) + " (" + scale.metric().code() + "), "
                + scale.better().code() + " is better"
                + (scale.optional() ? ", optional module" : "")
                + (scale.reported() ? "" : ", only a step of another scale"));
        if (scale.composition() instanceof Composition.FromItems made) {
            lines.add("    items: "
                    + made.items().stream()
                            .map(i -> i.item().id() + (i.reversed() ? " reversed" : ""))
                            .collect(Collectors.joining(", ")));
            lines.add("    formula: " + formula(made.rule()) + " "
                    + cite(instrument, made.rule().provenance()));
            made.skip()
                    .ifPresent(s -> lines.add("    skip: when " + s.item().id() + " is " + Numbers.format(s.code())
                            + " the others are not asked and the score is " + Numbers.format(s.score()) + " "
                            + cite(instrument, s.provenance())));
            lines.add("    missing items: " + missing(made) + " "
                    + cite(instrument, made.missing().provenance())
                    + made.missing().note().map(n -> " " + n).orElse(""));
        } else if (scale.composition() instanceof Composition.FromParts made) {
            String parts = made.parts().stream()
                    .map(p -> p.scale() + (p.reversed() ? " reversed" : ""))
                    .collect(Collectors.joining(", "));
            lines.add("    formula: " + (made.rule() instanceof PartRule.MeanOfParts ? "mean" : "sum") + " of " + parts
                    + "; every part is needed " + cite(instrument, made.rule().provenance()));
        }
        scale.noVerdictBefore().ifPresent(n -> lines.add("    no verdict before day " + n.day() + ": " + n.reason()));
        scale.defaults()
                .ifPresent(d ->
                        lines.add("    thresholds by default: MCID " + d.mcid().orElse("none") + ", MDC "
                                + d.mdc().orElse("none") + ", PASS " + d.pass().orElse("none") + ". " + d.reason()));
    }

    private static String formula(ItemRule rule) {
        if (rule instanceof ItemRule.Sum r) {
            return r.dividedBy() == 1 ? "sum" : "sum / " + Numbers.format(r.dividedBy());
        } else if (rule instanceof ItemRule.Mean) {
            return "mean";
        } else if (rule instanceof ItemRule.RescaledMean r) {
            return "(mean - " + Numbers.format(r.minus()) + ") x " + Numbers.format(r.times());
        } else if (rule instanceof ItemRule.RescaledSum r) {
            return "100 x (sum - " + Numbers.format(r.zeroAt()) + ") / (" + Numbers.format(r.hundredAt()) + " - "
                    + Numbers.format(r.zeroAt()) + ")";
        }
        return "conversion table of the raw sum, with standard errors";
    }

    private static String missing(Composition.FromItems made) {
        int k = made.items().size();
        if (made.missing() instanceof MissingRule.MeanOfAnswered m) {
            return "at least " + m.minimum().required(k) + " of " + k + "; the mean of the answered stands in";
        } else if (made.missing() instanceof MissingRule.RatedOnly m) {
            return "items not rated do not count; at least " + m.minimum().required(k);
        }
        return "none allowed";
    }

    private static String cite(Instrument instrument, Provenance provenance) {
        return "[" + provenance.standing().code()
                + instrument
                        .source(provenance.source())
                        .map(Source::key)
                        .map(k -> ", " + k)
                        .orElse("") + "]";
    }

    /** Thresholds as a table that a surgeon can argue about. */
    static List<String> thresholdTable(Instrument instrument) {
        List<String> lines = new ArrayList<>();
        lines.add(
                "scale | kind | value | interval | population | n | method | follow-up | standing | use | id | source");
        for (Threshold t : instrument.thresholds()) {
            lines.add(String.join(
                    " | ",
                    t.scale().value(),
                    t.kind().code() + (t.level().isPresent() ? t.level().getAsInt() : ""),
                    value(t),
                    interval(t),
                    t.population()
                            + (t.otherPopulation() ? " (borrowed: " + t.group().code() + ")" : "")
                            + (t.conditions().isEmpty() ? "" : " (only for " + String.join(", ", t.conditions()) + ")"),
                    t.n().isPresent() ? String.valueOf(t.n().getAsInt()) : "",
                    t.method(),
                    t.followUp().orElse(""),
                    t.provenance().standing().code(),
                    use(instrument, t),
                    t.id(),
                    instrument
                                    .source(t.provenance().source())
                                    .map(Source::inOneLine)
                                    .orElse(t.provenance().source())
                            + t.note().map(n -> ". " + n).orElse("")));
        }
        lines.add("Thresholds hold for the population they came from.");
        return lines;
    }

    private static String value(Threshold t) {
        if (t.value().isPresent()) {
            return Numbers.format(t.value().getAsDouble()) + " " + t.metric().code();
        }
        return t.ends()
                .map(e -> Numbers.format(e.low()) + " to " + Numbers.format(e.high()) + " "
                        + t.metric().code())
                .orElse("no value");
    }

    private static String interval(Threshold t) {
        Optional<String> ci = t.interval()
                .map(i -> i.percent() + " % " + Numbers.format(i.low()) + " to " + Numbers.format(i.high()));
        return ci.orElse("") + (t.sd().isPresent() ? "SD " + Numbers.format(t.sd().getAsDouble()) : "");
    }

    private static String use(Instrument instrument, Threshold t) {
        if (!t.selectable()) {
            return "never used: " + t.whyNotSelectable().orElse("");
        }
        boolean isDefault = instrument.scales().stream()
                .flatMap(s -> s.defaults().stream())
                .anyMatch(d -> List.of(d.mcid(), d.mdc(), d.pass()).contains(Optional.of(t.id())));
        return isDefault ? "default" : "offered";
    }
}
