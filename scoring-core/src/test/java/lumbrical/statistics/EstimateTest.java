package lumbrical.statistics;

import static lumbrical.statistics.Reference.assertNone;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.Arrays;
import java.util.Optional;
import lumbrical.statistics.Estimate.Reason;
import org.junit.jupiter.api.Test;

class EstimateTest {
    @Test
    void isAValueOrAReason() {
        Estimate<Double> two = Estimate.of(2.0);
        Estimate<Double> none = Estimate.none(Reason.NO_SPREAD);
        assertEquals(Optional.of(2.0), two.optional());
        assertEquals(Optional.empty(), two.whyNot());
        assertEquals(Optional.empty(), none.optional());
        assertEquals(Optional.of(Reason.NO_SPREAD), none.whyNot());
        assertEquals(Estimate.of(4.0), two.map(v -> 2 * v));
        assertEquals(Estimate.of("2.0"), two.flatMap(v -> Estimate.of(v.toString())));
        assertNone(Reason.NO_SPREAD, none.map(v -> 2 * v));
        assertNone(Reason.NO_SPREAD, none.flatMap(v -> two));
        assertEquals("no-spread", none.fold(Object::toString, Reason::code));
    }

    @Test
    void isNeverNotANumber() {
        assertEquals(
                "NaN is no estimate",
                assertThrows(IllegalArgumentException.class, () -> Estimate.of(Double.NaN))
                        .getMessage());
        assertThrows(IllegalArgumentException.class, () -> Estimate.of(Double.POSITIVE_INFINITY));
    }

    @Test
    void reasonsHaveCodesOfTheirOwnAndWords() {
        assertEquals(
                Reason.values().length,
                Arrays.stream(Reason.values()).map(Reason::code).distinct().count());
        for (Reason reason : Reason.values()) {
            assertTrue(reason.code().matches("[a-z]+(-[a-z0-9]+)*"), reason.code());
            assertTrue(reason.explanation().length() > 10, reason.code());
        }
        assertEquals(
                AnchorMethod.values().length,
                Arrays.stream(AnchorMethod.values())
                        .map(AnchorMethod::code)
                        .distinct()
                        .count());
    }
}
