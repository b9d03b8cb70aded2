package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.BitSet;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Scales asked of each hand: two items per hand and one shared item, all 0 to 4; a scale of the person of two items; and their
 * mean. Expected values worked by hand.
 */
class HandsTest {
    private static Instrument instrument(Provenance hands) {
        return ExampleInstrument.called("example10")
                .itemPerHand("p_1", ExampleInstrument.codes(0, 4))
                .itemPerHand("p_2", ExampleInstrument.codes(0, 4))
                .item("shared", ExampleInstrument.codes(0, 4))
                .item("w_1", ExampleInstrument.codes(0, 4))
                .item("w_2", ExampleInstrument.codes(0, 4))
                .scale(
                        "pain",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.atLeast(2),
                        new Range(0, 12),
                        "p_1",
                        "p_2",
                        "shared")
                .scale(
                        "work",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 8),
                        "w_1",
                        "w_2")
                .parts("total", new PartRule.MeanOfParts(PUBLISHED), new Range(0, 10), "pain", "work")
                .handsAveraged(hands)
                .build();
    }

    private static final Instrument INSTRUMENT = instrument(PUBLISHED);

    /** Such as {@code pain/right=7}. */
    private static List<String> scores(String answers, Optional<Side> side) {
        return ScoringPlan.of(INSTRUMENT).score(ExampleInstrument.answers(INSTRUMENT, answers), side).stream()
                .map(HandsTest::inWords)
                .toList();
    }

    private static String inWords(ScoreResult r) {
        return r.scale() + r.hand().map(h -> "/" + h.code()).orElse("") + " "
                + r.scored()
                        .map(s -> Explanation.number(s.value()))
                        .orElse(r.reason().map(Reason::code).orElse(""))
                + " " + r.answered() + "/" + r.items()
                + r.bounds()
                        .map(b -> " " + Explanation.number(b.low()) + ".." + Explanation.number(b.high()))
                        .orElse("");
    }

    /** Right 1 + 2 + 4 = 7; left (0 + 4) x 3 / 2 = 6, possible 4 to 8; both (7 + 6) / 2; items of both counted once. */
    @Test
    void bothHandsAreTheMeanOfTheTwoAndSharedItemsCountOnce() {
        assertEquals(
                List.of(
                        "pain/right 7 3/3 7..7",
                        "pain/left 6 2/3 4..8",
                        "pain/both 6.5 4/5 5.5..7.5",
                        "work 4 2/2 4..4",
                        "total/right 5.5 5/5 5.5..5.5",
                        "total/left 5 4/5 4..6",
                        "total/both 5.25 6/7 4.75..5.75"),
                scores("p_1_right=1 p_2_right=2 p_1_left=0 shared=4 w_1=1 w_2=3", Optional.of(Side.BOTH)));
    }

    @ParameterizedTest
    @CsvSource({"RIGHT", "LEFT"})
    void aSittingOfOneSideGivesEachHandAnsweredAndNoMean(Side side) {
        assertEquals(
                List.of(
                        "pain/right 7 3/3 7..7",
                        "pain/left 6 2/3 4..8",
                        "work no-answers 0/2 0..8",
                        "total/right part-not-scored 3/5 3.5..7.5",
                        "total/left part-not-scored 2/5 2..8"),
                scores("p_1_right=1 p_2_right=2 p_1_left=0 shared=4", Optional.of(side)));
    }

    @Test
    void aHandWithoutAnAnswerOfItsOwnGivesNoRow() {
        assertEquals(
                List.of(
                        "pain/right too-few-answered 1/3 1..9",
                        "work no-answers 0/2 0..8",
                        "total/right part-not-scored 1/5 0.5..8.5"),
                scores("p_1_right=1", Optional.empty()));
        assertEquals(List.of("work 0 2/2 0..0"), scores("shared=4 w_1=0 w_2=0", Optional.of(Side.RIGHT)));
        assertEquals(List.of("work 0 2/2 0..0"), scores("shared=4 w_1=0 w_2=0", Optional.of(Side.BOTH)));
    }

    /** The left hand may be anything from 4 (the shared item's response) to 12. */
    @Test
    void ofBothHandsEachMustBeScored() {
        assertEquals(
                "pain/both part-not-scored 3/5 5.5..9.5",
                scores("p_1_right=1 p_2_right=2 shared=4", Optional.of(Side.BOTH))
                        .get(1));
    }

    @Test
    void aResponseThatIsNotAllowedLeavesBothHandsWithoutBounds() {
        assertEquals(
                List.of("pain/right 7 3/3 7..7", "pain/left response-not-allowed 1/3", "pain/both part-not-scored 3/5"),
                scores("p_1_right=1 p_2_right=2 p_1_left=9 shared=4", Optional.of(Side.BOTH))
                        .subList(0, 3));
        assertEquals(
                List.of("pain/right response-not-allowed 1/3", "pain/left response-not-allowed 1/3"),
                scores("p_1_right=1 p_1_left=2 shared=9", Optional.of(Side.BOTH))
                        .subList(0, 2));
        assertEquals(
                "pain/both part-not-scored 2/5",
                scores("p_1_right=1 p_1_left=2 shared=9", Optional.of(Side.BOTH))
                        .get(2));
    }

    @Test
    void oneGapInEitherHandMakesTheMeanOneWithMissing() {
        Responses full = ExampleInstrument.answers(
                INSTRUMENT, "p_1_right=1 p_2_right=2 p_1_left=0 p_2_left=0 shared=4 w_1=1 w_2=3");
        Responses gapRight =
                ExampleInstrument.answers(INSTRUMENT, "p_1_right=1 p_1_left=0 p_2_left=0 shared=4 w_1=1 w_2=3");
        assertEquals(ScoreResult.Outcome.COMPLETE, both(full).outcome());
        assertEquals(Optional.of(new Range(5.5, 5.5)), both(full).bounds());
        assertEquals(ScoreResult.Outcome.WITH_MISSING, both(gapRight).outcome());
        assertEquals(Optional.of(new Range(4.5, 6.5)), both(gapRight).bounds()); // right 5 to 9, left 4
        ScoreBuffer buffer = ScoringPlan.of(INSTRUMENT).newBuffer();
        ScoringPlan.of(INSTRUMENT).scoreInto(gapRight.array(), 0, true, buffer);
        assertEquals(ScoreResult.Outcome.WITH_MISSING, buffer.outcome(2));
        assertEquals(ScoreResult.Outcome.WITH_MISSING, buffer.outcome(4)); // total of the right hand
        assertEquals(ScoreResult.Outcome.COMPLETE, buffer.outcome(5));
    }

    private static ScoreResult both(Responses responses) {
        return ScoringPlan.of(INSTRUMENT)
                .score(responses, Optional.of(Side.BOTH))
                .get(2);
    }

    @Test
    void aMeanOfHandsThatIsNotPublishedIsOffWhenOnlyPublishedRulesCount() {
        Instrument ours = instrument(OURS);
        Responses responses =
                ExampleInstrument.answers(ours, "p_1_right=1 p_2_right=2 p_1_left=0 p_2_left=0 shared=4 w_1=1 w_2=3");
        ScoringOptions published = new ScoringOptions(false, true);
        List<ScoreResult> results = ScoringPlan.of(ours, published).score(responses, Optional.of(Side.BOTH));
        assertEquals("pain/both rule-not-published 5/5", inWords(results.get(2)));
        assertEquals(
                "pain/both 5.5 5/5 5.5..5.5",
                inWords(ScoringPlan.of(instrument(PUBLISHED), published)
                        .score(responses, Optional.of(Side.BOTH))
                        .get(2)));
        assertEquals(
                "pain/both 5.5 5/5 5.5..5.5",
                inWords(ScoringPlan.of(ours)
                        .score(responses, Optional.of(Side.BOTH))
                        .get(2)));
    }

    @Test
    void withoutAStatementNoMeanOfHandsExists() {
        Instrument plain = ExampleInstrument.called("example10")
                .itemPerHand("p", ExampleInstrument.codes(0, 4))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4))
                .build();
        List<ScoreResult> results = ScoringPlan.of(plain)
                .score(ExampleInstrument.answers(plain, "p_right=1 p_left=2"), Optional.of(Side.BOTH));
        assertEquals(
                List.of("pain/right 1 1/1 1..1", "pain/left 2 1/1 2..2"),
                results.stream().map(HandsTest::inWords).toList());
    }

    @ParameterizedTest
    @CsvSource(
            nullValues = "-",
            value = {
                "RIGHT, pain/right work total/right",
                "LEFT, pain/left work total/left",
                "BOTH, pain/right pain/left pain/both work total/right total/left total/both",
                "-, work"
            })
    void anExpectedFormLeftBlankGivesTheHandsOfItsSide(Side side, String rows) {
        List<ScoreResult> results = ScoringPlan.of(INSTRUMENT)
                .score(
                        ExampleInstrument.answers(INSTRUMENT, ""),
                        Optional.ofNullable(side),
                        RequestedColumns.form(INSTRUMENT));
        assertEquals(
                List.of(rows.split(" ")),
                results.stream()
                        .map(r -> r.scale() + r.hand().map(h -> "/" + h.code()).orElse(""))
                        .toList());
        results.forEach(r -> assertTrue(r.scored().isEmpty()));
    }

    @Test
    void anAnsweredHandDecidesWhateverTheExpectedFormsSide() {
        List<ScoreResult> results = ScoringPlan.of(INSTRUMENT)
                .score(
                        ExampleInstrument.answers(INSTRUMENT, "p_1_left=1"),
                        Optional.of(Side.RIGHT),
                        RequestedColumns.form(INSTRUMENT));
        assertEquals("pain/left too-few-answered 1/3 1..9", inWords(results.get(0)));
        assertEquals(3, results.size());
    }

    /** A module asked of each hand and left out, a total that leaves one item of the person out. */
    @Test
    void aModuleLeftOutOfBothHandsGivesNoRow() {
        Instrument instrument = ExampleInstrument.called("example10")
                .itemPerHand("p", ExampleInstrument.codes(0, 4))
                .itemPerHand("m_1", ExampleInstrument.codes(0, 4))
                .itemPerHand("m_2", ExampleInstrument.codes(0, 4))
                .item("w", ExampleInstrument.codes(0, 4))
                .item("beside", ExampleInstrument.codes(0, 4))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "p")
                .scale(
                        "module",
                        new ItemRule.Sum(1, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 8),
                        "m_1",
                        "m_2")
                .optional()
                .scale("life", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "w")
                .parts("total", new PartRule.SumOfParts(PUBLISHED), new Range(0, 8), "pain", "life")
                .handsAveraged(PUBLISHED)
                .build();
        assertEquals(
                List.of(
                        "pain/right 1 1/1 1..1",
                        "pain/left 2 1/1 2..2",
                        "pain/both 1.5 2/2 1.5..1.5",
                        "life 3 1/1 3..3",
                        "total/right 4 2/2 4..4",
                        "total/left 5 2/2 5..5",
                        "total/both 4.5 3/3 4.5..4.5"),
                ScoringPlan.of(instrument)
                        .score(
                                ExampleInstrument.answers(instrument, "p_right=1 p_left=2 w=3 beside=4"),
                                Optional.of(Side.BOTH))
                        .stream()
                        .map(HandsTest::inWords)
                        .toList());
    }

    @Test
    void outputsNameEveryScoreInTheOrderOfTheDefinition() {
        assertEquals(
                List.of("pain RIGHT", "pain LEFT", "pain BOTH", "work", "total RIGHT", "total LEFT", "total BOTH"),
                ScoringPlan.of(INSTRUMENT).outputs().stream()
                        .map(o ->
                                (o.scale().id() + " " + o.hand().map(Side::name).orElse("")).strip())
                        .toList());
        assertTrue(INSTRUMENT.perHand(INSTRUMENT.scale(new ScaleId("total")).orElseThrow()));
        assertFalse(INSTRUMENT.perHand(INSTRUMENT.scale(new ScaleId("work")).orElseThrow()));
    }

    @Test
    void aFormNamesTheColumnsOfItsScalesButNotOfOptionalOnes() {
        Instrument module = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(0, 4))
                .item("kept", ExampleInstrument.codes(0, 4))
                .scale("main", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "1")
                .scale("work", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "2")
                .optional()
                .parts("total", new PartRule.SumOfParts(PUBLISHED), new Range(0, 8), "main", "work")
                .build();
        RequestedColumns form = RequestedColumns.form(module);
        assertTrue(form.any(new int[] {0}));
        assertFalse(form.any(new int[] {1}));
        assertFalse(form.any(new int[] {2}));
        assertFalse(form.isEmpty());
        assertTrue(RequestedColumns.NOTHING.isEmpty());
        assertFalse(RequestedColumns.NOTHING.any(new int[] {0}));
        BitSet second = new BitSet();
        second.set(1);
        RequestedColumns named = RequestedColumns.columns(second);
        second.set(0);
        assertFalse(named.any(new int[] {0}), "the caller's set is copied");
        assertTrue(named.any(new int[] {0, 1}));
    }
}
