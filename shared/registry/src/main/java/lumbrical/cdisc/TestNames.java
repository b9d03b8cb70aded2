package lumbrical.cdisc;

import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;

/**
 * Codes and names of the tests of one definition, each made once: every record asks for them, and to make one takes longer than to write
 * the record.
 */
final class TestNames {
    private final String category;
    private final List<Test> items = new ArrayList<>();
    private final Map<ScaleId, OfScale> scales = new HashMap<>();

    /**
     * A test.
     *
     * @param code at most eight characters
     * @param name at most forty
     * @param parameter the name as an analysis parameter; that of the test for an item, which is none
     */
    record Test(String code, String name, String parameter) {}

    /** The tests of a scale: asked of the person, or of a hand or both. */
    private record OfScale(Test person, Map<Side, Test> hands) {}

    private TestNames(Instrument instrument) {
        category = instrument.definition().toUpperCase(Locale.ROOT);
        for (Column column : instrument.columns()) {
            String name = CdiscNames.itemName(instrument, column);
            items.add(new Test(CdiscNames.itemCode(instrument, column), name, name));
        }
        for (Scale scale : instrument.scales()) {
            Map<Side, Test> hands = new EnumMap<>(Side.class);
            for (Side side : Side.values()) {
                hands.put(side, test(instrument, scale, Optional.of(side)));
            }
            scales.put(scale.id(), new OfScale(test(instrument, scale, Optional.empty()), hands));
        }
    }

    private static Test test(Instrument instrument, Scale scale, Optional<Side> hand) {
        return new Test(
                CdiscNames.scaleCode(instrument, scale, hand),
                CdiscNames.scaleName(instrument, scale, hand),
                CdiscNames.parameterName(instrument, scale, hand));
    }

    /** Makes the names of every definition that is asked for. */
    static final class Book {
        private final Map<String, TestNames> byDefinition = new HashMap<>();

        TestNames of(Instrument instrument) {
            return byDefinition.computeIfAbsent(instrument.definition(), d -> new TestNames(instrument));
        }
    }

    /** Id and version of the definition, in capitals. */
    String category() {
        return category;
    }

    Test item(Column column) {
        return items.get(column.index());
    }

    /** @throws IllegalArgumentException if the scale is not of the definition */
    Test scale(Scale scale, Optional<Side> hand) {
        return Optional.ofNullable(scales.get(scale.id()))
                .map(of -> hand.map(of.hands()::get).orElse(of.person()))
                .orElseThrow(() -> new IllegalArgumentException(category + " has no scale " + scale.id()));
    }
}
