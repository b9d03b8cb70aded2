package lumbrical.verification;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Collectors;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Source;
import lumbrical.instrument.Standing;

/**
 * Something a score rests on, and who says so.
 *
 * @param scale the scale, or {@code codes NAME} for a set of codes
 * @param what formula, missing-item rule, skip or codes
 * @param standing how sure it is
 * @param source the source in one line; {@code ours} or {@code from-memory} where there is none
 */
public record StatedRule(String scale, String what, Standing standing, String source) {
    /** The rules of an instrument: those of each scale in its order, then the sets of codes that its items use. */
    public static List<StatedRule> of(Instrument instrument) {
        List<StatedRule> rules = new ArrayList<>();
        for (Scale scale : instrument.scales()) {
            String id = scale.id().value();
            rules.addAll(scale.composition()
                    .fold(
                            made -> ofItems(instrument, id, made),
                            parts -> List.of(
                                    rule(instrument, id, "formula", parts.rule().provenance()))));
        }
        instrument.facts().bothHands().ifPresent(p -> rules.add(rule(instrument, "both", "average of the hands", p)));
        instrument.columns().stream()
                .map(column -> column.item().responses())
                .distinct()
                .forEach(set -> rules.add(rule(instrument, "codes " + set.name(), "codes", set.provenance())));
        return List.copyOf(rules);
    }

    private static List<StatedRule> ofItems(Instrument instrument, String scale, Composition.FromItems made) {
        List<StatedRule> rules = new ArrayList<>();
        rules.add(rule(instrument, scale, "formula", made.rule().provenance()));
        rules.add(rule(instrument, scale, "missing-item rule", made.missing().provenance()));
        made.skip().ifPresent(skip -> rules.add(rule(instrument, scale, "skip", skip.provenance())));
        return rules;
    }

    private static StatedRule rule(Instrument instrument, String scale, String what, Provenance provenance) {
        return new StatedRule(
                scale,
                what,
                provenance.standing(),
                instrument.source(provenance.source()).map(Source::inOneLine).orElse(provenance.source()));
    }

    /** How many of the rules have each standing. */
    public static Map<Standing, Long> byStanding(List<StatedRule> rules) {
        return rules.stream().collect(Collectors.groupingBy(StatedRule::standing, TreeMap::new, Collectors.counting()));
    }

    /** For each standing a line such as {@code second-hand: 12 of 40 (30 %)}. */
    public static List<String> shares(List<StatedRule> rules) {
        Function<Map.Entry<Standing, Long>, String> line = e -> e.getKey().code() + ": " + e.getValue() + " of "
                + rules.size() + " (" + Math.round(100.0 * e.getValue() / rules.size()) + " %)";
        return byStanding(rules).entrySet().stream().map(line).toList();
    }
}
