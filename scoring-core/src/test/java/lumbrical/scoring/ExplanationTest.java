package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.FROM_MEMORY;
import static lumbrical.scoring.ExampleInstrument.OURS;
import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static lumbrical.scoring.ExampleInstrument.SECOND_HAND;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.PartRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.instrument.Standing;
import lumbrical.number.Numbers;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The arithmetic as a reader sees it, line by line, on invented instruments; worked by hand. */
class ExplanationTest {
    private static final String PAPER = "Nobody, Journal of Examples, 1999 (p. 7). DOI 10.0/ex";

    private static List<Explanation> explain(
            Instrument instrument, ScoringOptions options, String answers, Optional<Side> side) {
        return Explanation.of(
                ScoringPlan.of(instrument, options), ExampleInstrument.answers(instrument, answers), side);
    }

    private static String text(Instrument instrument, String answers) {
        return text(explain(instrument, ScoringOptions.AS_DEFINED, answers, Optional.empty())
                .get(0));
    }

    private static String text(Explanation explanation) {
        return String.join("\n", explanation.lines()) + "\n";
    }

    private static Instrument threeItems(ItemRule rule, MissingRule missing, Range range, String... of) {
        return ExampleInstrument.called("example10")
                .items(3, ExampleInstrument.codes(1, 5))
                .scale("total", rule, missing, range, of)
                .build();
    }

    @Test
    void aCompleteRescaledMeanWithAReversedItem() {
        Instrument instrument = threeItems(
                new ItemRule.RescaledMean(1, 25, PUBLISHED),
                ExampleInstrument.atLeast(2),
                new Range(0, 100),
                "1",
                "-2",
                "3");
        assertEquals(
                """
                example10@3 total (Title of total): from 0 to 100, lower is better
                  responses used:
                    example10_1 topic 1: 4
                    example10_2 topic 2: 2, reversed: 1 + 5 - 2 = 4
                    example10_3 topic 3: 3
                  sum of the answered: 4 + 4 + 3 = 11, answered 3 of 3
                  missing-item rule: at least 2 of 3 must be answered; their mean stands in for each unanswered one (paper; %1$s)
                  score: (11 / 3 - 1) x 25 = 66.666667
                  source of the formula: %1$s
                  outcome: complete, score 66.666667
                """
                        .formatted(PAPER),
                text(instrument, "1=4 2=2 3=3"));
    }

    @Test
    void aRescaledSumWithAGapShowsTheFullSum() {
        Instrument instrument =
                threeItems(new ItemRule.RescaledSum(3, 15, OURS), ExampleInstrument.atLeast(2), new Range(0, 100));
        assertEquals(
                """
                example10@3 total (Title of total): from 0 to 100, lower is better
                  responses used:
                    example10_1 topic 1: 4
                    example10_2 topic 2: not answered
                    example10_3 topic 3: 3
                  sum of the answered: 4 + 3 = 7, answered 2 of 3
                  missing-item rule: at least 2 of 3 must be answered; their mean stands in for each unanswered one (paper; %1$s)
                  unanswered: 1
                  full sum with the mean standing in: 7 x 3 / 2 = 10.5
                  score: 100 x (10.5 - 3) / (15 - 3) = 62.5
                  source of the formula: a convention of ours
                  outcome: with-missing, score 62.5; any answers to the unanswered would give 41.666667 to 75
                """
                        .formatted(PAPER),
                text(instrument, "1=4 3=3"));
    }

