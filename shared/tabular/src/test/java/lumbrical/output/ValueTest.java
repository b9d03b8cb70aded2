package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.junit.jupiter.api.Test;

/** What a cell holds, and how a row of cells is written. */
class ValueTest {
    private static final LocalDate DAY = LocalDate.of(2026, 3, 9);

    @Test
    void whatIsNotThereIsBlank() {
        assertEquals(
                List.of(
                        Value.BLANK,
                        Value.BLANK,
                        Value.BLANK,
                        Value.BLANK,
                        Value.BLANK,
                        Value.BLANK,
                        Value.BLANK,
                        Value.BLANK),
                List.of(
                        Value.text(""),
                        Value.text(Optional.empty()),
                        Value.word(""),
                        Value.word(Optional.empty()),
                        Value.number(OptionalDouble.empty()),
                        Value.number(OptionalInt.empty()),
                        Value.yesNo(Optional.empty()),
                        Value.day(Optional.empty())));
    }

    @Test
    void whatIsThereIsOfItsKind() {
        assertEquals(
                List.of(new Value.Text("P1"), new Value.Text("P1"), new Value.Word("open"), new Value.Word("open")),
                List.of(
                        Value.text("P1"),
                        Value.text(Optional.of("P1")),
                        Value.word("open"),
                        Value.word(Optional.of("open"))));
        assertEquals(
                List.of(new Value.Number(0.5), new Value.Number(0.5), new Value.Number(-3)),
                List.of(Value.number(0.5), Value.number(OptionalDouble.of(0.5)), Value.number(OptionalInt.of(-3))));
        assertEquals(
                List.of(new Value.Word("yes"), new Value.Word("no"), new Value.Day(DAY), new Value.Day(DAY)),
                List.of(
                        Value.yesNo(Optional.of(true)),
                        Value.yesNo(Optional.of(false)),
                        Value.day(DAY),
                        Value.day(Optional.of(DAY))));
    }

    private record Row(String id, double score, int day, LocalDate on) {}

    private static List<OutputColumn<Row>> columns() {
        return List.of(
                OutputColumn.text("id, as given", "Who", r -> Value.text(r.id())),
                OutputColumn.number("score", "How much", r -> Value.number(r.score())),
                OutputColumn.count("day", "When", r -> Value.number(r.day())),
                OutputColumn.date("on", "Which day", r -> Value.day(r.on())));
    }

    @Test
    void aTableIsDescribedOnceAndForAll() {
        List<OutputColumn<Row>> columns = new ArrayList<>(columns());
        OutputTable<Row> table = new OutputTable<>("Rows", columns);
        columns.clear();
        assertEquals(List.of("id, as given", "score", "day", "on"), table.headings());
        assertEquals(
                List.of(
                        OutputColumn.Kind.TEXT,
                        OutputColumn.Kind.NUMBER,
                        OutputColumn.Kind.COUNT,
                        OutputColumn.Kind.DATE),
                table.columns().stream().map(OutputColumn::kind).toList());
    }

    /** RFC 4180: a heading with a comma is quoted; two thirds are 0.666667 at six decimals. */
    @Test
    void cellsOfARowStandSideBySide() {
        OutputTable<Row> table = new OutputTable<>("Rows", columns());
        StringBuilder first = new StringBuilder();
        CsvTableWriter<Row> csv = new CsvTableWriter<>(table, first, true);
        csv.write(new Row("-1", 2.0 / 3, -14, DAY));
        csv.flush();
        assertEquals("\"id, as given\",score,day,on\r\n'-1,0.666667,-14,2026-03-09\r\n", first.toString());
        StringBuilder more = new StringBuilder();
        CsvTableWriter<Row> rest = CsvTableWriter.withoutHeader(table, more, false);
        rest.write(new Row("-1", 100, 0, DAY));
        rest.flush();
        assertEquals("-1,100,0,2026-03-09\r\n", more.toString());
    }

    @Test
    void aFullDiskIsToldToWhoWrites() {
        Appendable full = new Appendable() {
            @Override
            public Appendable append(CharSequence text) throws IOException {
                throw new IOException("No space left on device");
            }

            @Override
            public Appendable append(CharSequence text, int start, int end) throws IOException {
                throw new IOException("No space left on device");
            }

            @Override
            public Appendable append(char c) throws IOException {
                throw new IOException("No space left on device");
            }
        };
        CsvTableWriter<Row> csv = new CsvTableWriter<>(new OutputTable<>("Rows", columns()), full, true);
        UncheckedIOException failed = assertThrows(UncheckedIOException.class, csv::flush);
        assertEquals("No space left on device", failed.getCause().getMessage());
    }
}
