package lumbrical.followup;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.OptionalDouble;
import java.util.Random;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Threshold;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ExampleThreshold;
import net.jqwik.api.Arbitraries;
import net.jqwik.api.Arbitrary;
import net.jqwik.api.Combinators;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.Provide;
import net.jqwik.api.constraints.DoubleRange;

/** What must hold for any sittings of a patient. */
class FollowUpAnalysisProperties {
    /** A sitting so many days after the index date, two items 0 to 10, 11 = blank. */
    record Given(int day, int first, int second) {
        String answers(boolean mirrored) {
            return item(1, first, mirrored) + item(2, second, mirrored);
        }

        private static String item(int item, int code, boolean mirrored) {
            return code > 10 ? "" : " " + item + "=" + (mirrored ? 10 - code : code);
        }
    }

    private static ExampleInstrument level() {
        return ExampleInstrument.called("level")
                .items(2, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 10))
                .defaults("mcid", "mdc", "")
                .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                        .value(2)
                        .build())
                .threshold(ExampleThreshold.called("mdc", Threshold.Kind.MDC)
                        .value(3)
                        .build());
    }

    private static final Instrument LOWER = level().build();
    private static final Instrument HIGHER = level().higherIsBetter().build();

    /** On different days, so that no two are doubles. */
    @Provide
    Arbitrary<List<Given>> courses() {
        Arbitrary<Integer> code = Arbitraries.integers().between(0, 11);
        return Combinators.combine(Arbitraries.integers().between(-100, 200), code, code)
                .as(Given::new)
                .list()
                .ofMinSize(1)
                .ofMaxSize(8)
                .uniqueElements(Given::day);
    }

    private static ExampleClinic clinic(List<Given> course, Instrument instrument, boolean mirrored) {
        ExampleClinic clinic =
                new ExampleClinic().episodes(ExampleEpisode.called("E1").forms("level"));
        course.forEach(g -> clinic.sitting(g.day(), instrument, g.answers(mirrored)));
        return clinic;
    }

    private static List<String> changes(FollowUpResult clinic) {
        return clinic.changes().stream()
                .map(c -> c.followUp().form().sitting().completedOn() + " " + c.used() + " " + c.baselineScore() + " "
                        + c.improvement() + " " + c.verdict() + " " + c.certain() + " " + c.couldReach() + " "
                        + c.improvementBounds())
                .toList();
    }

    @Property(tries = 300)
    void theOrderOfTheRowsChangesNothing(@ForAll("courses") List<Given> course, @ForAll Random random) {
        ExampleClinic clinic = clinic(course, LOWER, false);
        FollowUpResult asGiven = clinic.look();
        List<ScoredForm> shuffled = new ArrayList<>(clinic.forms());
        Collections.shuffle(shuffled, random);
        FollowUpResult again = clinic.look(shuffled);
        assertEquals(changes(asGiven), changes(again));
        assertEquals(asGiven.counts(), again.counts());
        assertEquals(asGiven.due(), again.due());
    }

    /** The same state told on a scale that runs the other way. */
    @Property(tries = 300)
    void turningTheScaleRoundKeepsEveryVerdict(@ForAll("courses") List<Given> course) {
        assertEquals(
                turned(changes(clinic(course, LOWER, false).look())),
                turned(changes(clinic(course, HIGHER, true).look())));
    }

    /** Without the baseline's score, which is the mirrored one. */
    private static List<String> turned(List<String> changes) {
        return changes.stream()
                .map(c -> c.replaceFirst(" OptionalDouble(\\[[0-9.]+]|.empty)", ""))
                .toList();
    }

    @Property(tries = 300)
    void everyFollowUpHasARowAndAtMostOneIsUsedAtAVisit(@ForAll("courses") List<Given> course) {
        FollowUpResult clinic = clinic(course, LOWER, false).look();
        long inWindow = course.stream()
                .filter(g -> g.first() <= 10 || g.second() <= 10)
                .filter(g -> Schedule.DEFAULT
                        .visitOn(g.day())
                        .filter(v -> v.role() == Visit.Role.FOLLOW_UP)
                        .isPresent())
                .count();
        assertEquals(inWindow, clinic.changes().size());
        List<String> used = clinic.changes().stream()
                .filter(Change::used)
                .map(c -> c.followUp().visitName().orElseThrow())
                .toList();
        assertEquals(used.size(), used.stream().distinct().count());
        clinic.changes().forEach(c -> c.improvement().ifPresent(improvement -> {
            Range bounds = c.improvementBounds().orElseThrow();
            assertTrue(bounds.low() <= improvement && improvement <= bounds.high());
        }));
    }

    /** The mirror of improvement is our convention; a larger improvement is never a worse verdict. */
    @Property
    void theVerdictIsMonotonicAndMirrored(
            @ForAll @DoubleRange(min = -50, max = 50) double improvement,
            @ForAll @DoubleRange(max = 20) double more,
            @ForAll @DoubleRange(min = 0.5, max = 30) double mcid,
            @ForAll @DoubleRange(min = 0.5, max = 30) double mdc) {
        OptionalDouble error = OptionalDouble.of(mdc);
        Change.Verdict verdict = ChangeJudge.verdict(improvement, mcid, error);
        assertTrue(ChangeJudge.verdict(improvement + more, mcid, error).compareTo(verdict) <= 0);
        Change.Verdict mirrored = ChangeJudge.verdict(-improvement, mcid, error);
        assertEquals(4, verdict.ordinal() + mirrored.ordinal());
    }
}
