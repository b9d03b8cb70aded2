package lumbrical.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.intake.ReadOptions;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;

/**
 * Holds the program to one written independently, from the papers, in another language: test-vectors/independent.
 */
class IndependentProgramTest {
    private static final Path FOLDER = Path.of("..", "..", "test-vectors", "independent");

    @Test
    void agreesOnRandomSittingsOfEveryInstrument() throws IOException {
        Map<String, String> ours = new TreeMap<>();
        new BatchScorer(
                        Catalogue.builtIn(),
                        ReadOptions.asOf(LocalDate.of(2026, 11, 25)),
                        ScoringOptions.AS_DEFINED,
                        Map.of())
                .score(
                        List.of(new Input(FOLDER.resolve("random-sittings.csv"), Optional.empty())),
                        (row, forms) -> forms.forEach(form -> add(form, ours)),
                        problem -> {});
        Map<String, CSVRecord> theirs = new TreeMap<>();
        try (CSVParser parser = CSVParser.parse(
                Files.readString(FOLDER.resolve("expected-scores.csv")),
                CSVFormat.RFC4180
                        .builder()
                        .setHeader()
                        .setSkipHeaderRecord(true)
                        .get())) {
            parser.forEach(r -> theirs.put(
                    String.join(" ", r.get("patient"), r.get("instrument"), r.get("scale"), r.get("side")), r));
        }
        assertTrue(theirs.size() > 10_000, "only " + theirs.size() + " rows");
        List<String> differences = new ArrayList<>();
        theirs.forEach((key, row) -> {
            String expected = words(row);
            if (!same(expected, ours.getOrDefault(key, "no row"))) {
                differences.add(key + ": ours " + ours.get(key) + ", theirs " + expected);
            }
        });
        ours.keySet().stream().filter(k -> !theirs.containsKey(k)).forEach(k -> differences.add("only ours: " + k));
        assertEquals(List.of(), differences.stream().limit(10).toList());
        assertEquals(theirs.size(), ours.size());
    }

    private static void add(ScoredForm form, Map<String, String> ours) {
        for (ScoreResult r : form.results()) {
            String side =
                    r.hand().or(() -> form.sitting().side()).map(Side::code).orElse("");
            ours.put(
                    String.join(
                            " ",
                            form.sitting().patient(),
                            form.instrument().id().value(),
                            r.scale().value(),
                            side),
                    String.join(
                            " ",
                            r.outcome().code(),
                            r.reason().map(w -> w.code()).orElse("-"),
                            String.valueOf(r.items()),
                            String.valueOf(r.answered()),
                            rounded(r.scored().map(ScoreResult.Scored::value)),
                            rounded(r.bounds().map(Range::low)),
                            rounded(r.bounds().map(Range::high)),
                            rounded(r.scored()
                                    .flatMap(ScoreResult.Scored::precision)
                                    .map(ScoreResult.Precision::standardError))));
        }
    }

    private static String words(CSVRecord row) {
        return String.join(
                " ",
                row.get("outcome"),
                row.get("reason").isEmpty() ? "-" : row.get("reason"),
                row.get("items"),
                row.get("answered"),
                rounded(number(row, "score")),
                rounded(number(row, "lowest")),
                rounded(number(row, "highest")),
                rounded(number(row, "standard_error")));
    }

    private static Optional<Double> number(CSVRecord row, String column) {
        return Optional.of(row.get(column)).filter(t -> !t.isEmpty()).map(Double::valueOf);
    }

    private static String rounded(Optional<Double> value) {
        return value.map(String::valueOf).orElse("-");
    }

    /** Words alike, numbers within the rounding of the six decimals that the other program prints. */
    private static boolean same(String theirs, String ours) {
        String[] a = theirs.split(" ");
        String[] b = ours.split(" ");
        boolean same = a.length == b.length;
        for (int i = 0; same && i < a.length; i++) {
            same = a[i].equals(b[i])
                    || a[i].contains(".")
                            && b[i].contains(".")
                            && Math.abs(Double.parseDouble(a[i]) - Double.parseDouble(b[i])) <= 1e-6;
        }
        return same;
    }
}
