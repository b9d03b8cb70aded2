package lumbrical.change;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.condition.ConditionVocabulary;
import lumbrical.condition.EpisodeCondition;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Threshold;
import lumbrical.number.Figures;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;
import lumbrical.threshold.ExampleThreshold;
import lumbrical.threshold.ThresholdChoice;
import lumbrical.threshold.ThresholdSet;
import org.junit.jupiter.api.Test;

/** A change over one activity is set against the error of one: an invented instrument, worked by hand. */
class OneItemTest {
    private static final EpisodeCondition HAND = ConditionVocabulary.EMPTY.resolve(Optional.of("some hand"));

    /** MCID 2; MDC 1.5 for a mean, of single activities one that is bound to a condition, one never offered, and 3. */
    private static final Instrument ACTIVITIES = ExampleInstrument.called("activities")
            .items(3, ExampleInstrument.codes(0, 10))
            .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(1), new Range(0, 10))
            .higherIsBetter()
            .defaults("mcid", "mean", "")
            .change(ChangeRule.Kind.PAIRED_ITEMS)
            .threshold(ExampleThreshold.called("mcid", Threshold.Kind.MCID)
                    .value(2)
                    .method("distribution")
                    .build())
            .threshold(ExampleThreshold.called("mean", Threshold.Kind.MDC)
                    .value(1.5)
                    .build())
            .threshold(ExampleThreshold.called("other-scale", Threshold.Kind.MDC)
                    .value(9)
                    .scale("part")
                    .ofOneItem()
                    .build())
            .threshold(ExampleThreshold.called("another-kind", Threshold.Kind.SEM)
                    .value(9)
                    .ofOneItem()
                    .build())
            .threshold(ExampleThreshold.called("never", Threshold.Kind.MDC)
                    .value(9)
                    .ofOneItem()
                    .notOffered("invented")
                    .build())
            .threshold(ExampleThreshold.called("bound", Threshold.Kind.MDC)
                    .value(9)
                    .ofOneItem()
                    .boundTo("another hand")
                    .build())
            .threshold(ExampleThreshold.called("single", Threshold.Kind.MDC)
                    .value(3)
                    .ofOneItem()
                    .build())
            .build();

    private static final Scale TOTAL = ACTIVITIES.scales().get(0);

    private static Change change(String before, String after, ThresholdSet thresholds) {
        Responses a = ExampleInstrument.answers(ACTIVITIES, before);
        Responses b = ExampleInstrument.answers(ACTIVITIES, after);
        return Change.of(TOTAL, ScorePair.of(TOTAL, a, score(a), b, score(b)), thresholds);
    }

    private static ScoreResult score(Responses responses) {
        return ScoringPlan.of(ACTIVITIES).score(responses, Optional.empty()).get(0);
    }

    @Test
    void oneActivityHasTheErrorOfOneAndTwoThatOfAMean() {
        ThresholdSet defaults = ThresholdChoice.DEFAULTS.thresholds(ACTIVITIES, TOTAL, HAND);
        Change one = change("1=4 2=5", "1=6 3=9", defaults);
        assertEquals(OptionalDouble.of(2), one.improvement());
        assertEquals("single", one.thresholds().mdc().orElseThrow().id());
        assertEquals(Verdict.IMPROVEMENT_WITHIN_ERROR, one.verdict(), "2 is as much as the MCID, and less than 3");
        Change two = change("1=4 2=5", "1=6 2=7", defaults);
        assertEquals("mean", two.thresholds().mdc().orElseThrow().id());
        assertEquals(Verdict.IMPORTANT_IMPROVEMENT, two.verdict(), "2 is more than 1.5");
    }

    @Test
    void theUsersOwnErrorHoldsForOneActivityToo() {
        for (String condition : List.of("", "some hand")) {
            ThresholdChoice choice = ThresholdChoice.of(
                            List.of(new ThresholdChoice.Row("c.csv row 2", "activities", "total", condition, "mean")),
                            id -> Optional.of(ACTIVITIES),
                            ConditionVocabulary.EMPTY)
                    .choice();
            Change one = change("1=4 2=5", "1=6 3=9", choice.thresholds(ACTIVITIES, TOTAL, HAND));
            assertEquals("mean", one.thresholds().mdc().orElseThrow().id(), condition);
        }
    }

    @Test
    void asManyDecimalsAsTellTheImprovementFromItsThresholds() {
        ThresholdSet defaults = ThresholdChoice.DEFAULTS.thresholds(ACTIVITIES, TOTAL, HAND);
        // 4.3333 against 2 and 1.5: one decimal tells enough
        assertEquals(
                new Figures(1), change("1=1 2=2 3=3", "1=5 2=6 3=8", defaults).figures(new Figures(1)));
        // 1.6667 rounds to 2 as the MCID does, and to 1.7 with a decimal
        assertEquals(
                new Figures(1), change("1=1 2=2 3=3", "1=2 2=4 3=5", defaults).figures(new Figures(0)));
        assertEquals(
                new Figures(0), change("1=1", "2=2", defaults).figures(new Figures(0)), "no improvement, no digits");
    }

    @Test
    void whoAskedNobodyIsKnownByTheMethod() {
        assertTrue(ACTIVITIES.threshold("mcid").orElseThrow().byDistribution());
        assertFalse(ACTIVITIES.threshold("mean").orElseThrow().byDistribution());
        assertTrue(ExampleThreshold.called("half", Threshold.Kind.MCID)
                .value(1)
                .method("half SD")
                .build()
                .byDistribution());
    }
}
