package lumbrical.reconcile;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import lumbrical.instrument.Side;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Place;
import lumbrical.sitting.Sitting;

/** The table of differences, in which a person writes the decisions. */
public final class DifferenceTable {
    /** Its columns. */
    public static final OutputTable<Difference> TABLE = new OutputTable<>(
            "Differences",
            List.of(
                    text(
                            "patient",
                            "Pseudonymous id",
                            d -> Value.text(d.sitting().patient())),
                    text(
                            "completed_on",
                            "Day of the forms, with its time if given",
                            d -> Value.word(moment(d.sitting()))),
                    text("side", "Side of the forms", d -> Value.word(side(d.sitting()))),
                    text(
                            "episode",
                            "Episode, as the first table has it",
                            d -> Value.text(d.sitting().episode())),
                    text("column", "The column; * = all forms of that day", d -> Value.word(d.column())),
                    text(
                            "kind",
                            "How the tables differ",
                            d -> Value.word(d.kind().code())),
                    text("first", "Entry of the first table", d -> Value.text(d.first())),
                    text("second", "Entry of the second table", d -> Value.text(d.second())),
                    text("scores_first", "Scores it bears on, with the first entry", d -> Value.word(d.firstScores())),
                    text("scores_second", "The same scores with the second entry", d -> Value.word(d.secondScores())),
                    number("row_first", "Row in the first table", d -> row(d.firstPlace())),
                    number("row_second", "Row in the second table", d -> row(d.secondPlace())),
                    text("hint", "What may have happened", d -> Value.word(d.hint())),
                    text(
                            "decision",
                            "To be filled in from the form: first, second, blank or value",
                            d -> Value.word(d.decision().map(Decision::word))),
                    text(
                            "value",
                            "What the form says, where the decision is value",
                            d -> Value.text(d.decision().map(Decision::value).orElse("")))));

    private DifferenceTable() {}

    private static OutputColumn<Difference> text(String name, String meaning, Function<Difference, Value> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.TEXT, of);
    }

    private static OutputColumn<Difference> number(String name, String meaning, Function<Difference, Value> of) {
        return new OutputColumn<>(name, meaning, OutputColumn.Kind.NUMBER, of);
    }

    private static Value row(Optional<Place> place) {
        return Value.number(place.map(Place::row).orElse(OptionalInt.empty()));
    }

    static String moment(Sitting sitting) {
        return sitting.day().map(LocalDate::toString).orElse("")
                + sitting.time().map(t -> "T" + t).orElse("");
    }

    static String side(Sitting sitting) {
        return sitting.side().map(Side::code).orElse("");
    }
}
