package lumbrical.report.cohort;

import java.util.ArrayList;
import java.util.List;
import java.util.function.Function;
import java.util.function.Predicate;
import lumbrical.number.Figures;
import lumbrical.number.Numbers;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;

/**
 * Columns of a table that is written as CSV too, as they are shown on a page: by their name there, a heading for people, and their
 * decimals.
 */
final class ShownColumns<R> {
    private static final Figures ONE = new Figures(1);
    private static final Figures TWO = new Figures(2);

    private final OutputTable<R> table;
    private final List<Shown<R>> shown = new ArrayList<>();

    /** How numbers of a column are printed. */
    enum Print {
        /** As they are: counts, thresholds. */
        PLAIN,
        /** With the decimals of the scale. */
        SCORE,
        /** One decimal. */
        PERCENT,
        /** Two decimals. */
        RATIO
    }

    private record Shown<R>(String heading, OutputColumn<R> column, Print print) {}

    ShownColumns(OutputTable<R> table) {
        this.table = table;
    }

    /** Adds a column of that name. */
    ShownColumns<R> with(String name, String heading, Print print) {
        OutputColumn<R> column = table.columns().stream()
                .filter(c -> c.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("No column " + name));
        shown.add(new Shown<>(heading, column, print));
        return this;
    }

    /** The table of these rows. */
    TableView of(String caption, List<R> rows, Figures figures, Function<R, String> visit, Predicate<R> marked) {
        return new TableView(
                caption,
                shown.stream()
                        .map(s -> new TableView.Heading(s.heading(), s.column().name()))
                        .toList(),
                rows.stream()
                        .map(r -> new TableView.Row(
                                visit.apply(r),
                                marked.test(r),
                                shown.stream()
                                        .map(s -> cell(s.column().of().apply(r), s.print(), figures))
                                        .toList()))
                        .toList());
    }

    static TableView.Cell cell(Value value, Print print, Figures scale) {
        if (value instanceof Value.Number number) {
            String exact = Numbers.format(number.value());
            return TableView.Cell.of(
                    switch (print) {
                        case PLAIN -> exact;
                        case SCORE -> scale.fixed(number.value());
                        case PERCENT -> ONE.fixed(number.value());
                        case RATIO -> TWO.fixed(number.value());
                    },
                    exact);
        }
        String text = value instanceof Value.Text t ? t.text() : value instanceof Value.Word w ? w.text() : "";
        return new TableView.Cell(text, "");
    }
}
