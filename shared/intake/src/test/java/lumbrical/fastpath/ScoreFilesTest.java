package lumbrical.fastpath;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** The score table as it is written, in blocks by several threads or row by row. The GRC's score is its response. */
class ScoreFilesTest {
    private static final String BLANK =
            "questionnaires left blank on these rows (each instrument of the file counts by itself) ";

    private static final String HEADER =
            "patient,episode,side,completed_on,visit,instrument,scale,score,outcome,reason,items,"
                    + "answered,lowest,highest,better,definition,standard_error,ci_low,ci_high,standing\r\n";
    private static final String PLAIN = "patient,completed_on,side,grc_1";

    @TempDir
    private Path folder;

    private final List<Problem> problems = new ArrayList<>();
    private final List<String> told = new ArrayList<>();

    private Input file(String name, String... lines) {
        try {
            return new Input(Files.write(folder.resolve(name), List.of(lines)), Optional.empty());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private ScoreFiles files(boolean guard, int threads, ProgressListener watch) {
        return new ScoreFiles(
                Catalogue.builtIn(),
                ReadOptions.asOf(LocalDate.of(2026, 11, 25)),
                ScoringOptions.AS_DEFINED,
                guard,
                threads,
                watch);
    }

    private String write(boolean guard, int threads, Input... inputs) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ScoringCounts counts = files(guard, threads, (input, rows, share) -> told.add(input.name() + " " + rows))
                .write(List.of(inputs), out, problems::add);
        told.add(counts.reconciliation() + "; " + counts.outcomeLine());
        return out.toString(StandardCharsets.UTF_8);
    }

    private static String grc(String patient, String side, int score, String day) {
        return patient + ",," + side + "," + day + ",,grc,total," + score + ",complete,,1,1," + score + "," + score
                + ",higher,grc@1,,,,";
    }

    /** The last column, how sure the score is, is the definition's matter and is cut off here. */
    private static String withoutStanding(String text) {
        return text.replaceAll(",[a-z-]*\r\n", ",\r\n");
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2})
    void severalFilesGiveOneTableInTheirOrder(int threads) {
        String out = write(
                true,
                threads,
                file("a.csv", PLAIN, "P1,2026-03-09,right,5", "=P2,2026-03-09,l,-3"),
                file("b.csv", "patient,completed_on,instrument,item,response", "P3,2026-03-10,grc,1,7"),
                file("c.csv", PLAIN, "P4,2026-03-11,,0", "P5,2026-03-11,,", "P6,,,1"));
        assertEquals(
                withoutStanding(HEADER)
                        + grc("P1", "right", 5, "2026-03-09") + "\r\n"
                        + grc("'=P2", "left", -3, "2026-03-09") + "\r\n"
                        + grc("P3", "", 7, "2026-03-10") + "\r\n"
                        + grc("P4", "", 0, "2026-03-11") + "\r\n",
                withoutStanding(out));
        assertEquals(
                List.of("c.csv row 4, column completed_on date-missing"),
                problems.stream().map(p -> p.place() + " " + p.code().code()).toList());
        assertEquals(
                "rows read 6 = scored 4 + nothing to score 1 + rejected 1; score rows: complete 4, with-missing 0, not-scored 0;"
                        + " questionnaires left blank on these rows (each instrument of the file counts by itself) 1",
                told.get(told.size() - 1));
        assertEquals(
                List.of("a.csv 2", "b.csv 1", "c.csv 3"),
                told.subList(0, told.size() - 1).stream()
                        .filter(t -> !t.endsWith(" 0"))
                        .toList(),
                "each file is told once more at its end");
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 2})
    void theGuardMayBeLeftOut(int threads) {
        assertEquals(
                withoutStanding(HEADER) + grc("=P2", "", 1, "2026-03-09") + "\r\n",
                withoutStanding(write(false, threads, file("a.csv", PLAIN, "=P2,2026-03-09,,1"))));
    }

    /** The same form of the same sitting in another file is told, and scored all the same. */
    @ParameterizedTest
    @ValueSource(ints = {0, 1, 2})
    void aFormThatStandsTwiceIsToldAcrossFiles(int threads) {
        write(
                true,
                threads,
                file("a.csv", PLAIN, "P1,2026-03-09,right,5"),
                file("b.csv", PLAIN, "P1,2026-03-09,right,5", "P1,2026-03-09,left,5", "P1,2026-03-10,right,5"));
        assertEquals(
                List.of("b.csv row 2 duplicate-sitting"),
                problems.stream().map(p -> p.place() + " " + p.code().code()).toList());
        assertEquals(
                "rows read 4 = scored 4 + nothing to score 0 + rejected 0; score rows: complete 4, with-missing 0, not-scored 0;"
                        + " questionnaires left blank on these rows (each instrument of the file counts by itself) 0",
                told.get(told.size() - 1));
    }

    @ParameterizedTest
    @ValueSource(ints = {0, 2})
    void aFullDiskIsToldToWhoCalled(int threads) {
        OutputStream full = new OutputStream() {
            @Override
            public void write(int b) throws IOException {
                throw new IOException("No space left on device");
            }
        };
        String[] rows = new String[5_000];
        rows[0] = PLAIN;
        for (int i = 1; i < rows.length; i++) {
            rows[i] = "P" + i + ",2026-03-09,right,5";
        }
        assertEquals(
                "No space left on device",
                assertThrows(UncheckedIOException.class, () -> files(true, threads, ProgressListener.NONE)
                                .write(List.of(file("a.csv", rows)), full, problems::add))
                        .getCause()
                        .getMessage());
        assertEquals(
                "No space left on device",
                assertThrows(
                                UncheckedIOException.class,
                                () -> files(true, threads, ProgressListener.NONE)
                                        .write(List.of(file("a.csv", PLAIN)), full, problems::add),
                                "only when the last is handed on")
                        .getCause()
                        .getMessage());
    }
}
