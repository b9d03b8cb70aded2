package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Responses know their instrument; what was not answered, what is no number and what is not allowed stay apart. */
class ResponsesTest {
    private static ExampleInstrument form(String id) {
        return ExampleInstrument.called(id)
                .items(2, ExampleInstrument.codes(0, 4))
                .itemPerHand("p", ExampleInstrument.codes(0, 4))
                .scale(
                        "total",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 8),
                        "1",
                        "2");
    }

    private static final Instrument FORM = form("example10").build();

    private static String refusal(Executable what) {
        return assertThrows(IllegalArgumentException.class, what).getMessage();
    }

    @Test
    void eachColumnHoldsANumberNothingOrNoNumber() {
        Responses responses =
                Responses.builder(FORM).answer(0, 3).answer(1, 9).noNumber(2).build();
        assertEquals(FORM, responses.instrument());
        assertEquals(
                List.of(OptionalDouble.of(3), OptionalDouble.of(9), OptionalDouble.empty(), OptionalDouble.empty()),
                List.of(responses.value(0), responses.value(1), responses.value(2), responses.value(3)));
        assertEquals(
                List.of(true, true, true, false),
                List.of(responses.entered(0), responses.entered(1), responses.entered(2), responses.entered(3)));
        assertEquals(
                List.of(OptionalDouble.of(3), OptionalDouble.empty(), OptionalDouble.empty(), OptionalDouble.empty()),
                FORM.columns().stream().map(responses::allowed).toList());
        assertEquals("example10@3 {1=3, 2=9, p_right=no number}", responses.toString());
        assertEquals(false, responses.blank());
    }

    @Test
    void whatStandsInAColumnIsPutAndGivenBack() {
        Responses responses = Responses.builder(FORM)
                .put(0, Response.of(3))
                .put(1, Response.NO_NUMBER)
                .answer(2, 4)
                .put(2, Response.NOT_ANSWERED)
                .build();
        assertEquals(ExampleInstrument.answers(FORM, "1=3 2=x"), responses);
        assertEquals(
                List.of(Response.of(3), Response.NO_NUMBER, Response.NOT_ANSWERED, Response.NOT_ANSWERED),
                List.of(responses.at(0), responses.at(1), responses.at(2), responses.at(3)));
    }

    @Test
    void aBlankFormHoldsNothing() {
        Responses blank = Responses.blankForm(FORM);
        assertEquals(true, blank.blank());
        assertEquals(blank, Responses.builder(FORM).build());
        assertEquals(blank, Responses.of(FORM, Map.of()));
        assertEquals("example10@3 {}", blank.toString());
        assertEquals(false, Responses.builder(FORM).noNumber(0).build().blank());
    }

    @Test
    void aBuilderStartsAfreshAfterEachForm() {
        Responses.Builder builder = Responses.builder(FORM).answer(0, 3);
        Responses first = builder.build();
        Responses second = builder.answer(1, 2).build();
        assertEquals("example10@3 {1=3}", first.toString());
        assertEquals("example10@3 {2=2}", second.toString());
    }

    @Test
    void theyAreNamedByItemWithThePrefixOrWithoutIt() {
        Responses responses = Responses.of(FORM, Map.of("1", 3.0, "p_left", 2.5));
        assertEquals("example10@3 {1=3, p_left=2.5}", responses.toString());
        assertEquals(responses, Responses.of(FORM, Map.of("example10_1", 3.0, "example10_p_left", 2.5)));
    }

    @Test
    void anUnknownItemNamesThoseThereAre() {
        assertEquals(
                "example10 has no item '9'. Its items are 1, 2, p_right, p_left",
                refusal(() -> Responses.of(FORM, Map.of("9", 1.0))));
        assertEquals(
                "example10 has no item 'other_1'. Its items are 1, 2, p_right, p_left",
                refusal(() -> Responses.of(FORM, Map.of("other_1", 1.0))));
        assertEquals(
                "example10 has no item 'p'. Its items are 1, 2, p_right, p_left",
                refusal(() -> Responses.of(FORM, Map.of("p", 1.0))));
    }

    @Test
    void anAnswerIsNeverNull() {
        Map<String, Double> answers = new HashMap<>();
        answers.put("1", null);
        assertEquals(
                "The response to item '1' is null; leave out what was not answered",
                refusal(() -> Responses.of(FORM, answers)));
    }

    @ParameterizedTest
    @ValueSource(doubles = {Double.NaN, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY})
    void anAnswerIsANumber(double value) {
        String message = "A response is a number; leave out what was not answered";
        assertEquals(message, refusal(() -> Responses.builder(FORM).answer(0, value)));
        assertEquals(
                "The response to item '1' is " + value + ", no number; leave out what was not answered",
                refusal(() -> Responses.of(FORM, Map.of("1", value))));
    }

    @ParameterizedTest
    @ValueSource(ints = {-1, 4})
    void aPositionIsOneOfAColumn(int column) {
        assertThrows(
                IndexOutOfBoundsException.class, () -> Responses.builder(FORM).answer(column, 1));
        assertThrows(
                IndexOutOfBoundsException.class, () -> Responses.builder(FORM).noNumber(column));
    }

    @Test
    void equalityIsByInstrumentAndAnswers() {
        Responses one = ExampleInstrument.answers(FORM, "1=3 2=0");
        Responses copy = ExampleInstrument.answers(form("example10").build(), "1=3 2=-0.0");
        assertEquals(one, copy);
        assertEquals(one.hashCode(), copy.hashCode());
        assertNotEquals(one, ExampleInstrument.answers(FORM, "1=3"));
        assertNotEquals(one, ExampleInstrument.answers(FORM, "1=3 2=x"));
        assertNotEquals(one, ExampleInstrument.answers(form("other").build(), "1=3 2=0"));
        assertNotEquals(
                one, ExampleInstrument.answers(form("example10").version("4").build(), "1=3 2=0"));
        assertEquals(false, one.equals((Object) "example10@3 {1=3, 2=0}"));
    }

    /** The same number of columns of the same names but the prefix: their positions fit, their meaning does not. */
    @Test
    void responsesOfAnotherInstrumentAreNeverScored() {
        ScoringPlan plan = ScoringPlan.of(FORM);
        Responses other = ExampleInstrument.answers(form("other").build(), "1=3 2=0");
        Responses version =
                ExampleInstrument.answers(form("example10").version("4").build(), "1=3 2=0");
        Responses changed =
                ExampleInstrument.answers(form("example10").higherIsBetter().build(), "1=3 2=0");
        String refused = "These are responses to other@3, not to example10@3";
        assertEquals(refused, refusal(() -> plan.score(other, Optional.empty())));
        assertEquals(refused, refusal(() -> plan.score(other, Optional.empty(), plan.newBuffer())));
        assertEquals(refused, refusal(() -> plan.score(other, Optional.empty(), RequestedColumns.form(FORM))));
        assertEquals(refused, refusal(() -> plan.trace(other, Optional.empty())));
        assertEquals(refused, refusal(() -> Explanation.of(plan, other, Optional.empty())));
        assertEquals(
                "These are responses to example10@4, not to example10@3",
                refusal(() -> plan.score(version, Optional.empty())));
        assertEquals(
                "These are responses to example10@3, not to example10@3, whose definition states something else",
                refusal(() -> plan.score(changed, Optional.empty())));
    }

    @Test
    void aCopyOfTheDefinitionIsTheSameInstrument() {
        Responses responses = ExampleInstrument.answers(form("example10").build(), "1=3 2=1");
        assertEquals(
                4,
                ScoringPlan.of(FORM)
                        .score(responses, Optional.empty())
                        .get(0)
                        .scored()
                        .orElseThrow()
                        .value());
        assertEquals(OptionalDouble.of(3), responses.allowed(FORM.columns().get(0)));
    }

    @Test
    void aColumnOfAnotherInstrumentHoldsNothingHere() {
        Responses responses = ExampleInstrument.answers(FORM, "1=3 2=1");
        Column other = form("other").build().columns().get(0);
        assertEquals("'other_1' is no column of example10@3", refusal(() -> responses.allowed(other)));
        Column beyond = form("example10")
                .item("z", ExampleInstrument.codes(0, 1))
                .build()
                .columns()
                .get(4);
        assertEquals("'" + beyond.name() + "' is no column of example10@3", refusal(() -> responses.allowed(beyond)));
    }
}
