package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The example of docs/own-instrument, worked there by hand. */
class OwnInstrumentTest {
    @Test
    void aClinicsOwnInstrumentIsScoredWithoutJava() {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int status = Main.run(
                List.of(
                        "score",
                        "../docs/own-instrument/responses.csv",
                        "--definitions",
                        "../docs/own-instrument",
                        "--as-of",
                        "2026-11-25"),
                new PrintWriter(out),
                new PrintWriter(err),
                Path.of(".."));
        assertEquals(0, status, err.toString());
        List<String> rows = out.toString().lines().toList();
        assertTrue(rows.get(1).contains(",total,40,complete,,5,5,40,40,lower,myhand5@1"), rows.get(1));
        assertTrue(rows.get(2).contains(",total,100,with-missing,,5,4,80,100,"), rows.get(2));
        assertTrue(rows.get(3).contains(",total,,not-scored,too-few-answered,5,3,30,70,"), rows.get(3));
    }
}
