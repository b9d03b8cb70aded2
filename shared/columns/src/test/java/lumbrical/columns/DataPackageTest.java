package lumbrical.columns;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.util.List;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import org.junit.jupiter.api.Test;

/** Names of properties and types: Frictionless Data Package 1.0 and Table Schema. The table is invented. */
class DataPackageTest {
    private static final OutputTable<String> TABLE = new OutputTable<>(
            "Invented",
            List.of(
                    OutputColumn.text("who", "Who \"it\" is", Value::text),
                    OutputColumn.number("score", "A score", r -> Value.number(1.5)),
                    OutputColumn.count("items", "A count", r -> Value.number(2)),
                    OutputColumn.date("day", "A day", r -> Value.BLANK)));

    @Test
    void eachColumnHasItsTypeAndMeaning() {
        StringWriter out = new StringWriter();
        new DataPackage("program 1").with("invented.csv", TABLE).write(out);
        String said = out.toString().replaceAll("\\s+", " ");
        assertEquals(
                "{ \"profile\" : \"tabular-data-package\", \"name\" : \"lumbrical-tables\", \"description\" : \"Tables written by"
                        + " program 1. Scores support and never replace clinical judgement; a threshold holds for the population it"
                        + " came from.\", \"resources\" : [ { \"profile\" : \"tabular-data-resource\", \"name\" : \"invented\","
                        + " \"title\" : \"Invented\", \"path\" : \"invented.csv\", \"format\" : \"csv\", \"mediatype\" : \"text/csv\","
                        + " \"encoding\" : \"utf-8\", \"schema\" : { \"fields\" : ["
                        + " { \"name\" : \"who\", \"type\" : \"string\", \"description\" : \"Who \\\"it\\\" is\" },"
                        + " { \"name\" : \"score\", \"type\" : \"number\", \"description\" : \"A score\" },"
                        + " { \"name\" : \"items\", \"type\" : \"integer\", \"description\" : \"A count\" },"
                        + " { \"name\" : \"day\", \"type\" : \"date\", \"description\" : \"A day\" } ],"
                        + " \"missingValues\" : [ \"\" ] } } ] }",
                said);
    }

    @Test
    void aFullDiskIsNoSilence() {
        Writer full = new Writer() {
            @Override
            public void write(char[] text, int from, int length) throws IOException {
                throw new IOException("no space left");
            }

            @Override
            public void flush() throws IOException {
                throw new IOException("no space left");
            }

            @Override
            public void close() {}
        };
        assertThrows(
                UncheckedIOException.class,
                () -> new DataPackage("program").with("t.csv", TABLE).write(full));
    }
}