    @Test
    void aMeanWithAGapNeedsNoFullSum() {
        Instrument instrument =
                threeItems(new ItemRule.Mean(SECOND_HAND), ExampleInstrument.atLeast(1, OURS), new Range(1, 5));
        assertEquals(
                """
                example10@3 total (Title of total): from 1 to 5, lower is better
                  responses used:
                    example10_1 topic 1: not answered
                    example10_2 topic 2: not answered
                    example10_3 topic 3: 3
                  sum of the answered: 3, answered 1 of 3
                  missing-item rule: at least 1 of 3 must be answered; their mean stands in for each unanswered one (paper; a convention of ours)
                  unanswered: 2
                  score: 3 / 1 = 3
                  source of the formula: second-hand; %1$s
                  outcome: with-missing, score 3; any answers to the unanswered would give 1.666667 to 4.333333
                """
                        .formatted(PAPER),
                text(instrument, "3=3"));
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "1 | 1=4 2=5 3=3 |   score: sum = 12",
                "2 | 1=4 2=5 3=3 |   score: 12 / 2 = 6",
                "2 | 1=4 3=3     |   score: 10.5 / 2 = 5.25",
                "1 | 1=4 3=3     |   score: sum = 10.5"
            })
    void aSumSaysWhatItIsDividedBy(double dividedBy, String answers, String score) {
        String text = text(
                threeItems(new ItemRule.Sum(dividedBy, FROM_MEMORY), ExampleInstrument.atLeast(2), new Range(0, 15)),
                answers);
        assertEquals("  " + score, lineWith(text, "score: "));
        assertEquals("  source of the formula: from memory, to be checked", lineWith(text, "source of the formula"));
    }

    private static String lineWith(String text, String part) {
        return text.lines().filter(l -> l.contains(part)).findFirst().orElse("");
    }

    @Test
    void aScaleThatIsNotScoredSaysWhyAndShowsNoFormula() {
        Instrument instrument = threeItems(
                new ItemRule.RescaledMean(1, 25, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 100));
        assertEquals(
                """
                example10@3 total (Title of total): from 0 to 100, lower is better
                  responses used:
                    example10_1 topic 1: 4
                    example10_2 topic 2: not allowed
                    example10_3 topic 3: not answered
                  sum of the answered: 4, answered 1 of 3
                  missing-item rule: all must be answered (manual; %1$s)
                  unanswered: 1
                  source of the formula: %1$s
                  outcome: not-scored, response-not-allowed
                """
                        .formatted(PAPER),
                text(instrument, "1=4 2=9"));
        assertEquals(
                "  outcome: not-scored, too-few-answered; any answers to the unanswered would give 41.666667 to 75",
                lineWith(text(instrument, "1=4 2=3"), "outcome"));
    }

    @Test
    void aScaleWithoutAnAnswerBesideAnotherWithSomeHasNoSum() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(3, ExampleInstrument.codes(1, 5))
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(2, 10), "1", "2")
                .scale("b", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(1, 5), "3")
                .build();
        String text = text(instrument, "3=3");
        assertEquals("  sum of the answered: none, answered 0 of 2", lineWith(text, "sum of"));
        assertEquals("  unanswered: 2", lineWith(text, "unanswered: "));
        assertEquals(
                "  outcome: not-scored, no-answers; any answers to the unanswered would give 2 to 10",
                lineWith(text, "outcome"));
    }

    @Test
    void aRuleSwitchedOffIsSaid() {
        Instrument ours = threeItems(new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(2, OURS), new Range(1, 5));
        String off =
                "  missing-item rule: at least 2 of 3 must be answered; their mean stands in for each unanswered one"
                        + " (paper; a convention of ours); switched off for this run, so all must be answered";
        String on =
                "  missing-item rule: at least 2 of 3 must be answered; their mean stands in for each unanswered one"
                        + " (paper; a convention of ours)";
        for (ScoringOptions options : List.of(
                new ScoringOptions(true, false), new ScoringOptions(false, true), new ScoringOptions(true, true))) {
            assertEquals(
                    off,
                    lineWith(
                            text(explain(ours, options, "1=2 2=3", Optional.empty())
                                    .get(0)),
                            "missing-item rule"));
        }
        assertEquals(on, lineWith(text(ours, "1=2 2=3"), "missing-item rule"));
        Instrument published = threeItems(new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(2), new Range(1, 5));
        assertEquals(
                "  missing-item rule: at least 2 of 3 must be answered; their mean stands in for each unanswered one (paper; "
                        + PAPER + ")",
                lineWith(
                        text(explain(published, new ScoringOptions(false, true), "1=2 2=3", Optional.empty())
                                .get(0)),
                        "missing-item rule"));
    }

    @Test
    void itemsNotRatedDoNotCount() {
        Instrument instrument = threeItems(new ItemRule.Mean(PUBLISHED), ExampleInstrument.rated(1), new Range(1, 5));
        assertEquals(
                """
                example10@3 total (Title of total): from 1 to 5, lower is better
                  responses used:
                    example10_1 topic 1: 4
                    example10_2 topic 2: not answered
                    example10_3 topic 3: 3
                  sum of the answered: 4 + 3 = 7, answered 2 of 3
                  missing-item rule: items not rated do not count; at least 1 must be rated (convention; a convention of ours)
                  score: 7 / 2 = 3.5
                  source of the formula: %1$s
                  outcome: complete, score 3.5
                """
                        .formatted(PAPER),
                text(instrument, "1=4 3=3"));
    }

    @Test
    void aTableGivesItsRowAndTheInterval() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(1, 2))
                .scale(
                        "tscore",
                        new ItemRule.Table(
                                List.of(
                                        new ItemRule.Table.Row(2, 40, OptionalDouble.of(2.5)),
                                        new ItemRule.Table.Row(3, 50, OptionalDouble.of(3)),
                                        new ItemRule.Table.Row(4, 60, OptionalDouble.of(5))),
                                PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(40, 60))
                .build();
        assertEquals(
                """
                example10@3 tscore (Title of tscore): from 40 to 60, lower is better
                  responses used:
                    example10_1 topic 1: 1
                    example10_2 topic 2: 1
                  sum of the answered: 1 + 1 = 2, answered 2 of 2
                  missing-item rule: all must be answered (manual; %1$s)
                  score: row of the conversion table for the sum 2 = 40
                  standard error 2.5, 95 %% interval 35.1 to 44.9
                  source of the formula: %1$s
                  outcome: complete, score 40
                """
                        .formatted(PAPER),
                text(instrument, "1=1 2=1"));
        assertEquals(
                "  standard error 5, 95 % interval 50.2 to 69.8",
                lineWith(text(instrument, "1=2 2=2"), "standard error"));
        assertEquals("", lineWith(text(instrument, "1=2"), "standard error"));
    }

    @Test
    void aSkipIsSaidWithItsSource() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(0, 4))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 8))
                .higherIsBetter()
                .skip("1", 0, 0, SECOND_HAND)
                .build();
        assertEquals(
                """
                example10@3 total (Title of total): from 0 to 8, higher is better
                  responses used:
                    example10_1 topic 1: 0
                    example10_2 topic 2: not answered
                  item 1 holds 0: the form lets the person skip the other items, and the score is 0
                  source: second-hand; %1$s
                  outcome: complete, score 0
                """
                        .formatted(PAPER),
                text(instrument, "1=0"));
        assertEquals("  score: sum = 3", lineWith(text(instrument, "1=1 2=2"), "score: "));
        assertEquals("", lineWith(text(instrument, "1=1 2=2"), "skip"));
    }

    private static Instrument twoParts(PartRule rule) {
        return ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(0, 10))
                .scale("a", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10), "1")
                .onlyStep()
                .scale("b", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 10), "2")
                .onlyStep()
                .parts("total", rule, new Range(0, 20), "a", "-b")
                .build();
    }

    @Test
    void aScaleOfPartsShowsEachPart() {
        assertEquals(
                """
                example10@3 total (Title of total): from 0 to 20, lower is better
                  part a: 3
                  part b: 4, reversed: 10 - 4 = 6
                  score: (3 + 6) / 2 = 4.5
                  source of the formula: %1$s
                  outcome: complete, score 4.5
                """
                        .formatted(PAPER),
                text(twoParts(new PartRule.MeanOfParts(PUBLISHED)), "1=3 2=4"));
        String sum = text(twoParts(new PartRule.SumOfParts(OURS)), "1=3 2=4");
        assertEquals("  score: 3 + 6 = 9", lineWith(sum, "score: "));
        assertEquals("  source of the formula: a convention of ours", lineWith(sum, "source"));
    }

    @Test
    void aMissingPartIsSaid() {
        assertEquals(
                """
                example10@3 total (Title of total): from 0 to 20, lower is better
                  part a: 3
                  part b: no score
                  every part is needed
                  source of the formula: %1$s
                  outcome: not-scored, part-not-scored; any answers to the unanswered would give 3 to 13
                """
                        .formatted(PAPER),
                text(twoParts(new PartRule.SumOfParts(PUBLISHED)), "1=3"));
    }

    @Test
    void handsAreExplainedEachAndTogether() {
        Instrument instrument = ExampleInstrument.called("example10")
                .itemPerHand("p", ExampleInstrument.codes(0, 4))
                .item("w", ExampleInstrument.codes(0, 4))
                .scale("pain", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "p")
                .scale("work", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 4), "w")
                .parts("total", new PartRule.SumOfParts(PUBLISHED), new Range(0, 8), "pain", "work")
                .handsAveraged(new Provenance(Standing.OURS, "paper"))
                .build();
        List<Explanation> all =
                explain(instrument, ScoringOptions.AS_DEFINED, "p_right=1 p_left=4 w=2", Optional.of(Side.BOTH));
        assertEquals(7, all.size());
        assertEquals(
                "example10@3 pain (Title of pain), right hand: from 0 to 4, lower is better",
                all.get(0).lines().get(0));
        assertEquals("    example10_p_right topic p: 1", all.get(0).lines().get(2));
        assertEquals("    example10_p_left topic p: 4", all.get(1).lines().get(2));
        assertEquals(
                """
                example10@3 pain (Title of pain), both hands: from 0 to 4, lower is better
                  both hands: mean of the right and the left score
                    right: 1
                    left: 4
                  source: a convention of ours; see %1$s
                  outcome: complete, score 2.5
                """
                        .formatted(PAPER),
                text(all.get(2)));
        assertEquals(
                """
                example10@3 total (Title of total), left hand: from 0 to 8, lower is better
                  part pain: 4
                  part work: 2
                  score: 4 + 2 = 6
                  source of the formula: %1$s
                  outcome: complete, score 6
                """
                        .formatted(PAPER),
                text(all.get(5)));
        assertEquals(all.get(5).result().hand(), Optional.of(Side.LEFT));
    }

    @ParameterizedTest
    @CsvSource({
        "0, 0",
        "-0.0, 0",
        "12, 12",
        "100, 100",
        "0.5, 0.5",
        "33.333333333333336, 33.333333",
        "66.66666666666667, 66.666667",
        "0.0000005, 0.000001",
        "0.0000004, 0",
        "-2.5, -2.5",
        "1.0000005, 1.000001"
    })
    void aNumberHasAtMostSixDecimals(double value, String text) {
        assertEquals(text, Numbers.format(value));
    }
}
