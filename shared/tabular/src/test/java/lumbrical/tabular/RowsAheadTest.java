package lumbrical.tabular;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A large table is split ahead of the work on its rows; nobody notices. */
class RowsAheadTest {
    private static final int ROWS = 60_000;

    @TempDir
    Path temp;

    @Test
    void theRowsComeWholeInTheirOrder() throws IOException {
        Path file = write("");
        List<String> seen = new ArrayList<>();
        List<Integer> numbers = new ArrayList<>();
        List<Double> shares = new ArrayList<>();
        TableFile.read(new Input(file, Optional.empty()), Optional.empty(), new TableSink() {
            @Override
            public void row(int number, List<String> cells) {
                numbers.add(number);
                seen.add(String.join("|", cells));
            }

            @Override
            public void at(double share) {
                shares.add(share);
            }
        });
        assertEquals(ROWS, seen.size());
        for (int i = 0; i < ROWS; i++) {
            assertEquals(cells(i), seen.get(i));
            assertEquals(i + 1, numbers.get(i));
        }
        assertEquals(ROWS / TableSink.ROWS_BETWEEN, shares.size());
        assertEquals(shares.stream().sorted().toList(), shares);
        assertTrue(shares.get(shares.size() - 1) > 0.9, shares.toString());
        assertNobodySplits();
    }

    @Test
    void aFaultComesAfterTheRowsBeforeIt() throws IOException {
        Path file = write("\"closed\" and more\n");
        List<Integer> numbers = new ArrayList<>();
        UnreadableInputException refused = assertThrows(
                UnreadableInputException.class,
                () -> TableFile.read(
                        new Input(file, Optional.empty()), Optional.empty(), (number, cells) -> numbers.add(number)));
        assertEquals(
                Optional.of(ROWS + 1), refused.place().row().stream().boxed().findFirst());
        assertEquals(ROWS, numbers.size());
        assertNobodySplits();
    }

    /** A thread that dies without a word would leave its reader waiting for ever. */
    @Test
    @Timeout(60)
    void whatBreaksTheSplittingIsToldToWhoReads() {
        RowsAhead.Source full = new RowsAhead.Source() {
            private int rows;

            @Override
            public Optional<List<String>> next() {
                if (rows++ == 10) {
                    throw new OutOfMemoryError("Java heap space");
                }
                return Optional.of(List.of("x".repeat(1 << 15)));
            }

            @Override
            public double share() {
                return 0.5;
            }
        };
        try (RowsAhead ahead = new RowsAhead(full)) {
            for (int block = 0; block < 10; block++) {
                assertEquals(1, ahead.next().rows().size());
            }
            assertEquals(
                    "Java heap space",
                    assertThrows(OutOfMemoryError.class, ahead::next).getMessage());
        }
    }

    @Test
    void whoStopsInTheMiddleLeavesNoThreadBehind() throws IOException {
        Path file = write("");
        IllegalArgumentException stopped = assertThrows(
                IllegalArgumentException.class,
                () -> TableFile.read(new Input(file, Optional.empty()), Optional.empty(), (number, cells) -> {
                    if (number == 10) {
                        throw new IllegalArgumentException("enough");
                    }
                }));
        assertEquals("enough", stopped.getMessage());
        assertNobodySplits();
    }

    private static void assertNobodySplits() {
        assertFalse(Thread.getAllStackTraces().keySet().stream()
                .anyMatch(t -> t.getName().equals("rows-ahead")));
    }

    private Path write(String end) throws IOException {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < ROWS; i++) {
            text.append("row ")
                    .append(i)
                    .append(",\"a, quoted\ncell\",")
                    .append(i % 7 == 0 ? "" : i)
                    .append("\r\n");
        }
        Path file = temp.resolve("large.csv");
        Files.writeString(file, text.append(end));
        assertTrue(Files.size(file) > 1 << 20);
        return file;
    }

    private static String cells(int i) {
        return "row " + i + "|a, quoted\ncell|" + (i % 7 == 0 ? "" : i);
    }
}
