package lumbrical.verification;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Column;
import lumbrical.instrument.Direction;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Range;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.scoring.Response;
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
        Responses.Builder responses = Responses.builder(instrument);
        for (String entry : row.get("responses").split("\\s+")) {
            if (entry.startsWith("side=")) {
                side = Side.parse(entry.substring(5));
            } else if (!entry.isEmpty()) {
                set(responses, entry);
            }
        }
        Responses given = responses.build();
        List<ScoreResult> results = ScoringPlan.of(instrument, options).score(given, side);
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
        checkEnds(row, given, wrong);
        return wrong.isEmpty() ? Optional.empty() : Optional.of(String.join("; ", wrong));
    }

    /** A row that is named for an end of its scale stands at that end of the range, with every answer at that end of its codes. */
    private void checkEnds(CSVRecord row, Responses given, List<String> wrong) {
        String scaleId = row.get("scale");
        boolean best = row.get("id").equals(scaleId + "-best");
        if (!best && !row.get("id").equals(scaleId + "-worst")) {
            return;
        }
        Scale scale = instrument.scales().stream()
                .filter(s -> s.id().value().equals(scaleId))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException(scaleId + " is no scale"));
        boolean low = best == (scale.better() == Direction.LOWER);
        double end = low ? scale.range().low() : scale.range().high();
        compareNumber("the end of the range", row.get("score"), Optional.of(end), 1e-9, wrong);
        for (Column column : instrument.columns()) {
            OptionalDouble value = given.allowed(column);
            if (instrument.uses(scale, column.item()) && value.isPresent()) {
                double expected = best ? 0 : 100;
                compareNumber(
                        "the place of " + column.name() + " from best to worst",
                        String.valueOf(expected),
                        Optional.of(column.item().difficulty(value.getAsDouble())),
                        1e-9,
                        wrong);
            }
        }
    }

    private void set(Responses.Builder responses, String entry) {
        int equals = entry.indexOf('=');
        String[] ends = entry.substring(0, equals).split("\\.\\.", -1);
        String text = entry.substring(equals + 1);
        Response response = text.isEmpty() ? Response.NOT_ANSWERED : response(text);
        int first = index(ends[0]);
        int last = ends.length == 1 ? first : index(ends[1]);
        for (int i = first; i <= last; i++) {
            responses.put(i, response);
        }
    }

    private static Response response(String text) {
        try {
            return Response.of(Double.parseDouble(text));
        } catch (NumberFormatException e) {
            return Response.NO_NUMBER;
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
