package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.FROM_MEMORY;
import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static lumbrical.scoring.ExampleInstrument.SECOND_HAND;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.Arrays;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.ScaleId;
import lumbrical.number.Numbers;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Which rules count under complete-only and published-only; which scales give a row at all. */
class OptionsTest {
    private static Provenance provenance(String standing) {
        return switch (standing) {
            case "published" -> PUBLISHED;
            case "second-hand" -> SECOND_HAND;
            case "from-memory" -> FROM_MEMORY;
            case "ours" -> OURS;
            default -> throw new IllegalArgumentException(standing);
        };
    }

    private static Instrument instrument(String formula, String codes, String missing, String skip) {
        ExampleInstrument made = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(PUBLISHED, 0, 1, 2))
                .item("3", ExampleInstrument.codes(provenance(codes), 0, 1, 2))
                .scale(
                        "total",
                        new ItemRule.Sum(1, provenance(formula)),
                        ExampleInstrument.atLeast(2, provenance(missing)),
                        new Range(0, 6));
        return skip.equals("no")
                ? made.build()
                : made.skip("1", 0, 0, provenance(skip)).build();
    }

    private static String outcome(Instrument instrument, ScoringOptions options, String answers) {
        ScoreResult result = ScoringPlan.of(instrument, options)
                .score(ExampleInstrument.answers(instrument, answers), Optional.empty())
                .get(0);
        return result.reason().map(Reason::code).orElse(result.outcome().code());
    }

    @ParameterizedTest
    @CsvSource({
        // standing of formula, codes, missing-item rule and skip; then complete form, form with a gap
        "published, published, published, no, complete, with-missing",
        "published, published, published, published, complete, with-missing",
        "second-hand, published, published, no, rule-not-published, rule-not-published",
        "ours, published, published, no, rule-not-published, rule-not-published",
        "published, from-memory, published, no, rule-not-published, rule-not-published",
        "published, published, from-memory, no, complete, too-few-answered",
        "published, published, ours, no, complete, too-few-answered",
        "published, published, published, from-memory, rule-not-published, rule-not-published"
    })
    void publishedOnlyUsesWhatIsPublished(
            String formula, String codes, String missing, String skip, String full, String gap) {
        Instrument instrument = instrument(formula, codes, missing, skip);
        ScoringOptions publishedOnly = new ScoringOptions(false, true);
        assertEquals(full, outcome(instrument, publishedOnly, "1=1 2=1 3=2"));
        assertEquals(gap, outcome(instrument, publishedOnly, "1=1 2=1"));
        assertEquals("complete", outcome(instrument, ScoringOptions.AS_DEFINED, "1=1 2=1 3=2"));
        assertEquals("with-missing", outcome(instrument, ScoringOptions.AS_DEFINED, "1=1 2=1"));
    }

    @Test
    void aRuleNotPublishedComesBeforeAResponseNotAllowedAndGivesNoBounds() {
        Instrument instrument = instrument("ours", "published", "published", "no");
        ScoreResult result = ScoringPlan.of(instrument, new ScoringOptions(false, true))
                .score(ExampleInstrument.answers(instrument, "1=1 2=9"), Optional.empty())
                .get(0);
        assertEquals(Optional.of(Reason.RULE_NOT_PUBLISHED), result.reason());
        assertEquals(Optional.empty(), result.bounds());
        assertEquals(List.of(3, 1), List.of(result.items(), result.answered()));
    }

    @Test
    void completeOnlyTurnsTheMissingItemRuleOffAndKeepsTheBounds() {
        Instrument instrument = instrument("published", "published", "published", "no");
        ScoringOptions completeOnly = new ScoringOptions(true, false);
        assertEquals("complete", outcome(instrument, completeOnly, "1=1 2=1 3=2"));
        ScoreResult gap = ScoringPlan.of(instrument, completeOnly)
                .score(ExampleInstrument.answers(instrument, "1=1 2=1"), Optional.empty())
                .get(0);
        assertEquals(Optional.of(Reason.TOO_FEW_ANSWERED), gap.reason());
        assertEquals(Optional.of(new Range(2, 4)), gap.bounds());
        assertEquals(completeOnly, ScoringPlan.of(instrument, completeOnly).options());
    }

    /** Items that the person did not name are not missing, so there is no rule to turn off. */
    @Test
    void completeOnlyLeavesRatedItemsAlone() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(5, ExampleInstrument.codes(0, 10))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(1), new Range(0, 10))
                .build();
        assertEquals("complete", outcome(instrument, new ScoringOptions(true, false), "1=1 4=3"));
    }

    private static final Instrument WITH_MODULE = ExampleInstrument.called("example10")
            .items(2, ExampleInstrument.codes(1, 5))
            .item("work_1", ExampleInstrument.codes(1, 5))
            .item("work_2", ExampleInstrument.codes(1, 5))
            .item("rest", ExampleInstrument.codes(0, 10))
            .scale("main", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(2, 10), "1", "2")
            .scale(
                    "work",
                    new ItemRule.Sum(1, PUBLISHED),
                    ExampleInstrument.noneMissing(),
                    new Range(2, 10),
                    "work_1",
                    "work_2")
            .optional()
            .scale("rest", new ItemRule.Sum(1, OURS), ExampleInstrument.noneMissing(), new Range(0, 10), "rest")
            .parts("sum", new PartRule.SumOfParts(OURS), new Range(4, 20), "main", "-work")
            .onlyStep()
            .build();

    /** The scale that is only a step stands after the three reported ones. */
    private static final int SUM = 3;

    private static List<String> rows(String answers, ScoringOptions options, RequestedColumns named) {
        return ScoringPlan.of(WITH_MODULE, options)
                .score(ExampleInstrument.answers(WITH_MODULE, answers), Optional.empty(), named)
                .stream()
                .map(r -> r.scale() + " "
                        + r.scored()
                                .map(s -> Numbers.format(s.value()))
                                .orElse(r.reason().map(Reason::code).orElse("")))
                .toList();
    }

    @Test
    void aModuleOrAScaleOfOneItemWithoutAnAnswerGivesNoRow() {
        ScoringOptions asDefined = ScoringOptions.AS_DEFINED;
        assertEquals(List.of("main 3"), rows("1=1 2=2", asDefined, RequestedColumns.NOTHING));
        assertEquals(
                List.of("main no-answers", "work too-few-answered"),
                rows("work_1=1", asDefined, RequestedColumns.NOTHING));
        assertEquals(List.of("main no-answers", "rest 0"), rows("rest=0", asDefined, RequestedColumns.NOTHING));
        assertEquals(
                List.of("main no-answers", "work response-not-allowed"),
                rows("work_1=7", asDefined, RequestedColumns.NOTHING));
        assertEquals(List.of(), rows("", asDefined, RequestedColumns.NOTHING));
    }

    @Test
    void aNamedColumnGivesItsScaleARow() {
        BitSet work = new BitSet();
        work.set(3);
        assertEquals(
                List.of("main no-answers", "work no-answers"),
                rows("", ScoringOptions.AS_DEFINED, RequestedColumns.columns(work)));
        assertEquals(
                List.of("main no-answers", "rest no-answers"),
                rows("", ScoringOptions.AS_DEFINED, RequestedColumns.form(WITH_MODULE)));
    }

    @Test
    void aRuleNotPublishedNeedsAnAnswerToBeSaid() {
        ScoringOptions publishedOnly = new ScoringOptions(false, true);
        assertEquals(List.of("main 3"), rows("1=1 2=2", publishedOnly, RequestedColumns.NOTHING));
        assertEquals(
                List.of("main 3", "rest rule-not-published"),
                rows("1=1 2=2 rest=4", publishedOnly, RequestedColumns.NOTHING));
    }

    private static ScoreBuffer scored(ScoringOptions options, String answers) {
        ScoringPlan plan = ScoringPlan.of(WITH_MODULE, options);
        ScoreBuffer buffer = plan.newBuffer();
        plan.scoreInto(ExampleInstrument.answers(WITH_MODULE, answers).array(), 0, false, buffer);
        return buffer;
    }

    /** 3 + (2 + 10 - 4) = 11; a step of another scale is computed and not reported. */
    @Test
    void aStepIsComputedButNoRow() {
        String answers = "1=1 2=2 work_1=1 work_2=3";
        ScoringPlan plan = ScoringPlan.of(WITH_MODULE);
        Responses responses = ExampleInstrument.answers(WITH_MODULE, answers);
        assertEquals(2, plan.score(responses, Optional.empty()).size());
        assertEquals(2, plan.trace(responses, Optional.empty()).size());
        assertEquals(
                List.of("main", "work", "rest"),
                plan.outputs().stream().map(o -> o.scale().id().value()).toList());
        ScoreBuffer buffer = scored(ScoringOptions.AS_DEFINED, answers);
        assertEquals(11, buffer.value(SUM));
        ScoreBuffer off = scored(new ScoringOptions(false, true), answers);
        assertEquals(Reason.RULE_NOT_PUBLISHED, off.reason(SUM));
        assertEquals(false, off.hasBounds(SUM));
    }

    /** An open module of a total that needs it: main 3, work 2 to 10 turned round: 3 + 2 to 3 + 10. */
    @Test
    void aTotalWithAPartMissingIsBoundedByWhatThePartCouldBe() {
        ScoreBuffer buffer = scored(ScoringOptions.AS_DEFINED, "1=1 2=2");
        assertEquals(Reason.PART_NOT_SCORED, buffer.reason(SUM));
        assertEquals(List.of(5.0, 13.0), List.of(buffer.low(SUM), buffer.high(SUM)));
    }

    @Test
    void anOptionalTotalOfOptionalPartsIsSilentWithoutAnAnswer() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(3, ExampleInstrument.codes(1, 5))
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(1, 5), "1")
                .scale("b", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(1, 5), "2")
                .scale("c", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(1, 5), "3")
                .parts("total", new PartRule.MeanOfParts(PUBLISHED), new Range(1, 5), "a", "b")
                .optional()
                .parts("all", new PartRule.MeanOfParts(PUBLISHED), new Range(1, 5), "total", "c")
                .build();
        ScoringPlan plan = ScoringPlan.of(instrument);
        List<ScoreResult> open = plan.score(ExampleInstrument.answers(instrument, "3=4"), Optional.empty());
        assertEquals(
                List.of("c", "all"), open.stream().map(r -> r.scale().value()).toList());
        assertEquals(Optional.of(new Range(2.5, 4.5)), open.get(1).bounds()); // (1 + 4) / 2 to (5 + 4) / 2
        assertEquals(
                List.of("a", "c", "total", "all"),
                plan.score(ExampleInstrument.answers(instrument, "1=2 3=4"), Optional.empty()).stream()
                        .map(r -> r.scale().value())
                        .toList());
    }

    @Test
    void aScaleOfAnItemThatIsNotTheInstrumentsIsRefused() {
        Instrument one = ExampleInstrument.called("example10")
                .items(1, ExampleInstrument.codes(0, 1))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 1))
                .build();
        Instrument foreign = TestInstruments.instrument(List.of(), one.scales());
        IllegalArgumentException refused = assertThrows(IllegalArgumentException.class, () -> ScoringPlan.of(foreign));
        assertEquals("Item 1 is not an item of example10@1", refused.getMessage());
    }

    @Test
    void aScoreIsANumber() {
        assertEquals(
                "Score of total is NaN",
                assertThrows(
                                IllegalArgumentException.class,
                                () -> new ScoreResult.Scored(
                                        "example@1",
                                        new ScaleId("total"),
                                        Optional.empty(),
                                        Double.NaN,
                                        1,
                                        1,
                                        new Range(0, 1),
                                        Optional.empty()))
                        .getMessage());
    }

    @Test
    void aBufferTellsScoresFromNone() {
        ScoringPlan plan = ScoringPlan.of(WITH_MODULE);
        ScoreBuffer buffer = plan.newBuffer();
        plan.scoreInto(ExampleInstrument.answers(WITH_MODULE, "1=1 2=2 rest=11").array(), 0, false, buffer);
        assertEquals(List.of(true, false, true), List.of(buffer.hasRow(0), buffer.hasRow(1), buffer.hasRow(2)));
        assertEquals(List.of(true, false), List.of(buffer.isScored(0), buffer.isScored(2)));
        assertEquals(List.of(true, false), List.of(buffer.hasBounds(0), buffer.hasBounds(2)));
        assertEquals(List.of(3.0, 3.0, 3.0), List.of(buffer.value(0), buffer.low(0), buffer.high(0)));
        assertEquals(List.of(2, 2), List.of(buffer.items(0), buffer.answered(0)));
        assertEquals(ScoreResult.Outcome.COMPLETE, buffer.outcome(0));
        assertEquals(ScoreResult.Outcome.NOT_SCORED, buffer.outcome(2));
        assertEquals(Reason.RESPONSE_NOT_ALLOWED, buffer.reason(2));
        assertEquals(false, buffer.hasStandardError(0));
        assertEquals(
                "Slot 1 has no row",
                assertThrows(IllegalStateException.class, () -> buffer.outcome(1))
                        .getMessage());
        assertEquals(
                "Slot 0 is scored or has no row",
                assertThrows(IllegalStateException.class, () -> buffer.reason(0))
                        .getMessage());
        assertThrows(IllegalStateException.class, () -> buffer.reason(1));
    }

    /** A buffer is used again and again: nothing of the sitting before may stay. */
    @Test
    void aBufferKeepsNothingOfTheSittingBefore() {
        ScoringPlan plan = ScoringPlan.of(WITH_MODULE);
        ScoreBuffer buffer = plan.newBuffer();
        double[] first = ExampleInstrument.answers(WITH_MODULE, "1=1 2=2 rest=4 work_1=1 work_2=1")
                .array();
        plan.scoreInto(first, 0, false, buffer);
        assertEquals(true, buffer.hasRow(1));
        plan.scoreInto(new double[] {1, 1, Double.NaN, Double.NaN, Double.NaN}, 0, false, buffer);
        assertEquals(List.of(true, false, false), List.of(buffer.hasRow(0), buffer.hasRow(1), buffer.hasRow(2)));
        double[] blank = new double[5];
        Arrays.fill(blank, Double.NaN);
        plan.scoreInto(blank, 0, false, buffer);
        assertEquals(List.of(false, false, false), List.of(buffer.hasRow(0), buffer.hasRow(1), buffer.hasRow(2)));
    }
}
