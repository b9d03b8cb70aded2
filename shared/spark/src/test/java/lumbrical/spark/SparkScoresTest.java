package lumbrical.spark;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.stream.Stream;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.batch.ScoringProgressListener;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.intake.ReadOptions;
import lumbrical.number.Numbers;
import lumbrical.output.CsvTableWriter;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.apache.spark.sql.Dataset;
import org.apache.spark.sql.Row;
import org.apache.spark.sql.SparkSession;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The scores of {@code score}, as a sorted set, number texts included; on two local workers. */
class SparkScoresTest {
    private static final LocalDate DAY = LocalDate.of(2026, 11, 1);
    private static final Path DEMO = Path.of("../demo/responses.csv");
    private static SparkSession spark;

    @TempDir
    Path temp;

    @BeforeAll
    static void begin() {
        spark = SparkSession.builder()
                .master("local[2]")
                .appName("scores")
                .config("spark.ui.enabled", "false")
                .config("spark.sql.shuffle.partitions", "4")
                .getOrCreate();
        spark.sparkContext().setLogLevel("ERROR");
    }

    @AfterAll
    static void end() {
        spark.stop();
    }

    @Test
    void theDemoIsScoredAsByOneProcess() throws IOException {
        SparkScores scores = SparkScores.of(read(DEMO).repartition(5), SparkScoresTest::scorer);
        assertEquals(oneProcess(DEMO), sorted(scores.scores()));
        // As the program says of the demo: read 298, scored 294, nothing to score 4, rejected 0.
        ScoringCounts counts = count(DEMO);
        assertEquals(298, counts.read().rows());
        assertEquals(
                List.of(298L, counts.scored(), counts.nothing(), counts.read().rejected()), sums(scores.counts()));
    }

    @Test
    void aLongTableIsBroughtTogetherByPatient() throws IOException {
        Path file = temp.resolve("long.csv");
        List<String> lines = new ArrayList<>();
        for (int item = 1; item <= 11; item++) {
            for (String patient : List.of("A", "B", "C", "D")) {
                lines.add(patient + ",2026-01-01,quickdash," + item + ",3");
            }
        }
        Files.write(
                file,
                Stream.concat(Stream.of("patient,completed_on,instrument,item,response"), lines.stream())
                        .toList());
        SparkScores scores = SparkScores.of(read(file).repartition(7), SparkScoresTest::scorer);
        List<String> rows = sorted(scores.scores());
        // Eleven answers of 3: (33 / 11 - 1) x 25 (Gummesson 2006, doi:10.1186/1471-2474-7-44).
        assertEquals(
                4, rows.stream().filter(r -> r.contains(",total,50,complete,")).count(), rows.toString());
        assertEquals(oneProcess(file), rows);
    }

    @Test
    void whatIsRejectedIsToldWithItsPlace() throws IOException {
        Path file = temp.resolve("bad.csv");
        Files.writeString(
                file, "patient,completed_on,sane_1\nA,2026-01-01,50\nB,no day,50\nC,2026-01-01,5000\nD,2026-01-01,\n");
        SparkScores scores = SparkScores.of(read(file).coalesce(1), SparkScoresTest::scorer);
        assertEquals(List.of(4L, 2L, 1L, 1L), sums(scores.counts()));
        List<Row> problems = scores.problems().collectAsList();
        Row rejected = problems.stream()
                .filter(r -> "completed_on".equals(r.getString(2)))
                .findFirst()
                .orElseThrow();
        assertEquals("partition-0", rejected.getString(0));
        assertEquals(3L, rejected.getLong(1));
        assertTrue(
                problems.stream().anyMatch(r -> "sane_1".equals(r.getString(2)) && r.getLong(1) == 4),
                problems.toString());
    }

    @Test
    void aTableWithoutPatientsIsRefusedBeforeAnythingRuns() throws IOException {
        Path file = temp.resolve("none.csv");
        Files.writeString(file, "name,quickdash_1\nA,1\n");
        Dataset<Row> rows = read(file);
        assertThrows(UnreadableInputException.class, () -> SparkScores.of(rows, SparkScoresTest::scorer));
    }

