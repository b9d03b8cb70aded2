package lumbrical.workbook;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.sheetxml.InOrder;

/** Has the rows of a sheet made in lots, by a second thread too, and written in their order by the thread that writes the workbook. */
final class RowsAhead {
    /** As few that a small clinic needs one or two, as many that handing them over costs nothing beside making them. */
    private static final int LOT = 256;

    private RowsAhead() {}

    /**
     * Writes the rows of each source.
     *
     * @param made makes rows of a source from it and nothing else, for it is called on either thread
     * @param written takes each row, on the thread that calls this
     * @throws UncheckedIOException if the disk does not take it
     */
    static <S, R> void write(
            StreamingWorkbook book, Iterable<S> sources, Function<S, Stream<R>> made, Consumer<R> written) {
        InOrder<List<R>> lots = book.inOrder(rows -> rows.forEach(written));
        try {
            List<S> lot = new ArrayList<>(LOT);
            for (S source : sources) {
                lot.add(source);
                if (lot.size() == LOT) {
                    add(lots, lot, made);
                    lot = new ArrayList<>(LOT);
                }
            }
            add(lots, lot, made);
            lots.finish();
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    private static <S, R> void add(InOrder<List<R>> lots, List<S> lot, Function<S, Stream<R>> made) throws IOException {
        lots.add(() -> {
            List<R> rows = new ArrayList<>(lot.size());
            lot.forEach(source -> made.apply(source).forEach(rows::add));
            return rows;
        });
    }
}
