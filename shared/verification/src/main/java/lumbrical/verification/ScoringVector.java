package lumbrical.verification;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import org.apache.commons.csv.CSVRecord;

/** A row of a scoring vector: responses in, a score or a reason out. */
final class ScoringVector {
    private final Instrument instrument;

    ScoringVector(Instrument instrument) {
        this.instrument = instrument;
    }

    /** What is wrong, or empty. */
    Optional<String> check(CSVRecord row) {
        ScoringOptions options =
                switch (row.get("options")) {
                    case "" -> ScoringOptions.AS_DEFINED;
                    case "complete-only" -> new ScoringOptions(true, false);
                    case "published-only" -> new ScoringOptions(false, true);
                    default -> throw new IllegalArgumentException("options '" + row.get("options") + "' are none");
                };
        Optional<Side> side = Optional.empty();
        double[] values = new double[instrument.columns().size()];
        Arrays.fill(values, Responses.NOT_ANSWERED);
        for (String entry : row.get("responses").split("\\s+")) {
            if (entry.startsWith("side=")) {
                side = Side.parse(entry.substring(5));
            } else if (!entry.isEmpty()) {
                set(values, entry);
            }
        }
        List<ScoreResult> results = ScoringPlan.of(instrument, options).score(Responses.of(instrument, values), side);
        Optional<Side> hand = Side.parse(row.get("hand"));
        Optional<ScoreResult> result = results.stream()
                .filter(r ->
                        r.scale().value().equals(row.get("scale")) && r.hand().equals(hand))
                .findFirst();
        if (instrument.scales().stream().noneMatch(s -> s.id().value().equals(row.get("scale")))) {
            return Optional.of("'" + row.get("scale") + "' is no scale of " + instrument.id());
        }
        List<String> wrong = new ArrayList<>();
        compare(
                "outcome",
                row.get("outcome"),
                result.map(r -> r.outcome().code()).orElse(""),
                wrong);
        result.ifPresent(r -> compareAll(row, r, wrong));
        return wrong.isEmpty() ? Optional.empty() : Optional.of(String.join("; ", wrong));
    }

    private void set(double[] values, String entry) {
        int equals = entry.indexOf('=');
        String[] ends = entry.substring(0, equals).split("\\.\\.", -1);
        String text = entry.substring(equals + 1);
        double value = text.isEmpty() ? Responses.NOT_ANSWERED : number(text);
        int first = index(ends[0]);
        int last = ends.length == 1 ? first : index(ends[1]);
        for (int i = first; i <= last; i++) {
            values[i] = value;
        }
    }

    private static double number(String text) {
        try {
            return Double.parseDouble(text);
        } catch (NumberFormatException e) {
            return Responses.NOT_ALLOWED;
        }
    }

    private int index(String item) {
        return instrument
                .column(instrument.id() + "_" + item)
                .map(Column::index)
                .orElseThrow(() -> new IllegalArgumentException(instrument.id() + " has no column for " + item));
    }

    private static void compareAll(CSVRecord row, ScoreResult result, List<String> wrong) {
        double tolerance = row.get("tolerance").isEmpty() ? 1e-9 : Double.parseDouble(row.get("tolerance"));
        compare("reason", row.get("reason"), result.reason().map(r -> r.code()).orElse(""), wrong);
        compareNumber("score", row.get("score"), result.scored().map(ScoreResult.Scored::value), tolerance, wrong);
        compareNumber("items", row.get("items"), Optional.of((double) result.items()), 0, wrong);
        compareNumber("answered", row.get("answered"), Optional.of((double) result.answered()), 0, wrong);
        compareNumber("lowest", row.get("lowest"), result.bounds().map(Range::low), tolerance, wrong);
        compareNumber("highest", row.get("highest"), result.bounds().map(Range::high), tolerance, wrong);
        compareNumber(
                "standard_error",
                row.get("standard_error"),
                result.scored().flatMap(ScoreResult.Scored::precision).map(ScoreResult.Precision::standardError),
                tolerance,
                wrong);
        if (result.outcome() == ScoreResult.Outcome.NOT_SCORED
                && !row.get("score").isEmpty()) {
            wrong.add("a score is expected of a scale that is not scored");
        }
    }

    private static void compare(String what, String expected, String actual, List<String> wrong) {
        if (!expected.equals(actual)) {
            wrong.add(what + " is '" + actual + "', expected '" + expected + "'");
        }
    }

    private static void compareNumber(
            String what, String expected, Optional<Double> actual, double tolerance, List<String> wrong) {
        OptionalDouble value =
                expected.isEmpty() ? OptionalDouble.empty() : OptionalDouble.of(Double.parseDouble(expected));
        if (value.isPresent() && (actual.isEmpty() || !(Math.abs(actual.get() - value.getAsDouble()) <= tolerance))) {
            wrong.add(what + " is " + actual.map(Object::toString).orElse("absent") + ", expected " + expected);
        }
    }
}