    @Test
    @Tag("deep")
    void aMillionSittingsAreScoredAsByOneProcess() throws IOException {
        Path file = temp.resolve("million.csv");
        Random random = new Random(20261127);
        try (BufferedWriter out = Files.newBufferedWriter(file)) {
            out.write("patient,completed_on,side");
            for (int i = 1; i <= 11; i++) {
                out.write(",quickdash_" + i);
            }
            out.write("\n");
            for (int row = 0; row < 1_000_000; row++) {
                StringBuilder line = new StringBuilder("P" + row / 4 + ","
                        + LocalDate.of(2024, 1, 1).plusDays(random.nextInt(700)) + ","
                        + (random.nextBoolean() ? "left" : "right"));
                for (int i = 0; i < 11; i++) {
                    int answer = random.nextInt(24);
                    // One in twenty-four is not answered, and now and then one is not allowed.
                    line.append(',').append(answer == 0 ? "" : answer == 1 && i == 3 ? "9" : 1 + answer % 5);
                }
                out.write(line.append('\n').toString());
            }
        }
        SparkScores scores = SparkScores.of(read(file), SparkScoresTest::scorer);
        List<String> inSpark = sorted(scores.scores());
        List<String> inOne = oneProcess(file);
        assertEquals(inOne.size(), inSpark.size());
        for (int i = 0; i < inOne.size(); i++) {
            assertEquals(inOne.get(i), inSpark.get(i));
        }
        assertEquals(1_000_000L, sums(scores.counts()).get(0));
    }

    private static BatchScorer scorer() {
        return new BatchScorer(Catalogue.builtIn(), ReadOptions.asOf(DAY), ScoringOptions.AS_DEFINED);
    }

    private static Dataset<Row> read(Path file) {
        return spark.read().option("header", "true").csv(file.toString());
    }

    private static ScoringCounts count(Path file) {
        return scorer().score(List.of(new Input(file, Optional.empty())), (row, forms) -> {}, problem -> {});
    }

    private static List<String> oneProcess(Path file) {
        StringBuilder text = new StringBuilder();
        CsvTableWriter<ScoreRow> out = CsvTableWriter.withoutHeader(ScoreColumns.TABLE, text, false);
        ScoringCounts counts = scorer().score(
                        List.of(new Input(file, Optional.empty())),
                        (row, forms) ->
                                forms.forEach(form -> form.results().forEach(r -> out.write(ScoreRow.of(form, r)))),
                        problem -> {},
                        ScoringProgressListener.NONE);
        out.flush();
        assertTrue(counts.scored() > 0);
        List<String> lines = new ArrayList<>(Arrays.asList(text.toString().split("\r\n")));
        Collections.sort(lines);
        return lines;
    }

    /** The rows as the lines of a table, sorted. */
    private static List<String> sorted(Dataset<Row> rows) {
        assertEquals(ScoreColumns.TABLE.headings(), List.of(rows.columns()));
        List<String> lines = new ArrayList<>();
        for (Row row : rows.collectAsList()) {
            StringBuilder line = new StringBuilder();
            for (int i = 0; i < row.size(); i++) {
                Object cell = row.get(i);
                line.append(i == 0 ? "" : ",");
                if (cell instanceof Double number) {
                    line.append(Numbers.format(number));
                } else if (cell != null) {
                    line.append(cell);
                }
            }
            lines.add(line.toString());
        }
        Collections.sort(lines);
        return lines;
    }

    private static List<Long> sums(Dataset<Row> counts) {
        long[] sums = new long[4];
        for (Row row : counts.collectAsList()) {
            for (int i = 0; i < sums.length; i++) {
                sums[i] += row.getLong(i);
            }
        }
        return Arrays.stream(sums).boxed().toList();
    }
}
