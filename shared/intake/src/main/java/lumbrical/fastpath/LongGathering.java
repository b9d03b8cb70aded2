package lumbrical.fastpath;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Side;
import lumbrical.intake.LongResponse;
import lumbrical.intake.LongRows;
import lumbrical.intake.LongSitting;
import lumbrical.intake.LongSittings;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.SittingRow;
import lumbrical.intake.WideRows;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.scoring.Response;
import lumbrical.sitting.Sitting;

/** Gathers the sittings of a long table from its blocks, and from the rows of texts that they leave. */
final class LongGathering implements BlockProcessor<LongBlock, LongBlock> {
    private static final List<Optional<Side>> SIDES = Stream.concat(
                    Stream.of(Optional.<Side>empty()), Stream.of(Side.values()).map(Optional::of))
            .toList();
    private static final Response[] ANSWERS =
            IntStream.range(0, PlainCells.CODES).mapToObj(Response::of).toArray(Response[]::new);

    private final String file;
    private final ResponseHeader header;
    private final LongRows texts;
    private final LongSittings sittings = new LongSittings();
    private long rows;
    private long rejected;

    /**
     * @param file its name in problems
     * @param problems takes each fault of a row
     */
    LongGathering(
            String file, ResponseHeader header, Catalogue catalogue, ReadOptions options, Consumer<Problem> problems) {
        this.file = file;
        this.header = header;
        this.texts = new LongRows(catalogue, options, problems);
    }

    @Override
    public LongBlock process(LongBlock block) {
        return block;
    }

    @Override
    public void takeInOrder(LongBlock block, LongBlock same) {
        int run = -1;
        Optional<LongSitting> sitting = Optional.empty();
        for (int row = 0; row < block.rows(); row++) {
            if (block.isOdd(row)) {
                LongBlock.OddRow odd = block.oddRow(row);
                if (!WideRows.blank(odd.cells())) {
                    take(block.number(row), odd.cells(), odd.end());
                }
                continue;
            }
            if (block.run(row) != run) {
                run = block.run(row);
                sitting = Optional.of(sittings.of(sitting(block, row)));
            }
            int code = block.code(row);
            Response response = code == PlainCells.BLANK ? Response.NOT_ANSWERED : ANSWERS[code];
            int at = row;
            sitting.orElseThrow().put(block.column(row), response, () -> sitting(block, at));
            rows++;
        }
    }

    /** The sitting of a plain row. */
    private Sitting sitting(LongBlock block, int row) {
        int run = block.run(row);
        return new Sitting(
                block.patient(run),
                LocalDate.ofEpochDay(block.epochDay(run)),
                Optional.empty(),
                SIDES.get(block.side(run)),
                Optional.of(block.episode(run)).filter(episode -> !episode.isEmpty()),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of(file, block.number(row)));
    }

    /** Takes a row of texts that is not blank. */
    void take(int number, List<String> cells, WideRows.RowEnd end) {
        rows++;
        Optional<LongResponse> row = texts.row(header, Place.of(file, number), cells, end);
        row.ifPresent(sittings::put);
        rejected += row.isPresent() ? 0 : 1;
    }

    /** Hands on the sittings of the table, which has ended. */
    void handOn(Consumer<SittingRow> sink) {
        sittings.handOn(sink);
    }

    /** Rows that were not blank. */
    long rows() {
        return rows;
    }

    long rejected() {
        return rejected;
    }
}
