package lumbrical.columns;

import java.util.List;
import java.util.stream.Collectors;
import lumbrical.followup.CallRow;
import lumbrical.instrument.InstrumentId;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** The call list: a row for each patient, episode, visit and state. */
public final class DueColumns {
    /** The table. */
    public static final OutputTable<CallRow> TABLE = new OutputTable<>("Due", columns());

    private DueColumns() {}

    private static List<OutputColumn<CallRow>> columns() {
        return List.of(
                OutputColumn.text(
                        "patient",
                        "Pseudonymous id",
                        r -> Value.text(r.episode().patient())),
                OutputColumn.text(
                        "episode",
                        "One treatment of one side",
                        r -> Value.text(r.episode().id())),
                OutputColumn.text(
                        "side",
                        "The side treated",
                        r -> Value.word(r.episode().treatedSide().code())),
                OutputColumn.text(
                        "visit",
                        "Visit of the schedule",
                        r -> Value.text(r.visit().name())),
                OutputColumn.date("opens", "First day of the window", r -> Value.day(r.opens())),
                OutputColumn.date("target", "Day aimed at", r -> Value.day(r.target())),
                OutputColumn.date("closes", "Last day of the window", r -> Value.day(r.closes())),
                OutputColumn.text(
                        "state",
                        "done; incomplete: came, cannot be scored; closed: the episode was closed inside the window; not-yet;"
                                + " open: up to the target day; late: target passed, window open; missed: window over",
                        r -> Value.word(r.state().code())),
                OutputColumn.text(
                        "forms",
                        "The forms in that state, by instrument id",
                        r -> Value.word(
                                r.forms().stream().map(InstrumentId::value).collect(Collectors.joining(" ")))),
                OutputColumn.count(
                        "days_left",
                        "Days to the last day of the window; negative once past",
                        r -> Value.number(r.daysLeft())));
    }
}
