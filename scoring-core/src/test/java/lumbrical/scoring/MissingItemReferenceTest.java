package lumbrical.scoring;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Range;
import org.junit.jupiter.api.Test;

/**
 * Twelve items coded 1 to 5 with gaps, scored 0 to 100 under several missing-item rules, computed by general-purpose statistics
 * software: shared/reference/expected_missing_items12.csv.
 */
class MissingItemReferenceTest {
    private static final Path FOLDER = Path.of("..", "shared", "reference");

    @Test
    void agreesWithStatisticsSoftwareUnderEveryRule() throws IOException {
        Map<String, MissingRule.Minimum> rules = Map.of(
                "half_rule_ge50", new MissingRule.Minimum.AtLeastPercent(50),
                "strict_gt50", new MissingRule.Minimum.MoreThanPercent(50),
                "max1_missing", new MissingRule.Minimum.Answered(11),
                "ninety_pct", new MissingRule.Minimum.AtLeastPercent(90));
        Map<String, double[]> responses = responses();
        List<String> lines = Files.readAllLines(FOLDER.resolve("expected_missing_items12.csv"));
        List<String> header = List.of(lines.get(0).split(","));
        int checked = 0;
        for (String line : lines.subList(1, lines.size())) {
            String[] cells = line.split(",", -1);
            for (Map.Entry<String, MissingRule.Minimum> rule : rules.entrySet()) {
                ScoreResult result = score(responses.get(cells[0]), rule.getValue());
                String expected = cells[header.indexOf(rule.getKey())];
                String what = cells[0] + " " + rule.getKey();
                if (expected.isEmpty() || expected.equals("NA")) {
                    assertEquals(Optional.empty(), result.scored(), what);
                } else {
                    assertEquals(
                            Double.parseDouble(expected),
                            result.scored().orElseThrow().value(),
                            1e-9,
                            what);
                }
                Range bounds = result.bounds().orElseThrow();
                assertEquals(Double.parseDouble(cells[header.indexOf("bound_low100")]), bounds.low(), 1e-9, what);
                assertEquals(Double.parseDouble(cells[header.indexOf("bound_high100")]), bounds.high(), 1e-9, what);
                checked++;
            }
        }
        assertEquals(4 * responses.size(), checked);
    }

    private static ScoreResult score(double[] values, MissingRule.Minimum minimum) {
        Instrument instrument = TestInstruments.of(
                12,
                1,
                5,
                new ItemRule.RescaledMean(1, 25, TestInstruments.PUBLISHED),
                TestInstruments.meanOfAnswered(minimum),
                new Range(0, 100));
        return ScoringPlan.of(instrument)
                .score(Responses.of(instrument, values), Optional.empty(), RequestedColumns.form(instrument))
                .get(0);
    }

    private static Map<String, double[]> responses() throws IOException {
        Map<String, double[]> responses = new HashMap<>();
        List<String> lines = Files.readAllLines(FOLDER.resolve("in").resolve("items12_missing.csv"));
        for (String line : lines.subList(1, lines.size())) {
            String[] cells = line.split(",", -1);
            responses.put(
                    cells[0],
                    Arrays.stream(cells, 1, 13)
                            .mapToDouble(c -> c.isEmpty() || c.equals("NA") ? Double.NaN : Double.parseDouble(c))
                            .toArray());
        }
        return responses;
    }
}
