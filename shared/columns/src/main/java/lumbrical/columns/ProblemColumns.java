package lumbrical.columns;

import java.util.List;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Problem;

/** Problems and notes. */
public final class ProblemColumns {
    /** The table. */
    public static final OutputTable<Problem> TABLE = new OutputTable<>("Problems", columns());

    private ProblemColumns() {}

    private static List<OutputColumn<Problem>> columns() {
        return List.of(
                OutputColumn.text(
                        "file",
                        "File, with #sheet where one was named",
                        r -> Value.text(r.place().file())),
                OutputColumn.count(
                        "row",
                        "Row as a spreadsheet shows it, header = 1",
                        r -> Value.number(r.place().row())),
                OutputColumn.text("column", "Heading", r -> Value.text(r.place().column())),
                OutputColumn.text(
                        "value", "What stands there; blank where it must not be echoed", r -> Value.text(r.value())),
                OutputColumn.text(
                        "problem",
                        "Its kind; codes that start with note- are notes",
                        r -> Value.word(r.code().code())),
                OutputColumn.text("advice", "What is wrong and what to do", r -> Value.word(r.advice())));
    }
}
