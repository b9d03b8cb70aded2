package lumbrical.benchmarks;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.stream.IntStream;
import lumbrical.batch.ScoringCounts;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.ProblemColumns;
import lumbrical.fastpath.ScoreFiles;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.ResponseReader;
import lumbrical.output.CsvTableWriter;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import lumbrical.workbook.ProblemsWorkbook;
import lumbrical.workbook.RunRecord;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.infra.Blackhole;

/** Each reader and writer alone, warm, in rows a second. */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 3, time = 2)
public class FilesBenchmark {
    private static final int ROWS = 20_000;
    private static final LocalDate AS_OF = LocalDate.of(2026, 11, 25);

    private final Catalogue catalogue = Catalogue.builtIn();
    private Path folder;
    private Input table;
    private Input workbook;
    private List<Problem> problems;

    /** Rows of one 11-item form, invented. */
    @Setup
    public void setUp() throws IOException {
        folder = Files.createTempDirectory("rows");
        table = new Input(MakeInput.narrow(folder, ROWS), Optional.empty());
        workbook = new Input(MakeInput.workbook(folder, ROWS), Optional.empty());
        problems = IntStream.range(0, ROWS)
                .mapToObj(row -> new Problem(
                        Place.of("responses.csv", row), "9", ProblemCode.RESPONSE_NOT_ALLOWED, "Allowed are 1 to 5."))
                .toList();
    }

    /** Removes the files. */
    @TearDown
    public void tearDown() throws IOException {
        Files.delete(table.path());
        Files.delete(workbook.path());
        Files.delete(folder);
    }

    private ScoringCounts score(Input input, int threads) {
        return new ScoreFiles(
                        catalogue,
                        ReadOptions.asOf(AS_OF),
                        ScoringOptions.AS_DEFINED,
                        true,
                        threads,
                        ProgressListener.NONE)
                .write(List.of(input), OutputStream.nullOutputStream(), problem -> {});
    }

    /** Plain CSV in blocks, one worker: read, scored, printed. */
    @Benchmark
    @OperationsPerInvocation(ROWS)
    public ScoringCounts csvInBlocks() {
        return score(table, 1);
    }

    /** The same through the library reader. */
    @Benchmark
    @OperationsPerInvocation(ROWS)
    public ScoringCounts csvRowByRow() {
        return score(table, 0);
    }

    /** A workbook by events: read only. */
    @Benchmark
    @OperationsPerInvocation(ROWS)
    public ReadSummary workbookRead(Blackhole sink) {
        return ResponseReader.read(
                List.of(workbook),
                catalogue,
                ReadOptions.asOf(AS_OF),
                sink::consume,
                problem -> {},
                ProgressListener.NONE);
    }

    /** A table of problems as CSV. */
    @Benchmark
    @OperationsPerInvocation(ROWS)
    public int csvWritten() {
        StringBuilder out = new StringBuilder();
        CsvTableWriter<Problem> csv = new CsvTableWriter<>(ProblemColumns.TABLE, out, true);
        problems.forEach(csv::write);
        csv.flush();
        return out.length();
    }

    /** The same as a workbook. */
    @Benchmark
    @OperationsPerInvocation(ROWS)
    public void workbookWritten() throws IOException {
        Path scratch = Files.createTempDirectory("scratch");
        try (OutputStream out = OutputStream.nullOutputStream()) {
            ProblemsWorkbook.write(
                    problems, AS_OF, new RunRecord("benchmark", List.of(), List.of(), "none"), scratch, out);
        } finally {
            for (Path left : Files.list(scratch).toList()) {
                Files.delete(left);
            }
            Files.delete(scratch);
        }
    }
}
