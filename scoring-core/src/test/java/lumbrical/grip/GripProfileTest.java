package lumbrical.grip;

import static lumbrical.scoring.ExampleInstrument.OURS;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Grip;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import org.junit.jupiter.api.Test;

/** Grip tasks gathered over forms: invented items, worked by hand. */
class GripProfileTest {
    private static final Sitting SITTING = new Sitting(
            "P1",
            LocalDate.of(2024, 3, 1),
            Optional.empty(),
            Optional.of(Side.RIGHT),
            Optional.of("E1"),
            Optional.empty(),
            Optional.empty(),
            Optional.empty(),
            Place.of("responses.csv", 2));

    private static final Instrument TASKS = ExampleInstrument.called("tasks")
            .item("turn", ExampleInstrument.codes(0, 4), Direction.LOWER, true, Optional.of(Grip.KEY))
            .item("carry", ExampleInstrument.codes(0, 4), Direction.LOWER, true, Optional.of(Grip.HOOK))
            .item("plain", ExampleInstrument.codes(0, 4), Direction.LOWER, true, Optional.empty())
            .build();

    private static final Instrument PERSON = ExampleInstrument.called("person")
            .item("1", ExampleInstrument.codes(1, 5), Direction.LOWER, false, Optional.of(Grip.KEY))
            .item("2", ExampleInstrument.codes(0, 10), Direction.HIGHER, false, Optional.of(Grip.KEY))
            .item("3", ExampleInstrument.codes(1, 5), Direction.LOWER, false, Optional.of(Grip.POWER))
            .scale("total", new ItemRule.Sum(1, OURS), ExampleInstrument.noneMissing(), new Range(0, 20))
            .build();

    private static ScoredForm form(Instrument instrument, String answers) {
        return new ScoredForm(SITTING, instrument, ExampleInstrument.answers(instrument, answers), List.of());
    }

    private static List<String> profile(ScoredForm... forms) {
        return GripProfile.of(List.of(forms)).stream()
                .map(r -> r.hand().map(Side::code).orElse("person") + " "
                        + r.grip().code() + " " + r.difficulty() + " " + r.answered() + "/" + r.items() + " "
                        + String.join("+", r.from()))
                .toList();
    }

    @Test
    void handsComeFirstAndThenThePerson() {
        assertEquals(
                List.of(
                        "right key 25.0 1/1 tasks_turn",
                        "right hook 100.0 1/1 tasks_carry",
                        "left key 0.0 1/1 tasks_turn",
                        "person key 60.0 2/2 person_1+person_2", // (50 + 70) / 2
                        "person power 75.0 1/1 person_3"),
                profile(
                        form(TASKS, "turn_right=1 carry_right=4 turn_left=0 plain_right=4"),
                        form(PERSON, "1=3 2=3 3=4")));
    }

    @Test
    void anOpenOrWrongAnswerIsLeftOutOfTheMeanAndCounted() {
        assertEquals(List.of("person key 50.0 1/2 person_1"), profile(form(PERSON, "1=3 3=9")));
        assertEquals(List.of(), profile(form(PERSON, "3=x")));
    }

    @Test
    void aFormWithoutAnyAnswerAddsNoItems() {
        assertEquals(List.of("person key 50.0 1/2 person_1"), profile(form(PERSON, "1=3"), form(PERSON, "")));
        assertEquals(List.of(), profile(form(PERSON, "")));
    }

    @Test
    void aRowKnowsItsSittingAndTakesAPlace() {
        GripRow row = GripProfile.of(List.of(form(PERSON, "3=1"))).get(0);
        assertEquals(SITTING, row.sitting());
        assertEquals(Optional.of("E1"), row.episode());
        assertEquals(Optional.empty(), row.visit());
        GripRow placed = row.placed(Optional.of("E2"), Optional.of("6 weeks"));
        assertEquals(Optional.of("E2"), placed.episode());
        assertEquals(Optional.of("6 weeks"), placed.visit());
        assertEquals(row, placed.placed(Optional.of("E1"), Optional.empty()));
    }
}
