package lumbrical.columns;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import java.util.function.Function;
import lumbrical.instrument.Range;
import lumbrical.instrument.Side;
import lumbrical.instrument.Standing;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;

/** Score rows: what every run gives. */
public final class ScoreColumns {
    /** The table. */
    public static final OutputTable<ScoreRow> TABLE = new OutputTable<>("Scores", columns(Function.identity()));

    /** How many columns stand first that say whose score it is, and when; without a visit, the others say nothing of the sitting. */
    public static final int OF_SITTING = 4;

    private ScoreColumns() {}

    static <R> List<OutputColumn<R>> columns(Function<R, ScoreRow> row) {
        List<OutputColumn<R>> c = new ArrayList<>();
        c.add(OutputColumn.text(
                "patient",
                "Pseudonymous id, as in the input",
                r -> Value.text(row.apply(r).sitting().patient())));
        c.add(OutputColumn.text(
                "episode",
                "One treatment of one side",
                r -> Value.text(row.apply(r).episode())));
        c.add(OutputColumn.text(
                "side",
                "right, left or both: the hand asked about, else that of the row",
                r -> Value.word(row.apply(r).side().map(Side::code))));
        c.add(OutputColumn.date(
                "completed_on",
                "Day of the form",
                r -> Value.day(row.apply(r).sitting().day())));
        c.add(OutputColumn.text(
                "visit",
                "Visit of the schedule whose window holds the day; unscheduled outside every window",
                r -> Value.text(row.apply(r).visit())));
        c.add(OutputColumn.text(
                "instrument",
                "Instrument id",
                r -> Value.word(row.apply(r).instrument().id().value())));
        c.add(OutputColumn.text(
                "scale", "Scale id", r -> Value.word(row.apply(r).scale().id().value())));
        c.add(OutputColumn.number(
                "score",
                "The score by the instrument's manual, unrounded; blank if there is none",
                r -> Value.number(row.apply(r)
                        .result()
                        .scored()
                        .map(s -> OptionalDouble.of(s.value()))
                        .orElse(OptionalDouble.empty()))));
        c.add(OutputColumn.text(
                "outcome",
                "complete, with-missing (scored under the missing-item rule) or not-scored",
                r -> Value.word(row.apply(r).result().outcome().code())));
        c.add(OutputColumn.text(
                "reason",
                "Why there is no score",
                r -> Value.word(row.apply(r).result().reason().map(Reason::code))));
        c.add(OutputColumn.count(
                "items",
                "Items that count for this form",
                r -> Value.number(row.apply(r).result().items())));
        c.add(OutputColumn.count(
                "answered",
                "How many of them were answered",
                r -> Value.number(row.apply(r).result().answered())));
        c.add(OutputColumn.number(
                "lowest",
                "Lowest score that any answers to the unanswered items could give",
                r -> bound(row.apply(r).result(), true)));
        c.add(OutputColumn.number(
                "highest",
                "Highest score that any answers to the unanswered items could give",
                r -> bound(row.apply(r).result(), false)));
        c.add(OutputColumn.text(
                "better",
                "Which end of the scale is the good one: lower or higher",
                r -> Value.word(row.apply(r).scale().better().code())));
        c.add(OutputColumn.text(
                "definition",
                "Definition and version that scored it",
                r -> Value.word(row.apply(r).instrument().definition())));
        c.add(OutputColumn.number(
                "standard_error",
                "Standard error of the score, where the instrument's table gives one",
                r -> precision(row.apply(r).result(), Part.ERROR)));
        c.add(OutputColumn.number(
                "ci_low",
                "Lower end of the 95 % interval (score - 1.96 x standard error)",
                r -> precision(row.apply(r).result(), Part.LOW)));
        c.add(OutputColumn.number(
                "ci_high",
                "Upper end of the 95 % interval (score + 1.96 x standard error)",
                r -> precision(row.apply(r).result(), Part.HIGH)));
        c.add(OutputColumn.text(
                "standing",
                "How sure the score is, the weakest of what it rests on (codes and keying of its items, formula, and the"
                        + " missing-item rule if it was used): published, second-hand, ours or from-memory",
                r -> Value.word(row.apply(r).standing().map(Standing::code))));
        return c;
    }

    private enum Part {
        ERROR,
        LOW,
        HIGH
    }

    private static Value bound(ScoreResult result, boolean low) {
        return result.bounds().map(b -> Value.number(low ? b.low() : b.high())).orElse(Value.BLANK);
    }

    private static Value precision(ScoreResult result, Part part) {
        return result.scored()
                .flatMap(s -> s.precision().map(p -> precision(p, s.value(), part)))
                .orElse(Value.BLANK);
    }

    private static Value precision(ScoreResult.Precision precision, double score, Part part) {
        Range interval = precision.interval95(score);
        return switch (part) {
            case ERROR -> Value.number(precision.standardError());
            case LOW -> Value.number(interval.low());
            case HIGH -> Value.number(interval.high());
        };
    }
}
