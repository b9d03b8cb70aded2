package lumbrical.command;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.catalogue.Summary;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.Licence;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.RuleWords;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.instrument.ThresholdWords;
import lumbrical.number.Numbers;
import lumbrical.threshold.PublishedMcids;

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
                "    how sure its rules are: " + joined(summary.standings(), "no scale"));
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
        String labels = RuleWords.labels(set);
        return set.name() + ": " + RuleWords.allowed(set) + (labels.isEmpty() ? "" : " (" + labels + ")");
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
        scale.composition()
                .fold(made -> fromItems(instrument, made), made -> List.of(fromParts(instrument, made)))
                .forEach(lines::add);
        lines.add("    standing of a complete score: "
                + ScoreStanding.of(instrument, scale, false).code() + "; with unanswered items: "
                + ScoreStanding.of(instrument, scale, true).code());
        scale.noVerdictBefore().ifPresent(n -> lines.add("    no verdict before day " + n.day() + ": " + n.reason()));
        scale.defaults().ifPresent(d -> lines.add("    thresholds by default: " + defaults(d)));
        scale.conditionDefaults()
                .forEach(d -> lines.add("    thresholds for " + d.condition() + ": " + defaults(d.defaults())));
    }

    private static String defaults(Scale.Defaults d) {
        return "MCID " + d.mcid().orElse("none") + ", MDC " + d.mdc().orElse("none") + ", PASS "
                + d.pass().orElse("none") + ". " + d.reason();
    }

    private static List<String> fromItems(Instrument instrument, Composition.FromItems made) {
        List<String> lines = new ArrayList<>();
        lines.add("    items: "
                + made.items().stream()
                        .map(i -> i.item().id() + (i.reversed() ? " reversed" : ""))
                        .collect(Collectors.joining(", ")));
        lines.add("    formula: " + RuleWords.formula(made) + " "
                + cite(instrument, made.rule().provenance()));
        made.skip()
                .ifPresent(s -> lines.add("    skip: when " + s.item().id() + " is " + Numbers.format(s.code())
                        + " the others are not asked and the score is " + Numbers.format(s.score()) + " "
                        + cite(instrument, s.provenance())));
        lines.add("    missing items: " + RuleWords.missing(made) + " "
                + cite(instrument, made.missing().provenance())
                + made.missing().note().map(n -> " " + n).orElse(""));
        return lines;
    }

    private static String fromParts(Instrument instrument, Composition.FromParts made) {
        return "    formula: " + RuleWords.formula(made) + "; " + RuleWords.missing(made) + " "
                + cite(instrument, made.rule().provenance());
    }

    private static String cite(Instrument instrument, Provenance provenance) {
        return "[" + provenance.standing().code()
                + instrument
                        .source(provenance.source())
                        .map(Source::key)
                        .map(k -> ", " + k)
                        .orElse("") + "]";
    }

    /** Thresholds as a table that a surgeon can argue about, with what stands for each study, so that anyone can recount. */
    static List<String> thresholdTable(Instrument instrument, ConditionVocabulary vocabulary) {
        List<String> lines = new ArrayList<>();
        lines.add(
                "scale | kind | value | interval | population | treatment | baseline | n | method | follow-up | standing | study |"
                        + " stands for its study | use | id | source");
        for (Threshold t : instrument.thresholds()) {
            lines.add(String.join(
                    " | ",
                    t.scale().value(),
                    t.kind().code() + (t.level().isPresent() ? t.level().getAsInt() : ""),
                    ThresholdWords.value(t),
                    ThresholdWords.interval(t),
                    t.population()
                            + (t.otherPopulation()
                                    ? " (other population: " + t.group().code() + ")"
                                    : "")
                            + (t.conditions().isEmpty() ? "" : " (only for " + String.join(", ", t.conditions()) + ")"),
                    t.treatment().orElse(""),
                    t.baseline().map(Threshold.Baseline::code).orElse(""),
                    t.n().isPresent() ? String.valueOf(t.n().getAsInt()) : "",
                    t.method(),
                    t.followUp().orElse(""),
                    t.provenance().standing().code(),
                    t.study(),
                    representative(instrument, t, vocabulary),
                    ThresholdWords.use(instrument, t),
                    t.id(),
                    instrument
                                    .source(t.provenance().source())
                                    .map(Source::inOneLine)
                                    .orElse(t.provenance().source())
                            + t.note().map(n -> ". " + n).orElse("")));
        }
        lines.add(
                "Of a study several values may count: what stands for it is the default where that is the study's, else the one"
                        + " it recommends, else the median. Thresholds hold for the population they came from.");
        return lines;
    }

    /** What stands for the study of an MCID: the value and why, for episodes of any condition or of those it is bound to. */
    private static String representative(Instrument instrument, Threshold t, ConditionVocabulary vocabulary) {
        Optional<Scale> scale = instrument.scale(t.scale());
        if (scale.isEmpty() || !PublishedMcids.counts(t, scale.get())) {
            return "";
        }
        List<EpisodeCondition> conditions = t.conditions().isEmpty()
                ? List.of(EpisodeCondition.NONE)
                : t.conditions().stream()
                        .map(c -> vocabulary.resolve(Optional.of(c)))
                        .toList();
        return conditions.stream()
                .map(c -> PublishedMcids.representatives(instrument, scale.get(), c).stream()
                        .filter(r -> r.of().contains(t))
                        .map(r -> Numbers.format(r.value()) + " (" + r.basis().code() + ")"
                                + c.label().map(l -> " for " + l).orElse(""))
                        .findFirst()
                        .orElse(""))
                .filter(text -> !text.isEmpty())
                .collect(Collectors.joining("; "));
    }
}
