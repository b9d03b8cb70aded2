package lumbrical.cdisc;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.stream.Stream;
import lumbrical.deidentify.DeidentifiedDay;
import lumbrical.deidentify.DeidentifiedEpisode;
import lumbrical.deidentify.DeidentifiedForm;
import lumbrical.deidentify.Sender;
import lumbrical.followup.Schedule;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.scoring.Responses;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class VisitNumbersTest {
    private static final Visit START = new Visit("start", 0, -30, 0, Visit.Role.BASELINE, List.of(), true);
    private static final Visit LATER = new Visit("later", 42, 28, 56, Visit.Role.FOLLOW_UP, List.of(), true);
    private static final Instrument INSTRUMENT =
            Instrument.builder(new InstrumentId("own"), "1").build();

    private static DeidentifiedForm form(OptionalInt week, OptionalInt day, Optional<Visit> visit) {
        return new DeidentifiedForm(
                "key",
                INSTRUMENT,
                Responses.builder(INSTRUMENT).build(),
                new DeidentifiedDay(OptionalInt.empty(), week, day, Optional.empty()),
                Optional.empty(),
                visit,
                Map.of(),
                List.of(),
                Set.of());
    }

    private static DeidentifiedForm onDay(int day) {
        return form(OptionalInt.empty(), OptionalInt.of(day), visitOn(day));
    }

    private static Optional<Visit> visitOn(int day) {
        return Stream.of(START, LATER).filter(v -> v.holds(day)).findFirst();
    }

    private static List<String> numbered(DeidentifiedForm... forms) {
        DeidentifiedEpisode episode = new DeidentifiedEpisode(
                new Sender("SITE", "STUDY"), "S", "E", Optional.empty(), Optional.empty(), Map.of(), List.of(forms));
        return new VisitNumbers(new Schedule(List.of(START, LATER)))
                .of(episode).stream().map(v -> v.name() + "=" + v.number()).toList();
    }

    @Test
    void anUnscheduledVisitSortsBetweenItsNeighbours() {
        assertEquals(
                List.of(
                        "unscheduled 0.001=0.001",
                        "start=1.0",
                        "unscheduled 1.001=1.001",
                        "unscheduled 1.001=1.001",
                        "unscheduled 1.002=1.002",
                        "later=2.0",
                        "unscheduled 2.001=2.001"),
                numbered(onDay(-31), onDay(0), onDay(1), onDay(1), onDay(27), onDay(28), onDay(57)));
    }

    @Test
    void formsOfOneWeekAreOneVisitWhereWeeksAreSent() {
        DeidentifiedForm weekOne = form(OptionalInt.of(1), OptionalInt.empty(), Optional.empty());
        DeidentifiedForm weekTwo = form(OptionalInt.of(2), OptionalInt.empty(), Optional.empty());
        assertEquals(
                List.of("unscheduled 1.001=1.001", "unscheduled 1.001=1.001", "unscheduled 1.002=1.002"),
                numbered(weekOne, weekOne, weekTwo));
    }

    @Test
    void withoutADayItStandsBeforeAllVisits() {
        assertEquals(
                List.of("unscheduled 0.001=0.001"),
                numbered(form(OptionalInt.empty(), OptionalInt.empty(), Optional.empty())));
    }

    @ParameterizedTest(name = "day {0}: study day {1}, week {2}")
    @CsvSource({"-8,-8,-2", "-7,-7,-1", "-1,-1,-1", "0,1,0", "6,7,0", "7,8,1"})
    void studyDaysHaveNoNoughtAndWeeksAreRoundedDown(int day, int studyDay, int week) {
        assertEquals(studyDay, StudyDay.of(day));
        assertEquals(OptionalInt.of(studyDay), StudyDay.of(OptionalInt.of(day)));
        assertEquals(week, StudyDay.week(day));
    }
}
