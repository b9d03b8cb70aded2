package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lumbrical.condition.Condition;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.threshold.PublishedMcids;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;

/** A threshold changes what a surgeon is told, so none changes unnoticed. */
class ShippedThresholdsTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();

    /** The table was proof-read against the sources; values added or changed are proof-read there too. */
    @Test
    void everyThresholdIsTheOneThatWasProofRead() throws IOException {
        List<String> shipped = new ArrayList<>();
        for (Instrument instrument : CATALOGUE.all()) {
            instrument.thresholds().forEach(t -> shipped.add(row(instrument, t)));
        }
        assertTrue(shipped.size() > 250, "only " + shipped.size() + " thresholds: was the catalogue read?");
        assertEquals(String.join("\n", proofRead()), String.join("\n", shipped));
    }

    private static List<String> proofRead() throws IOException {
        try (InputStream in = ShippedThresholdsTest.class.getResourceAsStream("thresholds.csv")) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .skip(2)
                    .toList();
        }
    }

    private static String row(Instrument instrument, Threshold t) {
        Optional<Range> ends =
                t.ends().or(() -> t.interval().map(interval -> new Range(interval.low(), interval.high())));
        return String.join(
                ",",
                instrument.id().value(),
                t.id(),
                t.scale().value(),
                t.kind().code(),
                number(t.value()),
                number(ends.map(r -> OptionalDouble.of(r.low())).orElse(OptionalDouble.empty())),
                number(ends.map(r -> OptionalDouble.of(r.high())).orElse(OptionalDouble.empty())),
                t.level().isPresent() ? String.valueOf(t.level().getAsInt()) : "",
                t.n().isPresent() ? String.valueOf(t.n().getAsInt()) : "",
                t.study(),
                t.provenance().standing().code(),
                t.selectable() ? "yes" : "no",
                String.join(" ", t.conditions()),
                t.baseline().map(Threshold.Baseline::code).orElse(""));
    }

    private static String number(OptionalDouble value) {
        if (value.isEmpty()) {
            return "";
        }
        String text = Double.toString(value.getAsDouble());
        return text.endsWith(".0") ? text.substring(0, text.length() - 2) : text;
    }

    /** Else a study with several groups would count several times among the published MCIDs. */
    @Test
    void theMcidsOfOneSourceAreOneStudy() {
        int checked = 0;
        for (Instrument instrument : CATALOGUE.all()) {
            Map<String, String> studyOf = new HashMap<>();
            for (Threshold t : instrument.thresholds()) {
                if (t.kind() == Threshold.Kind.MCID) {
                    String before = studyOf.putIfAbsent(t.provenance().source(), t.study());
                    assertEquals(before == null ? t.study() : before, t.study(), () -> instrument + " " + t.id());
                    checked++;
                }
            }
        }
        assertTrue(checked > 60, checked + " MCIDs");
    }

    private static final Pattern NUMBER = Pattern.compile("\\d+(\\.\\d+)?");

    /** A reason that names another number than the default it stands beside is not true of the list. */
    @Test
    void everyReasonNamesTheValuesOfItsDefaults() {
        int checked = 0;
        for (Instrument instrument : CATALOGUE.all()) {
            for (Scale scale : instrument.scales()) {
                List<Scale.Defaults> all =
                        new ArrayList<>(scale.defaults().stream().toList());
                scale.conditionDefaults().forEach(d -> all.add(d.defaults()));
                for (Scale.Defaults d : all) {
                    for (String id : Stream.of(d.mcid(), d.mdc(), d.pass())
                            .flatMap(Optional::stream)
                            .toList()) {
                        double value =
                                instrument.threshold(id).orElseThrow().value().orElseThrow();
                        assertTrue(
                                NUMBER.matcher(d.reason())
                                        .results()
                                        .anyMatch(m -> Double.parseDouble(m.group()) == value),
                                () -> instrument + " " + scale.id() + ": " + value + " is not in '" + d.reason() + "'");
                        checked++;
                    }
                    d.pass().ifPresent(id -> assertTrue(d.reason().contains("PASS"), () -> instrument + ": " + d));
                    if (d.mdc().isEmpty()) {
                        assertTrue(
                                d.reason().contains("MDC"), () -> instrument + " has no MDC and does not say so: " + d);
                    }
                }
            }
        }
        assertTrue(checked > 45, checked + " defaults");
    }

    /** Every number of a reason stands in the list beside it, in a note of it, or is a limit worked out from one of them. */
    @Test
    void noReasonNamesANumberThatTheListDoesNotHave() throws IOException {
        Set<String> workedOut = Set.of("10.80", "25.27", "95", "90", "0.80");
        for (Instrument instrument : CATALOGUE.all()) {
            Set<Double> listed = new HashSet<>();
            for (Threshold t : instrument.thresholds()) {
                String words = String.join(
                        " ",
                        t.method(),
                        t.note().orElse(""),
                        t.population(),
                        t.whyNotSelectable().orElse(""),
                        t.followUp().orElse(""));
                NUMBER.matcher(words).results().forEach(m -> listed.add(Double.valueOf(m.group())));
                t.value().ifPresent(listed::add);
                t.ends().ifPresent(e -> listed.addAll(List.of(e.low(), e.high())));
                t.interval().ifPresent(e -> listed.addAll(List.of(e.low(), e.high())));
                t.n().ifPresent(n -> listed.add((double) n));
                t.level().ifPresent(n -> listed.add((double) n));
            }
            for (Scale scale : instrument.scales()) {
                List<String> reasons = new ArrayList<>(
                        scale.defaults().map(Scale.Defaults::reason).stream().toList());
                scale.conditionDefaults().forEach(d -> reasons.add(d.defaults().reason()));
                for (String reason : reasons) {
                    NUMBER.matcher(reason)
                            .results()
                            .map(MatchResult::group)
                            .forEach(number -> assertTrue(
                                    workedOut.contains(number)
                                            || listed.contains(Double.valueOf(number))
                                            || SAID_OF_THE_SCALE.contains(instrument.id() + " " + number),
                                    () -> instrument + " " + scale.id() + " names " + number + ": " + reason));
                }
            }
        }
    }

    /** Numbers that describe the scale, not a threshold. */
    private static final Set<String> SAID_OF_THE_SCALE = Set.of(
            "bmhq 0",
            "bmhq 100",
            "promispf4a 2.3",
            "promispf4a 5.35",
            "promispf4a 1.645",
            "promispf4a 1.414",
            "ulfi 2006",
            "nprs 2");

    /** Section 11 of the formats: the conditions of the demo and of the thresholds and defaults, and no others. */
    @Test
    void theConditionsAreThoseOfTheDemoAndOfTheThresholds() throws IOException {
        Set<String> needed = new TreeSet<>();
        List<String> rows = Files.readAllLines(Path.of("..", "shared", "demo", "episodes.csv"));
        int column = List.of(rows.get(0).split(",")).indexOf("condition");
        for (String row : rows.subList(1, rows.size())) {
            String text = row.split(",", -1)[column];
            if (!text.isEmpty()) {
                needed.add(CATALOGUE
                        .conditions()
                        .match(text)
                        .found()
                        .orElseThrow(() -> new AssertionError(text + " is no condition"))
                        .id());
            }
        }
        assertEquals(6, needed.size(), "conditions of the demo");
        for (Instrument instrument : CATALOGUE.all()) {
            instrument.thresholds().forEach(t -> needed.addAll(t.conditions()));
            instrument.scales().forEach(s -> s.conditionDefaults().forEach(d -> needed.add(d.condition())));
        }
        assertEquals(
                needed,
                new TreeSet<>(CATALOGUE.conditions().conditions().stream()
                        .map(Condition::id)
                        .toList()));
    }

    /** An improvement of 20.5 on prwhe is important by the default of 20, and then the study that says so counts as reached. */
    @Test
    void theDefaultOfAStudyStandsForIt() {
        Instrument prwhe = CATALOGUE.find("prwhe").orElseThrow();
        Scale total = prwhe.scales().get(2);
        assertEquals(List.of(20.0), PublishedMcids.of(prwhe, total, EpisodeCondition.NONE));
    }

    /** Healing alone brings the change from a fresh fracture: offered, and used by default for nobody. */
    @Test
    void aValueFromAFreshInjuryIsNoDefault() {
        Instrument prwe = CATALOGUE.find("prwe").orElseThrow();
        EpisodeCondition fracture = CATALOGUE.conditions().resolve(Optional.of("Distal radius fracture"));
        ThresholdChoice choice = ThresholdChoice.defaults(CATALOGUE.conditions());
        assertEquals(
                Optional.of("sorensen2013-mcid"),
                choice.mcid(prwe, prwe.scales().get(2), fracture).map(Threshold::id));
        assertTrue(prwe.threshold("injury2023-mcid-6wk").orElseThrow().selectable());
    }
}
