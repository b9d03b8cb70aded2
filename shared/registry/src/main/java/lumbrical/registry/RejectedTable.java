package lumbrical.registry;

import java.util.List;
import lumbrical.deidentify.Withheld;
import lumbrical.instrument.InstrumentId;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/** What was not sent, by place in the input and reason; no value of the input stands in it. */
final class RejectedTable {
    private RejectedTable() {}

    static OutputTable<Withheld> of(List<String> files) {
        return new OutputTable<>(
                "Rejected",
                List.of(
                        new OutputColumn<>(
                                "input",
                                "Number of the file of responses, in the order given",
                                OutputColumn.Kind.NUMBER,
                                w -> number(files, w)),
                        new OutputColumn<>(
                                "row",
                                "Row as a spreadsheet shows it, header = 1",
                                OutputColumn.Kind.NUMBER,
                                w -> Value.number(w.place().row())),
                        new OutputColumn<>(
                                "column",
                                "Column to look at; blank for the row as a whole",
                                OutputColumn.Kind.TEXT,
                                w -> Value.text(w.column())),
                        new OutputColumn<>(
                                "instrument",
                                "The form; blank for the whole sitting",
                                OutputColumn.Kind.TEXT,
                                w -> Value.word(w.instrument().map(InstrumentId::value))),
                        new OutputColumn<>(
                                "reason", "Why it was not sent", OutputColumn.Kind.TEXT, w -> Value.word(w.reason()))));
    }

    private static Value number(List<String> files, Withheld withheld) {
        int at = files.indexOf(withheld.place().file());
        return at < 0 ? Value.BLANK : Value.number(at + 1);
    }
}
