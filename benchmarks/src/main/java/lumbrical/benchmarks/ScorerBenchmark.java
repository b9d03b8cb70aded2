package lumbrical.benchmarks;

import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.concurrent.TimeUnit;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoreBuffer;
import lumbrical.scoring.ScoreResult;
import lumbrical.scoring.ScoringPlan;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;
import org.openjdk.jmh.infra.Blackhole;

/** Sittings a second on one core, from primitive arrays and as values. Run with {@code -prof gc} for bytes a sitting. */
@State(Scope.Thread)
@BenchmarkMode(Mode.Throughput)
@OutputTimeUnit(TimeUnit.SECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class ScorerBenchmark {
    private static final int SITTINGS = 1_024;

    @Param({"quickdash", "mhq"})
    private String id = "quickdash";

    private ScoringPlan plan;
    private ScoreBuffer buffer;
    private double[] values;
    private int width;
    private Responses[] responses;

    /** Complete forms, invented. */
    @Setup
    public void setUp() {
        Instrument instrument = Catalogue.builtIn().find(id).orElseThrow();
        plan = ScoringPlan.of(instrument);
        buffer = plan.newBuffer();
        width = instrument.columns().size();
        values = new double[SITTINGS * width];
        Random random = new Random(1);
        for (int s = 0; s < SITTINGS; s++) {
            for (int c = 0; c < width; c++) {
                boolean module = instrument.columns().get(c).item().module().isPresent();
                boolean left = instrument.columns().get(c).name().endsWith("_left");
                values[s * width + c] = module || left ? Double.NaN : 1 + random.nextInt(4);
            }
        }
        responses = new Responses[SITTINGS];
        for (int s = 0; s < SITTINGS; s++) {
            Responses.Builder form = Responses.builder(instrument);
            for (int c = 0; c < width; c++) {
                if (!Double.isNaN(values[s * width + c])) {
                    form.answer(c, values[s * width + c]);
                }
            }
            responses[s] = form.build();
        }
    }

    /** The array way. */
    @Benchmark
    @OperationsPerInvocation(SITTINGS)
    public void arrays(Blackhole sink) {
        for (int s = 0; s < SITTINGS; s++) {
            plan.scoreInto(values, s * width, false, buffer);
            sink.consume(buffer.value(0));
        }
    }

    /** The array way, for responses that a reader has held against the items. */
    @Benchmark
    @OperationsPerInvocation(SITTINGS)
    public void arraysAllowed(Blackhole sink) {
        for (int s = 0; s < SITTINGS; s++) {
            plan.scoreAllowedInto(values, s * width, false, buffer);
            sink.consume(buffer.value(0));
        }
    }

    /** The object way. */
    @Benchmark
    @OperationsPerInvocation(SITTINGS)
    public void objects(Blackhole sink) {
        for (int s = 0; s < SITTINGS; s++) {
            List<ScoreResult> results = plan.score(responses[s], Optional.empty());
            sink.consume(results);
        }
    }

    /** The object way, with room given: what is left is the results themselves. */
    @Benchmark
    @OperationsPerInvocation(SITTINGS)
    public void objectsWithRoom(Blackhole sink) {
        for (int s = 0; s < SITTINGS; s++) {
            List<ScoreResult> results = plan.score(responses[s], Optional.empty(), buffer);
            sink.consume(results);
        }
    }
}
