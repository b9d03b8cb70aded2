package lumbrical.output;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class CsvTableWriterTest {
    private static final OutputTable<Value> ONE =
            new OutputTable<>("One", List.of(OutputColumn.text("cell", "Anything", v -> v)));

    private static String write(boolean guard, Value... rows) {
        StringBuilder out = new StringBuilder();
        CsvTableWriter<Value> csv = new CsvTableWriter<>(ONE, out, guard);
        for (Value row : rows) {
            csv.write(row);
        }
        csv.flush();
        return out.toString();
    }

    @Test
    void aTableWithoutRowsIsItsHeader() {
        assertEquals("cell\r\n", write(true));
    }

    @ParameterizedTest
    @ValueSource(strings = {"=1+1", "+1", "-5", "@x", "\tx"})
    void aTextThatStartsLikeAFormulaGetsOneApostrophe(String text) {
        assertEquals("cell\r\n'" + text + "\r\n", write(true, new Value.Text(text)));
        assertEquals("cell\r\n" + text + "\r\n", write(false, new Value.Text(text)));
    }

    @Test
    void aTextThatStartsWithACarriageReturnIsGuardedAndQuoted() {
        assertEquals("cell\r\n\"'\rx\"\r\n", write(true, new Value.Text("\rx")));
    }

    @Test
    void numbersOfOursAndWordsOfOursStayBare() {
        assertEquals("cell\r\n-5.5\r\n-\r\n", write(true, new Value.Number(-5.5), new Value.Word("-")));
    }

    @Test
    void quotesWhatTheFormatRequiresAndNothingElse() {
        assertEquals(
                "cell\r\n\"a,b\"\r\n\"say \"\"no\"\"\"\r\n\"two\nlines\"\r\na;b c\r\n",
                write(
                        true,
                        new Value.Text("a,b"),
                        new Value.Text("say \"no\""),
                        new Value.Text("two\nlines"),
                        new Value.Text("a;b c")));
    }

    @Test
    void datesAreIsoAndBlanksAreEmpty() {
        assertEquals("cell\r\n2024-02-29\r\n\r\n", write(true, new Value.Day(LocalDate.of(2024, 2, 29)), Value.BLANK));
    }

    @Test
    void everythingWrittenArrivesHoweverMuchItIs() {
        int rows = 40_000;
        StringBuilder out = new StringBuilder();
        CsvTableWriter<Value> csv = new CsvTableWriter<>(ONE, out, true);
        for (int i = 0; i < rows; i++) {
            csv.write(new Value.Number(i));
        }
        csv.flush();
        String[] lines = out.toString().split("\r\n");
        assertEquals(rows + 1, lines.length);
        assertEquals("39999", lines[rows]);
    }
}
