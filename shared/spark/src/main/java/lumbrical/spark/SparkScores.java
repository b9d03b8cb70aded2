package lumbrical.spark;

import java.io.Serializable;
import java.sql.Date;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Iterator;
import java.util.List;
import java.util.NoSuchElementException;
import java.util.Optional;
import java.util.Queue;
import java.util.function.Function;
import java.util.function.Supplier;
import lumbrical.batch.BatchScorer;
import lumbrical.batch.ScoringCounts;
import lumbrical.columns.ProblemColumns;
import lumbrical.columns.ScoreColumns;
import lumbrical.columns.ScoreRow;
import lumbrical.output.OutputColumn;
import lumbrical.output.OutputTable;
import lumbrical.output.Value;
import lumbrical.problem.Problem;
import lumbrical.tabular.Cells;
import org.apache.spark.TaskContext;
import org.apache.spark.api.java.function.MapPartitionsFunction;
import org.apache.spark.sql.Dataset;
import org.apache.spark.sql.Encoders;
import org.apache.spark.sql.Row;
import org.apache.spark.sql.RowFactory;
import org.apache.spark.sql.types.DataType;
import org.apache.spark.sql.types.DataTypes;
import org.apache.spark.sql.types.StructField;
import org.apache.spark.sql.types.StructType;
import org.jspecify.annotations.Nullable;

/**
 * Turns rows of responses into score rows inside Apache Spark. Each partition is read and scored by the library as a table of its own, so
 * the scores are those of {@code score}. Responses are the columns of a response table, as text or as numbers.
 *
 * <p>Nothing is dropped silently: {@link #problems()} gives the rejected rows and every note, {@link #counts()} where each row went. Each
 * is a pass of its own over the responses. A problem names its row by the partition ({@code partition-3}) and by its place in it, from 2,
 * the header counting as the first row of each.
 */
public final class SparkScores {
    private static final StructType COUNTS = new StructType(
            Arrays.stream(new String[] {"rows_read", "rows_scored", "rows_nothing_to_score", "rows_rejected"})
                    .map(name -> field(name, DataTypes.LongType))
                    .toArray(StructField[]::new));

    private final Dataset<Row> responses;
    private final ScorerMaker scorer;

    private SparkScores(Dataset<Row> responses, ScorerMaker scorer) {
        this.responses = responses;
        this.scorer = scorer;
    }

    /** Makes the scorer of a partition, where the partition is: it travels there, so it must hold nothing that does not. */
    @FunctionalInterface
    public interface ScorerMaker extends Supplier<BatchScorer>, Serializable {}

    /**
     * Scores of {@code responses}; nothing is computed before an action asks.
     *
     * @param responses a table of responses, wide, or long (a row is a response); one that is long is brought together by patient first,
     *     since the responses of a form belong together
     * @param scorer such as {@code () -> new BatchScorer(Catalogue.builtIn(), ReadOptions.asOf(day), ScoringOptions.AS_DEFINED)}
     * @throws lumbrical.tabular.UnreadableInputException if the columns name no patient or date, or one item twice
     * @throws IllegalArgumentException if the table is long and no column is called patient
     */
    public static SparkScores of(Dataset<Row> responses, ScorerMaker scorer) {
        BatchScorer.Rows header = scorer.get().rows("columns", (row, forms) -> {}, problem -> {});
        header.row(1, List.of(responses.columns()));
        if (!header.end().read().longLayout()) {
            return new SparkScores(responses, scorer);
        }
        String patient = Arrays.stream(responses.columns())
                .filter(c -> Cells.heading(c).equals("patient"))
                .findFirst()
                .orElseThrow(() -> new IllegalArgumentException("a long table needs a column called patient"));
        return new SparkScores(responses.repartition(responses.col("`" + patient + "`")), scorer);
    }

    /** The score rows: the columns of {@code score}, numbers unrounded, null where that has a blank. */
    public Dataset<Row> scores() {
        return map(
                schema(ScoreColumns.TABLE),
                (queue, scoring) -> scoring.rows(
                        name(),
                        (row, forms) -> forms.forEach(form -> form.results()
                                .forEach(result -> queue.add(rowOf(ScoreColumns.TABLE, ScoreRow.of(form, result))))),
                        problem -> {}));
    }

