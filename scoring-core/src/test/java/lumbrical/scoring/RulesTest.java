package lumbrical.scoring;

import static lumbrical.scoring.ExampleInstrument.PUBLISHED;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Range;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvFileSource;
import org.junit.jupiter.params.provider.CsvSource;

/** Every formula and missing-item rule on small invented instruments; expected values worked by hand. */
class RulesTest {
    static ItemRule rule(String text) {
        String[] words = text.split(" ");
        double[] numbers =
                Arrays.stream(words).skip(1).mapToDouble(Double::parseDouble).toArray();
        return switch (words[0]) {
            case "sum" -> new ItemRule.Sum(numbers.length == 0 ? 1 : numbers[0], PUBLISHED);
            case "mean" -> new ItemRule.Mean(PUBLISHED);
            case "rescaled-mean" -> new ItemRule.RescaledMean(numbers[0], numbers[1], PUBLISHED);
            case "rescaled-sum" -> new ItemRule.RescaledSum(numbers[0], numbers[1], PUBLISHED);
            default -> throw new IllegalArgumentException(text);
        };
    }

    private static MissingRule missing(String text) {
        String[] words = text.split(" ");
        return switch (words[0]) {
            case "none" -> ExampleInstrument.noneMissing();
            case "at-least" -> ExampleInstrument.atLeast(Integer.parseInt(words[1]));
            case "rated" -> ExampleInstrument.rated(Integer.parseInt(words[1]));
            default -> throw new IllegalArgumentException(text);
        };
    }

    private static double response(String cell) {
        return cell.isEmpty()
                ? Responses.NOT_ANSWERED
                : cell.equals("x") ? Responses.NOT_ALLOWED : Double.parseDouble(cell);
    }

    @ParameterizedTest(name = "{0}: {12}")
    @CsvFileSource(resources = "rules.csv", useHeadersInDisplayName = true, nullValues = "null", emptyValue = "")
    void scoresAsTheRuleSays(
            String id,
            String rule,
            String reversed,
            String missing,
            String responses,
            String outcome,
            String reason,
            Double score,
            int items,
            int answered,
            Double lowest,
            Double highest,
            String why) {
        List<String> turned = reversed == null ? List.of() : List.of(reversed.split(" "));
        String[] of = new String[4];
        for (int i = 0; i < 4; i++) {
            String item = String.valueOf(i + 1);
            of[i] = turned.contains(item) ? "-" + item : item;
        }
        Instrument instrument = ExampleInstrument.called("example10")
                .items(4, ExampleInstrument.codes(1, 5))
                .scale("total", rule(rule), missing(missing), new Range(-100, 100), of)
                .build();
        double[] values = Arrays.stream(responses.split(";", -1))
                .mapToDouble(RulesTest::response)
                .toArray();
        ScoreResult result = ScoringPlan.of(instrument)
                .score(Responses.of(instrument, values), Optional.empty(), RequestedColumns.form(instrument))
                .get(0);
        assertEquals(outcome, result.outcome().code(), id);
        assertEquals(Optional.ofNullable(reason), result.reason().map(Reason::code), id);
        assertEquals(Optional.ofNullable(score), result.scored().map(ScoreResult.Scored::value), id);
        assertEquals(List.of(items, answered), List.of(result.items(), result.answered()), id);
        assertEquals(Optional.ofNullable(lowest).map(l -> new Range(l, highest)), result.bounds(), id);
        assertEquals(Optional.empty(), result.hand(), id);
        assertEquals("total", result.scale().value(), id);
    }

    /** An invented table: raw sums 2 to 6, falling scores, standard errors on some rows. */
    private static Instrument withTable() {
        List<ItemRule.Table.Row> rows = new ArrayList<>();
        rows.add(new ItemRule.Table.Row(2, 61.5, OptionalDouble.of(4.5)));
        rows.add(new ItemRule.Table.Row(3, 52.5, OptionalDouble.of(2.5)));
        rows.add(new ItemRule.Table.Row(4, 47.0, OptionalDouble.empty()));
        rows.add(new ItemRule.Table.Row(5, 40.5, OptionalDouble.of(2.0)));
        rows.add(new ItemRule.Table.Row(6, 31.0, OptionalDouble.of(5.0)));
        return ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.codes(1, 3))
                .scale(
                        "tscore",
                        new ItemRule.Table(rows, PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(31, 61.5))
                .build();
    }

    private static ScoreResult table(String answers) {
        Instrument instrument = withTable();
        return ScoringPlan.of(instrument)
                .score(ExampleInstrument.answers(instrument, answers), Optional.empty())
                .get(0);
    }

    @ParameterizedTest
    @CsvSource({"1, 1, 61.5, 4.5", "1, 2, 52.5, 2.5", "3, 1, 47, ", "3, 2, 40.5, 2", "3, 3, 31, 5"})
    void readsTheRowOfTheTableWhoseRawSumItIs(int first, int second, double score, Double error) {
        ScoreResult.Scored scored =
                table("1=" + first + " 2=" + second).scored().orElseThrow();
        assertEquals(score, scored.value());
        assertEquals(Optional.ofNullable(error), scored.precision().map(ScoreResult.Precision::standardError));
    }

