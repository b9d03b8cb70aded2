package lumbrical.sitting;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.time.LocalDate;
import java.time.LocalTime;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Side;
import org.junit.jupiter.api.Test;

/** What makes two rows one sitting: each part of the key counts. */
class SittingKeyTest {
    private static final LocalDate DAY = LocalDate.of(2026, 3, 9);
    private static final Optional<LocalTime> TIME = Optional.of(LocalTime.of(9, 30));
    private static final Optional<Side> SIDE = Optional.of(Side.RIGHT);
    private static final Optional<String> EPISODE = Optional.of("E1");
    private static final Optional<String> IDENTIFIER = Optional.of("f1");

    private static Sitting.Key key() {
        return new Sitting.Key("P1", DAY, TIME, SIDE, EPISODE, IDENTIFIER);
    }

    @Test
    void theSamePartsAreTheSameSitting() {
        assertEquals(key(), key());
        assertEquals(key().hashCode(), key().hashCode());
    }

    @Test
    void eachPartTellsSittingsApart() {
        for (Object other : List.of(
                new Sitting.Key("P2", DAY, TIME, SIDE, EPISODE, IDENTIFIER),
                new Sitting.Key("P1", DAY.plusDays(1), TIME, SIDE, EPISODE, IDENTIFIER),
                new Sitting.Key("P1", DAY, Optional.empty(), SIDE, EPISODE, IDENTIFIER),
                new Sitting.Key("P1", DAY, TIME, Optional.of(Side.LEFT), EPISODE, IDENTIFIER),
                new Sitting.Key("P1", DAY, TIME, Optional.empty(), EPISODE, IDENTIFIER),
                new Sitting.Key("P1", DAY, TIME, SIDE, Optional.of("E2"), IDENTIFIER),
                new Sitting.Key("P1", DAY, TIME, SIDE, EPISODE, Optional.empty()),
                "P1")) {
            assertNotEquals(key(), other);
        }
    }
}
