package lumbrical.followup;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a schedule refuses. */
class ScheduleTest {
    @ParameterizedTest
    @CsvSource({"5, 4, 5", "3, 4, 9", "10, 4, 9", "6, 9, 4"})
    void aTargetLiesInItsWindow(int target, int from, int to) {
        Runnable visit = () -> ExampleClinic.visit("v", target, from, to, Visit.Role.FOLLOW_UP);
        if (target == 5) {
            visit.run();
            return;
        }
        assertEquals(
                "Visit 'v': target day " + target + " must lie in its window, which must not end before it starts ("
                        + from + " to " + to + ")",
                assertThrows(IllegalArgumentException.class, visit::run).getMessage());
    }

    @Test
    void aScheduleHasVisitsWithNamesOfTheirOwnThatDoNotOverlap() {
        Visit a = ExampleClinic.visit("a", 10, 5, 20, Visit.Role.BASELINE);
        assertEquals(
                "The schedule has no visit",
                assertThrows(IllegalArgumentException.class, () -> new Schedule(List.of()))
                        .getMessage());
        assertEquals(
                "Two visits are called 'a'",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new Schedule(
                                        List.of(a, ExampleClinic.visit("a", 30, 30, 30, Visit.Role.FOLLOW_UP))))
                        .getMessage());
        for (int day : new int[] {5, 20}) {
            Visit touching = ExampleClinic.visit("b", day, day, day, Visit.Role.FOLLOW_UP);
            assertThrows(IllegalArgumentException.class, () -> new Schedule(List.of(a, touching)));
        }
        for (int day : new int[] {4, 21}) {
            Visit beside = ExampleClinic.visit("b", day, day, day, Visit.Role.FOLLOW_UP);
            assertEquals(Optional.of(beside), new Schedule(List.of(a, beside)).visitOn(day));
        }
    }
}