    /** What is wrong with the responses, and notes: the columns of the list of problems. */
    public Dataset<Row> problems() {
        return map(
                schema(ProblemColumns.TABLE),
                (queue, scoring) -> scoring.rows(
                        name(),
                        (row, forms) -> {},
                        (Problem problem) -> queue.add(rowOf(ProblemColumns.TABLE, problem))));
    }

    /** For each partition where its rows went: {@code rows_read} is the sum of the other three columns. */
    public Dataset<Row> counts() {
        return map(
                COUNTS,
                (queue, scoring) -> new Counted(scoring.rows(name(), (row, forms) -> {}, problem -> {}), queue));
    }

    /** Gives nothing but where the rows went. */
    private record Counted(BatchScorer.Rows rows, Queue<Row> results) implements BatchScorer.Rows {
        @Override
        public void row(int number, List<String> cells) {
            rows.row(number, cells);
        }

        @Override
        public ScoringCounts end() {
            ScoringCounts counts = rows.end();
            results.add(RowFactory.create(
                    counts.read().rows(),
                    counts.scored(),
                    counts.nothing(),
                    counts.read().rejected()));
            return counts;
        }
    }

    private static String name() {
        return "partition-"
                + Optional.ofNullable(TaskContext.get())
                        .map(TaskContext::partitionId)
                        .orElse(0);
    }

    private Dataset<Row> map(StructType schema, Begin begin) {
        List<String> headings = List.of(responses.columns());
        ScorerMaker maker = scorer;
        return responses.mapPartitions(
                (MapPartitionsFunction<Row, Row>)
                        rows -> new Partition(rows, headings, queue -> begin.begin(queue, maker.get())),
                Encoders.row(schema));
    }

    /** Begins a table whose results go into a queue. */
    private interface Begin extends Serializable {
        BatchScorer.Rows begin(Queue<Row> results, BatchScorer scorer);
    }

    /** The results of a partition, one input row at a time, so that memory does not grow with it. */
    private static final class Partition implements Iterator<Row> {
        private final Iterator<Row> input;
        private final Queue<Row> results = new ArrayDeque<>();
        private final BatchScorer.Rows table;
        private int number = 1;
        private boolean ended;

        Partition(Iterator<Row> input, List<String> headings, Function<Queue<Row>, BatchScorer.Rows> begin) {
            this.input = input;
            this.table = begin.apply(results);
            // A partition may be without rows, which is no fault of the table.
            this.ended = !input.hasNext();
            table.row(number, headings);
        }

        @Override
        public boolean hasNext() {
            while (results.isEmpty() && !ended) {
                if (input.hasNext()) {
                    number++;
                    table.row(number, cells(input.next()));
                } else {
                    ended = true;
                    table.end();
                }
            }
            return !results.isEmpty();
        }

        @Override
        public Row next() {
            if (!hasNext()) {
                throw new NoSuchElementException();
            }
            return results.remove();
        }

        private static List<String> cells(Row row) {
            List<String> cells = new ArrayList<>(row.size());
            for (int i = 0; i < row.size(); i++) {
                cells.add(row.isNullAt(i) ? "" : String.valueOf(row.get(i)));
            }
            return cells;
        }
    }

    private static StructType schema(OutputTable<?> table) {
        return new StructType(table.columns().stream()
                .map(c -> field(c.name(), type(c.kind())))
                .toArray(StructField[]::new));
    }

    private static StructField field(String name, DataType type) {
        return DataTypes.createStructField(name, type, true);
    }

    private static DataType type(OutputColumn.Kind kind) {
        return switch (kind) {
            case TEXT -> DataTypes.StringType;
            case NUMBER -> DataTypes.DoubleType;
            case COUNT -> DataTypes.LongType;
            case DATE -> DataTypes.DateType;
        };
    }

    private static <R> Row rowOf(OutputTable<R> table, R row) {
        return RowFactory.create(table.columns().stream()
                .map(c -> cell(c.kind(), c.of().apply(row)))
                .toArray());
    }

    private static @Nullable Object cell(OutputColumn.Kind kind, Value value) {
        if (value instanceof Value.Text text) {
            return text.text();
        }
        if (value instanceof Value.Word word) {
            return word.text();
        }
        if (value instanceof Value.Number number) {
            return kind == OutputColumn.Kind.COUNT ? (Object) (long) number.value() : (Object) number.value();
        }
        if (value instanceof Value.Day day) {
            return Date.valueOf(day.day());
        }
        return null;
    }
}
