package lumbrical.command;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A file that proves unreadable late: what was printed by then is no result, and is not called nothing. */
class PartPrintedTest {
    private static final String HEADER = "patient,completed_on,remark,grc_1\n";
    private static final String FAULT =
            "late.csv row %d: the quotes in this row do not match (RFC 4180). Look for a quote inside a cell that"
                    + " is not doubled.%n";

    @TempDir
    private Path folder;

    private Run scored(int rows) throws IOException {
        StringBuilder text = new StringBuilder(HEADER);
        for (int i = 0; i < rows; i++) {
            text.append("P").append(i).append(",2026-03-09,,5\n");
        }
        text.append("Q,2026-03-09,\"never closed,5\n");
        Path file = Files.writeString(folder.resolve("late.csv"), text.toString());
        return Run.of(List.of("score", file.toString(), "--as-of", "2026-11-25"));
    }

    @Test
    void aPartThatWasPrintedIsSaid() throws IOException {
        Run run = scored(90_000);
        assertEquals(2, run.status());
        assertTrue(run.out().length() > 4_000_000, "a part is there");
        assertEquals(
                FAULT.formatted(90_002)
                        + "Standard output has only a part of the scores. Do not use that part; with --out the file is whole or not"
                        + " there.%n".formatted(),
                run.err());
    }

    @Test
    void whereNothingWasPrintedThatIsSaid() throws IOException {
        assertEquals(new Run(2, "", (FAULT + "Nothing was written.%n").formatted(3)), scored(1));
    }
}
