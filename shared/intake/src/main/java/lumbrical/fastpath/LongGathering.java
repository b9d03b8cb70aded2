package lumbrical.fastpath;

import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.LongResponse;
import lumbrical.intake.LongRows;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.SittingRow;
import lumbrical.intake.WideRows;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;

/** Gathers the sittings of a long table from its blocks, and from the rows of texts that they leave. */
final class LongGathering implements BlockProcessor<LongBlock, LongBlock> {
    private static final int NO_RUN = -1;

    private final String file;
    private final ResponseHeader header;
    private final LongRows texts;
    private final GatheredSittings sittings;
    private final SittingKey key = new SittingKey();
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
        this.sittings = new GatheredSittings(file);
    }

    @Override
    public LongBlock process(LongBlock block) {
        return block;
    }

    @Override
    public void takeInOrder(LongBlock block, LongBlock same) {
        int run = NO_RUN;
        int sitting = 0;
        for (int row = 0; row < block.rows(); row++) {
            if (block.isOdd(row)) {
                takeOdd(block, row);
            } else {
                if (block.run(row) != run) {
                    run = block.run(row);
                    key.write(block, run);
                    sitting = sittings.of(key, block.number(row));
                }
                int code = block.code(row);
                double value = code == PlainCells.BLANK ? GatheredSittings.NOT_ANSWERED : code;
                sittings.put(sitting, block.column(row), value, block.number(row));
                rows++;
            }
        }
    }

    private void takeOdd(LongBlock block, int row) {
        LongBlock.OddRow odd = block.oddRow(row);
        if (!WideRows.blank(odd.cells())) {
            take(block.number(row), odd.cells(), odd.end());
        }
    }

    /** Takes a row of texts that is not blank. */
    void take(int number, List<String> cells, WideRows.RowEnd end) {
        rows++;
        Optional<LongResponse> read = texts.row(header, Place.of(file, number), cells, end);
        if (read.isEmpty()) {
            rejected++;
            return;
        }
        key.write(read.get().sitting());
        sittings.put(sittings.of(key, number), read.get().column(), read.get().response(), number);
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