    /** 1.96 standard errors to each side: 61.5 -+ 8.82. */
    @Test
    void theIntervalIsOneNinetySixStandardErrorsWide() {
        ScoreResult.Scored scored = table("1=1 2=1").scored().orElseThrow();
        Range interval = scored.precision().orElseThrow().interval95(scored.value());
        assertEquals(52.68, interval.low(), 1e-12);
        assertEquals(70.32, interval.high(), 1e-12);
    }

    /** With 3 answered and one open the raw sum is 4 to 6: 47 down to 31. */
    @Test
    void anOpenItemBoundsATableScoreByItsRows() {
        ScoreResult result = table("2=3");
        assertEquals(Optional.of(Reason.TOO_FEW_ANSWERED), result.reason());
        assertEquals(Optional.of(new Range(31, 47)), result.bounds());
    }

    /** Item 1 asks whether there are complaints at all; 0 = none, then items 2 and 3 are skipped and the score is 0. */
    private static Instrument withSkip() {
        return ExampleInstrument.called("example10")
                .items(3, ExampleInstrument.codes(0, 4))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.atLeast(2), new Range(0, 12))
                .skip("1", 0, 0.5, PUBLISHED)
                .build();
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource(
            nullValues = "-",
            value = {
                // answers, outcome, reason, score, items, answered, lowest, highest: worked by hand
                "1=0, complete, -, 0.5, 1, 1, 0.5, 0.5",
                "1=0 2=3, complete, -, 0.5, 1, 1, 0.5, 0.5",
                "1=2 2=3 3=1, complete, -, 6, 3, 3, 6, 6",
                "1=2 2=3, with-missing, -, 7.5, 3, 2, 5, 9",
                // the deciding item is open: it may be 1 to 4, or 0 and then the score is 0.5
                "2=3 3=1, with-missing, -, 6, 3, 2, 0.5, 8",
                "3=4, not-scored, too-few-answered, -, 3, 1, 0.5, 12",
                "1=0 2=x, not-scored, response-not-allowed, -, 3, 1, -, -"
            })
    void aSkipAllowedByTheFormIsNotMissing(
            String answers,
            String outcome,
            String reason,
            Double score,
            int items,
            int answered,
            Double low,
            Double high) {
        Instrument instrument = withSkip();
        ScoreResult result = ScoringPlan.of(instrument)
                .score(ExampleInstrument.answers(instrument, answers), Optional.empty())
                .get(0);
        assertEquals(outcome, result.outcome().code());
        assertEquals(Optional.ofNullable(reason), result.reason().map(Reason::code));
        assertEquals(Optional.ofNullable(score), result.scored().map(ScoreResult.Scored::value));
        assertEquals(List.of(items, answered), List.of(result.items(), result.answered()));
        assertEquals(Optional.ofNullable(low).map(l -> new Range(l, high)), result.bounds());
    }

    @Test
    void aMarkOnALineTakesDecimalsAndItsEnds() {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(2, ExampleInstrument.mark(0, 100))
                .scale("total", new ItemRule.Mean(PUBLISHED), ExampleInstrument.atLeast(1), new Range(0, 100))
                .build();
        ScoringPlan plan = ScoringPlan.of(instrument);
        Optional<Double> score = plan.score(ExampleInstrument.answers(instrument, "1=0 2=100"), Optional.empty())
                .get(0)
                .scored()
                .map(ScoreResult.Scored::value);
        assertEquals(Optional.of(50.0), score);
        ScoreResult open = plan.score(ExampleInstrument.answers(instrument, "1=12.5"), Optional.empty())
                .get(0);
        assertEquals(12.5, open.scored().orElseThrow().value());
        assertEquals(Optional.of(new Range(6.25, 56.25)), open.bounds());
        assertEquals(
                Optional.of(Reason.RESPONSE_NOT_ALLOWED),
                plan.score(ExampleInstrument.answers(instrument, "1=100.01"), Optional.empty())
                        .get(0)
                        .reason());
    }

    /** Codes with gaps, such as 0, 0.5 and 1: only these are allowed. */
    @ParameterizedTest
    @CsvSource({"0, true", "0.5, true", "1, true", "0.25, false", "2, false", "-0.5, false"})
    void codesWithGapsAllowOnlyThemselves(double code, boolean allowed) {
        Instrument instrument = ExampleInstrument.called("example10")
                .items(1, ExampleInstrument.codes(PUBLISHED, 0, 0.5, 1))
                .scale("total", new ItemRule.Sum(1, PUBLISHED), ExampleInstrument.noneMissing(), new Range(0, 1))
                .build();
        assertEquals(
                allowed,
                ScoringPlan.of(instrument)
                        .score(Responses.of(instrument, new double[] {code}), Optional.empty())
                        .get(0)
                        .scored()
                        .isPresent());
    }
}
