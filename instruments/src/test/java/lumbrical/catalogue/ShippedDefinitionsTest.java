package lumbrical.catalogue;

import static org.junit.jupiter.api.Assertions.assertAll;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Item;
import lumbrical.instrument.ResponseSet;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Holds the shipped definitions to the rules of docs/definitions.md that no schema can state. */
class ShippedDefinitionsTest {
    private static final Catalogue CATALOGUE = Catalogue.builtIn();
    /** Ids fixed for users; variants of another coding not counted. */
    private static final List<String> FIXED_IDS = List.of("dash", "quickdash", "prwe", "prwhe", "bctq", "griptasks");

    static Stream<Instrument> instruments() {
        return CATALOGUE.all().stream();
    }

    @Test
    void theFixedInstrumentsAreAllThere() {
        List<String> ids = CATALOGUE.ids().stream().map(Object::toString).toList();
        assertTrue(ids.containsAll(FIXED_IDS), () -> "missing from " + ids);
    }

    @ParameterizedTest
    @MethodSource("instruments")
    void endsEqualTheDeclaredRange(Instrument instrument) {
        ScoringPlan plan = ScoringPlan.of(instrument);
        for (Scale scale : instrument.scales()) {
            List<Double> ends = new ArrayList<>();
            for (Direction code : Direction.values()) {
                double[] values = instrument.columns().stream()
                        .mapToDouble(c -> end(c, code))
                        .toArray();
                plan.score(Responses.of(instrument, values), Optional.of(Side.RIGHT)).stream()
                        .filter(r -> r.scale().equals(scale.id()))
                        .findFirst()
                        .flatMap(ScoreResult::scored)
                        .ifPresent(s -> ends.add(s.value()));
            }
            if (scale.reported()) {
                assertEquals(
                        List.of(scale.range().low(), scale.range().high()),
                        ends.stream().sorted().toList(),
                        () -> instrument + " " + scale.id());
            }
        }
    }

    /** The item's best or worst code, as its own direction says: a scale's best end comes from its items' best codes. */
    private static double end(Column column, Direction which) {
        Item item = column.item();
        boolean low = (item.better() == Direction.LOWER) == (which == Direction.LOWER);
        return low ? item.responses().low() : item.responses().high();
    }

    @ParameterizedTest
    @MethodSource("instruments")
    void bestResponsesGiveTheBestScore(Instrument instrument) {
        double[] best = instrument.columns().stream()
                .mapToDouble(c -> end(c, Direction.LOWER))
                .toArray();
        List<ScoreResult> results =
                ScoringPlan.of(instrument).score(Responses.of(instrument, best), Optional.of(Side.RIGHT));
        for (ScoreResult result : results) {
            Scale scale = instrument.scale(result.scale()).orElseThrow();
            double expected = scale.better() == Direction.LOWER
                    ? scale.range().low()
                    : scale.range().high();
            assertEquals(expected, result.scored().orElseThrow().value(), 1e-9, () -> instrument + " " + scale.id());
        }
    }

    @ParameterizedTest
    @MethodSource("instruments")
    void topicsAreShortLabelsAndNotSeenOnesAreNumbered(Instrument instrument) {
        assertAll(instrument.facts().items().stream().map(item -> () -> {
            assertTrue(
                    item.topic().split("\\s+").length <= 6,
                    () -> instrument + " item " + item.id() + ": " + item.topic());
            if (item.topicStanding().equals("not-seen")) {
                assertTrue(item.topic().startsWith("item "), () -> instrument + " item " + item.id());
            }
            assertEquals(
                    instrument.facts().licence().wordingIncluded(), item.text().isPresent());
        }));
    }

    @Test
    void oneTaskHasOneGripInEveryInstrument() {
        Map<String, Optional<Grip>> gripOf = new HashMap<>();
        int tagged = 0;
        for (Instrument instrument : CATALOGUE.all()) {
            for (Item item : instrument.facts().items()) {
                Optional<Grip> before = gripOf.putIfAbsent(item.topic(), item.grip());
                if (before != null) {
                    assertEquals(before, item.grip(), () -> "'" + item.topic() + "' in " + instrument);
                }
                tagged += item.grip().isPresent() ? 1 : 0;
            }
        }
        assertTrue(tagged >= 20, "only " + tagged + " tagged items: was the catalogue read?");
    }

    @ParameterizedTest
    @MethodSource("instruments")
    void everySourceIsUsedOrToldAndEveryScaleItemKnown(Instrument instrument) {
        assertFalse(instrument.facts().sources().isEmpty());
        long scaleItems = instrument.scales().stream()
                .map(Scale::composition)
                .filter(Composition.FromItems.class::isInstance)
                .mapToLong(c -> ((Composition.FromItems) c).items().size())
                .sum();
        assertTrue(scaleItems > 0 || instrument.scales().isEmpty());
        assertEquals(
                instrument.columns().size(),
                IntStream.range(0, instrument.columns().size())
                        .filter(i -> instrument.columns().get(i).index() == i)
                        .count());
    }

    /** No vector can hold the codes of an item that no scale uses; grip tasks are ours, the other is from memory. */
    @ParameterizedTest
    @CsvSource({"griptasks, difficulty, 0 1 2 3 4", "prwhe, importance, 1 2 3"})
    void codesOfItemsThatAreNeverScored(String id, String set, String codes) {
        ResponseSet responses = CATALOGUE.find(id).orElseThrow().facts().responseSets().stream()
                .filter(r -> r.name().equals(set))
                .findFirst()
                .orElseThrow();
        assertEquals(
                Stream.of(codes.split(" ")).map(Double::valueOf).toList(),
                assertInstanceOf(ResponseSet.Codes.class, responses).codes());
    }

    /** A scale that a person may leave out is a module, and a module may be left out. */
    @ParameterizedTest
    @MethodSource("instruments")
    void theOptionalScalesAreTheModules(Instrument instrument) {
        for (Scale scale : instrument.scales()) {
            boolean module = scale.composition() instanceof Composition.FromItems made
                    && made.items().stream().allMatch(i -> i.item().module().isPresent());
            assertEquals(module, scale.optional(), () -> instrument + " " + scale.id());
        }
    }
}
