package lumbrical.scoring;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.IntStream;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Range;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.IntRange;

/** What must hold for any responses. */
class ScoringProperties {
    private static final int ITEMS = 8;
    private static final Instrument INSTRUMENT = TestInstruments.of(
            ITEMS,
            1,
            5,
            new ItemRule.RescaledMean(1, 25, TestInstruments.PUBLISHED),
            TestInstruments.meanOfAnswered(new MissingRule.Minimum.AtLeastPercent(50)),
            new Range(0, 100));
    private static final ScoringPlan PLAN = ScoringPlan.of(INSTRUMENT);

    /** 0 stands for a blank. */
    @Provide
    Arbitrary<int[]> forms() {
        return Arbitraries.integers().between(0, 5).array(int[].class).ofSize(ITEMS);
    }

    private static ScoreResult score(int[] form) {
        double[] values =
                Arrays.stream(form).mapToDouble(c -> c == 0 ? Double.NaN : c).toArray();
        List<ScoreResult> results = PLAN.score(
                ExampleInstrument.responses(INSTRUMENT, values), Optional.empty(), RequestedColumns.form(INSTRUMENT));
        assertEquals(1, results.size());
        return results.get(0);
    }

    private static int blanks(int[] form) {
        return (int) Arrays.stream(form).filter(c -> c == 0).count();
    }

    private static int[] with(int[] form, int at, int code) {
        int[] changed = form.clone();
        changed[at] = code;
        return changed;
    }

    @Property
    void boundsContainTheScoreAndAreAsWideAsTheGapsAllow(@ForAll("forms") int[] form) {
        ScoreResult result = score(form);
        Range bounds = result.bounds().orElseThrow();
        assertEquals(100.0 * blanks(form) / ITEMS, bounds.width(), 1e-9);
        result.scored().ifPresent(s -> assertTrue(s.value() >= bounds.low() && s.value() <= bounds.high()));
        if (blanks(form) == 0) {
            assertEquals(bounds.low(), bounds.high());
            assertEquals(ScoreResult.Outcome.COMPLETE, result.outcome());
        }
    }

    @Property
    void answeringOneMoreItemNeverWidensTheBounds(
            @ForAll("forms") int[] form,
            @ForAll @IntRange(max = 7) int at,
            @ForAll @IntRange(min = 1, max = 5) int code) {
        if (form[at] == 0) {
            Range before = score(form).bounds().orElseThrow();
            Range after = score(with(form, at, code)).bounds().orElseThrow();
            assertTrue(after.low() >= before.low() - 1e-9 && after.high() <= before.high() + 1e-9);
        }
    }

    @Property
    void reversingAllResponsesMirrorsTheScore(@ForAll("forms") int[] form) {
        int[] mirror = Arrays.stream(form).map(c -> c == 0 ? 0 : 6 - c).toArray();
        assertEquals(score(form).outcome(), score(mirror).outcome());
        score(form)
                .scored()
                .ifPresent(s -> assertEquals(
                        100 - s.value(), score(mirror).scored().orElseThrow().value(), 1e-9));
    }

    @Property
    void aBetterResponseNeverWorsensTheScore(@ForAll("forms") int[] form, @ForAll @IntRange(max = 7) int at) {
        if (form[at] > 1 && score(form).scored().isPresent()) {
            double better =
                    score(with(form, at, form[at] - 1)).scored().orElseThrow().value();
            assertTrue(better < score(form).scored().get().value());
        }
    }

    @Property
    void leavingOneMoreItemOpenNeverMakesAScore(@ForAll("forms") int[] form, @ForAll @IntRange(max = 7) int at) {
        if (score(form).scored().isEmpty()) {
            assertTrue(score(with(form, at, 0)).scored().isEmpty());
        }
    }

    /** Items named in any order, in the form and in the scale. */
    @Property(tries = 300)
    void theOrderOfTheColumnsChangesNothing(@ForAll("forms") int[] form, @ForAll Random random) {
        List<Integer> order =
                new ArrayList<>(IntStream.rangeClosed(1, ITEMS).boxed().toList());
        Collections.shuffle(order, random);
        ExampleInstrument made = ExampleInstrument.called("example10").version("1");
        order.forEach(i -> made.item(String.valueOf(i), ExampleInstrument.codes(1, 5)));
        Instrument shuffled = made.scale(
                        "total",
                        new ItemRule.RescaledMean(1, 25, TestInstruments.PUBLISHED),
                        TestInstruments.meanOfAnswered(new MissingRule.Minimum.AtLeastPercent(50)),
                        new Range(0, 100))
                .build();
        StringBuilder answers = new StringBuilder();
        for (int i = 1; i <= ITEMS; i++) {
            answers.append(form[i - 1] == 0 ? "" : i + "=" + form[i - 1] + " ");
        }
        ScoreResult other = ScoringPlan.of(shuffled)
                .score(
                        ExampleInstrument.answers(shuffled, answers.toString()),
                        Optional.empty(),
                        RequestedColumns.form(shuffled))
                .get(0);
        assertEquals(score(form), other);
    }

    @Property
    void theArrayWayGivesTheSameAsTheObjectWay(@ForAll("forms") int[] form) {
        double[] padded = new double[ITEMS + 3];
        for (int i = 0; i < ITEMS; i++) {
            padded[i + 3] = form[i] == 0 ? Double.NaN : form[i];
        }
        ScoreBuffer buffer = PLAN.newBuffer();
        PLAN.scoreInto(padded, 3, false, buffer);
        if (blanks(form) < ITEMS) {
            ScoreResult result = score(form);
            assertEquals(result.scored().isPresent(), buffer.isScored(0));
            assertEquals(result.answered(), buffer.answered(0));
            result.scored().ifPresent(s -> assertEquals(s.value(), buffer.value(0)));
        } else {
            assertTrue(!buffer.hasRow(0));
        }
    }

    /** Whatever the room held before. */
    @Property
    void roomGivenByTheCallerChangesNothing(@ForAll("forms") int[] form, @ForAll("forms") int[] before) {
        ScoreBuffer room = PLAN.newBuffer();
        for (int[] each : List.of(before, form)) {
            double[] values = Arrays.stream(each)
                    .mapToDouble(code -> code == 0 ? Double.NaN : code)
                    .toArray();
            Responses responses = ExampleInstrument.responses(PLAN.instrument(), values);
            assertEquals(PLAN.score(responses, Optional.empty()), PLAN.score(responses, Optional.empty(), room));
        }
    }
}
