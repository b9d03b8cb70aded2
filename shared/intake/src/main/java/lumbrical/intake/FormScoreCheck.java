package lumbrical.intake;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.ToDoubleFunction;
import lumbrical.instrument.Column;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.number.Numbers;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.scoring.Reason;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;
import lumbrical.tabular.Cells;

/**
 * Holds the scores that an entry form shows against the rules of the definition, whatever the options of the run: the form knows
 * nothing of them.
 */
final class FormScoreCheck {
    /** Ours: half a unit of the last decimal that is ever printed, and more than any spreadsheet's arithmetic is off. */
    private static final double TOLERANCE = 1e-6;

    private final ResponseParser plain;
    private final boolean decimalComma;
    private final Consumer<Problem> problems;
    private final Map<InstrumentId, ScoringPlan> plans = new HashMap<>();

    FormScoreCheck(ReadOptions options, Consumer<Problem> problems) {
        this.decimalComma = options.decimalComma();
        this.plain = new ResponseParser(ReadOptions.asOf(options.asOf()).withDecimalComma(decimalComma));
        this.problems = problems;
    }

    /** Tells each cell of a row that shows another score than the responses beside it give. */
    void check(ResponseHeader header, Place place, List<String> cells) {
        if (header.formScores().isEmpty()) {
            return;
        }
        Optional<Side> side = Side.parse(header.cell(cells, "side"));
        Map<InstrumentId, List<ScoreResult>> results = new HashMap<>();
        header.formScores()
                .forEach((position, column) -> {
                    String shown = position < cells.size() ? Cells.clean(cells.get(position)) : "";
                    boolean stored = !shown.isEmpty() && !shown.equals(Cells.NOT_CALCULATED);
                    if (stored && column.shows().isScore()) {
                        Optional<ScoreResult> result = results
                                .computeIfAbsent(column.instrument().id(), id -> scores(header, id, cells, side))
                                .stream()
                                .filter(r -> r.scale().equals(column.scale().id())
                                        && r.hand().equals(column.hand()))
                                .findFirst();
                        check(place.in(header.shown(position)), column, shown, result);
                    }
                });
    }

    private List<ScoreResult> scores(
            ResponseHeader header, InstrumentId instrument, List<String> cells, Optional<Side> side) {
        ResponseHeader.Form form = header.forms().stream()
                .filter(f -> f.instrument().id().equals(instrument))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("The table has no item of " + instrument));
        Responses.Builder responses = Responses.builder(form.instrument());
        for (Column column : form.instrument().columns()) {
            int at = form.positions()[column.index()];
            String cell = at < 0 || at >= cells.size() ? "" : Cells.clean(cells.get(at));
            responses.put(column.index(), plain.parse(form.instrument(), column, cell));
        }
        return plans.computeIfAbsent(instrument, id -> ScoringPlan.of(form.instrument()))
                .score(responses.build(), side);
    }

    private void check(Place place, FormScoreColumn column, String shown, Optional<ScoreResult> result) {
        OptionalDouble number = decimalComma ? withComma(shown) : Cells.number(shown);
        OptionalDouble expected = result.map(r -> value(r, column.shows())).orElse(OptionalDouble.empty());
        if (same(number, expected)) {
            return;
        }
        if (same(withComma(shown), expected)) {
            problems.accept(new Problem(
                            place,
                            Cells.printable(shown),
                            ProblemCode.FORM_SCORE_DIFFERS,
                            "The score is written with a decimal comma, as a spreadsheet of some languages saves CSV. It is"
                                    + " right; the answers may hold a comma too.")
                    .mendedBy(Remedy.of(Remedy.Kind.DECIMAL_COMMA)));
        } else {
            String none = result.flatMap(ScoreResult::reason)
                    .map(Reason::code)
                    .map(why -> "none (" + why + ")")
                    .orElse("none");
            problems.accept(new Problem(
                    place,
                    Cells.printable(shown),
                    ProblemCode.FORM_SCORE_DIFFERS,
                    "By the definition's rules the responses of this row give "
                            + (expected.isPresent() ? Numbers.format(expected.getAsDouble()) : none)
                            + ". What the form shows is not used. Have the spreadsheet calculate the form again and save it;"
                            + " if it still differs, a formula was typed over: take a new form."));
        }
    }

    private static boolean same(OptionalDouble number, OptionalDouble expected) {
        return number.isPresent()
                && expected.isPresent()
                && Math.abs(number.getAsDouble() - expected.getAsDouble()) <= TOLERANCE;
    }

    private static OptionalDouble withComma(String shown) {
        return Cells.number(shown.replace(',', '.'));
    }

    private static OptionalDouble value(ScoreResult result, FormScoreColumn.Shows shows) {
        return switch (shows) {
            case SCORE ->
                result.scored().stream().mapToDouble(ScoreResult.Scored::value).findFirst();
            case LOWEST -> bound(result, Range::low);
            case HIGHEST -> bound(result, Range::high);
            case UNANSWERED, WHY -> OptionalDouble.empty();
        };
    }

    private static OptionalDouble bound(ScoreResult result, ToDoubleFunction<Range> end) {
        return result.bounds().stream().mapToDouble(end).findFirst();
    }
}
