package lumbrical.site;

import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.RuleWords;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScoreStanding;
import lumbrical.instrument.Source;
import lumbrical.instrument.Threshold;
import lumbrical.instrument.ThresholdWords;
import lumbrical.number.Numbers;
import lumbrical.verification.StatedRule;

/** What the page of an instrument shows. */
record InstrumentView(Instrument instrument, List<StatedRule> rules, ConditionVocabulary conditions) {
    static InstrumentView of(Instrument instrument, ConditionVocabulary conditions) {
        return new InstrumentView(instrument, StatedRule.of(instrument), conditions);
    }

    String id() {
        return instrument.id().value();
    }

    String title() {
        return instrument.facts().title();
    }

    /** For example {@code published: 9, from-memory: 2}. */
    String howSure() {
        return StatedRule.byStanding(rules).entrySet().stream()
                .map(e -> e.getKey().code() + ": " + e.getValue())
                .collect(Collectors.joining(", "));
    }

    List<ResponseSet> responseSets() {
        return instrument.facts().responseSets();
    }

    String range(Scale scale) {
        return Numbers.format(scale.range().low()) + " to "
                + Numbers.format(scale.range().high());
    }

    String standing(Scale scale) {
        return "complete: " + ScoreStanding.of(instrument, scale, false).code() + "; with unanswered items: "
                + ScoreStanding.of(instrument, scale, true).code();
    }

    String formula(Scale scale) {
        return RuleWords.formula(scale.composition());
    }

    String missing(Scale scale) {
        return RuleWords.missing(scale.composition())
                + scale.composition()
                        .fromItems()
                        .flatMap(made -> made.missing().note())
                        .map(n -> ". " + n)
                        .orElse("");
    }

    String items(Scale scale) {
        return scale.composition()
                .fromItems()
                .map(made -> made.items().stream()
                        .map(i -> i.item().id() + (i.reversed() ? " reversed" : ""))
                        .collect(Collectors.joining(", ")))
                .orElse("other scales");
    }

    Optional<String> skip(Scale scale) {
        return scale.composition()
                .fromItems()
                .flatMap(made -> made.skip())
                .map(s -> "When item " + s.item().id() + " is " + Numbers.format(s.code())
                        + " the others are not asked and the score is " + Numbers.format(s.score()) + ".");
    }

    String conditionLabel(String id) {
        return conditions.resolve(Optional.of(id)).label().orElse(id);
    }

    String kind(Threshold t) {
        return t.kind().code() + (t.level().isPresent() ? " " + t.level().getAsInt() + " %" : "");
    }

    String value(Threshold t) {
        String interval = ThresholdWords.interval(t);
        return ThresholdWords.value(t) + (interval.isEmpty() ? "" : " (" + interval + ")");
    }

    String population(Threshold t) {
        return t.population()
                + (t.otherPopulation() ? " (other population: " + t.group().code() + ", never used)" : "")
                + (t.conditions().isEmpty()
                        ? ""
                        : " (only for "
                                + t.conditions().stream()
                                        .map(this::conditionLabel)
                                        .collect(Collectors.joining(", "))
                                + ")");
    }

    String design(Threshold t) {
        return t.method()
                + (t.n().isPresent() ? ", n " + t.n().getAsInt() : "")
                + t.treatment().map(w -> ", " + w).orElse("")
                + t.baseline().map(b -> ", baseline " + b.words()).orElse("")
                + t.followUp().map(f -> ", follow-up " + f).orElse("");
    }

    String use(Threshold t) {
        return ThresholdWords.use(instrument, t);
    }

    String source(Threshold t) {
        return t.provenance().standing().code() + "; "
                + instrument
                        .source(t.provenance().source())
                        .map(Source::inOneLine)
                        .orElse("no source")
                + t.note().map(n -> ". " + n).orElse("");
    }
}
