package lumbrical.spark;

import java.time.LocalDate;
import lumbrical.batch.BatchScorer;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.scoring.ScoringOptions;
import org.apache.spark.sql.SparkSession;

/** What scores inside the engine cost: a table of responses in, score rows out as CSV. Started by {@code benchmarks/spark}. */
final class TimedRun {
    private TimedRun() {}

    public static void main(String[] args) {
        SparkSession spark = SparkSession.builder()
                .master("local[2]")
                .appName("scores")
                .config("spark.ui.enabled", "false")
                .getOrCreate();
        spark.sparkContext().setLogLevel("ERROR");
        long begun = System.nanoTime();
        SparkScores.of(
                        spark.read().option("header", "true").csv(args[0]),
                        () -> new BatchScorer(
                                Catalogue.builtIn(),
                                ReadOptions.asOf(LocalDate.of(2026, 11, 1)),
                                ScoringOptions.AS_DEFINED))
                .scores()
                .write()
                .mode("overwrite")
                .option("header", "true")
                .csv(args[1]);
        System.out.println("without the start of the engine: " + (System.nanoTime() - begun) / 1_000_000 + " ms");
        spark.stop();
    }
}
