package lumbrical.plausibility;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;

import java.util.List;
import java.util.Optional;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import org.junit.jupiter.api.Test;

/** Only scores of one course are set against each other: each part of it counts. */
class CourseTest {
    private static final Optional<String> EPISODE = Optional.of("E1");
    private static final Optional<Side> SIDE = Optional.of(Side.RIGHT);
    private static final InstrumentId INSTRUMENT = new InstrumentId("mhq");
    private static final ScaleId SCALE = new ScaleId("pain");
    private static final Optional<Side> HAND = Optional.of(Side.LEFT);

    private static Plausibility.Course course() {
        return new Plausibility.Course(EPISODE, SIDE, INSTRUMENT, SCALE, HAND);
    }

    @Test
    void eachPartTellsCoursesApart() {
        assertEquals(course(), course());
        assertEquals(course().hashCode(), course().hashCode());
        for (Object other : List.of(
                new Plausibility.Course(Optional.empty(), SIDE, INSTRUMENT, SCALE, HAND),
                new Plausibility.Course(EPISODE, Optional.empty(), INSTRUMENT, SCALE, HAND),
                new Plausibility.Course(EPISODE, SIDE, new InstrumentId("bmhq"), SCALE, HAND),
                new Plausibility.Course(EPISODE, SIDE, INSTRUMENT, new ScaleId("total"), HAND),
                new Plausibility.Course(EPISODE, SIDE, INSTRUMENT, SCALE, Optional.empty()),
                "P1")) {
            assertNotEquals(course(), other);
        }
    }
}
