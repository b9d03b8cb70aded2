package lumbrical.problem;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** Where a problem stands, as a message says it. */
class PlaceTest {
    @Test
    void saysFileRowAndColumn() {
        assertEquals("visits.csv", Place.of("visits.csv").toString());
        assertEquals("visits.csv row 12", Place.of("visits.csv", 12).toString());
        assertEquals(
                "visits.csv row 12, column dash_3",
                Place.of("visits.csv", 12).in("dash_3").toString());
    }

    @Test
    void aNoteIsNoProblem() {
        Place place = Place.of("visits.csv", 12);
        assertEquals(true, new Problem(place, "", ProblemCode.NOTE_UNSCHEDULED, "advice").isNote());
        assertEquals(false, new Problem(place, "", ProblemCode.DATE_MISSING, "advice").isNote());
    }
}
