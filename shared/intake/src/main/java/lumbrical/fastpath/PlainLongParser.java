package lumbrical.fastpath;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import lumbrical.intake.LongColumns;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.WideRows;
import lumbrical.tabular.Input;
import lumbrical.tabular.Limits;

/**
 * Splits blocks of a plain long table at its bytes. A row counts as plain if its cells are what {@link PlainRowParser} takes for plain and
 * its instrument and item are known. Of every other row the texts are kept, to be read by {@link lumbrical.intake.LongRows} when its turn
 * has come. Not safe to share between threads.
 */
final class PlainLongParser implements BlockParser<LongBlock> {
    private final RowText row;
    private final PlainCells plainCells;
    private final KnownColumns columns;
    private final long firstDay;
    private final long lastDay;
    private final int width;
    /** Cells that a row needs to have one for its response. */
    private final int cellsForResponses;

    private final int patient;
    private final int date;
    private final int side;
    private final int episode;
    private final int instrument;
    private final int item;
    private final int response;

    /** Where the cells of a row start and end; behind them a blank cell, for columns that the table lacks. */
    private final int[] from;

    private final int[] to;

    PlainLongParser(Input input, ResponseHeader header, char delimiter, ReadOptions options, LongColumns columns) {
        this.row = new RowText(input, delimiter);
        this.plainCells = new PlainCells(delimiter);
        this.columns = new KnownColumns(columns);
        this.firstDay = options.firstPlausibleDay().toEpochDay();
        this.lastDay = options.asOf().toEpochDay();
        this.width = header.width();
        this.cellsForResponses = header.cellsForResponses();
        this.patient = position(header, "patient");
        this.date = position(header, "completed_on");
        this.side = position(header, "side");
        this.episode = position(header, "episode");
        this.instrument = position(header, "instrument");
        this.item = position(header, "item");
        this.response = position(header, "response");
        this.from = new int[width + 1];
        this.to = new int[width + 1];
    }

    private static int position(ResponseHeader header, String column) {
        return header.position(column).orElse(header.width());
    }

    @Override
    public void parse(LongBlock block, int end, CompletableFuture<Integer> firstRow) {
        block.clear(end);
        BlockBytes text = block.text();
        byte[] bytes = text.bytes();
        int start = 0;
        while (start < end) {
            int stop = cells(bytes, start, end);
            if (stop < 0 || !plain(block)) {
                stop = PlainCells.oddEnd(bytes, start);
                if (!odd(block, start, stop, end)) {
                    text.refuse();
                    return;
                }
            }
            text.addLine();
            start = stop + 1;
        }
    }

    /** Keeps the texts of a line unless it is empty; false if only a reader of the whole file can split it. */
    private boolean odd(LongBlock block, int start, int stop, int end) {
        byte[] bytes = block.text().bytes();
        int last = stop > start && bytes[stop - 1] == '\r' && stop < end ? stop - 1 : stop;
        if (last == start) {
            return true;
        }
        Optional<List<String>> texts = last - start > Limits.CELL_CHARACTERS // beyond them other limits may count
                ? Optional.empty()
                : row.split(bytes, start, last);
        texts.ifPresent(cells -> block.addOdd(new LongBlock.OddRow(
                cells, stop < end ? WideRows.RowEnd.AT_LINE_BREAK : WideRows.RowEnd.AT_END_OF_FILE)));
        return texts.isPresent();
    }

    /**
     * Finds the cells of the row that starts at {@code start}.
     *
     * @return where the row ends, its line feed or the end of the bytes; -1 if the row is not plain
     */
    private int cells(byte[] bytes, int start, int end) {
        byte[] kind = plainCells.kinds();
        byte special = plainCells.lastSpecial();
        int columns = width;
        int column = 0;
        int at = start;
        int ending = PlainCells.SEPARATOR;
        while (ending == PlainCells.SEPARATOR) {
            if (column == columns) {
                return -1;
            }
            byte b = bytes[at];
            if (b == PlainCells.QUOTE) {
                from[column] = ++at;
                at = plainCells.afterQuoted(bytes, at);
                if (bytes[at] != PlainCells.QUOTE) {
                    return -1;
                }
                to[column] = at;
                b = bytes[++at];
            } else {
                from[column] = at;
                while (b > special || kind[b & 0xFF] == PlainCells.CELL) {
                    b = bytes[++at];
                }
                to[column] = at;
            }
            ending = kind[b & 0xFF];
            column++;
            at++;
        }
        at--;
        if (ending == PlainCells.RETURN && at + 1 < end && bytes[at + 1] == '\n') {
            at++;
        } else if (ending != PlainCells.LINE_FEED) {
            return -1; // a control byte, a quote, or text that is not ASCII
        }
        if (column < cellsForResponses || at - start > Limits.CELL_CHARACTERS) {
            return -1;
        }
        for (; column < columns; column++) {
            from[column] = start;
            to[column] = start;
        }
        return at;
    }

    /** Adds the row whose cells were found; false if they hold anything out of the ordinary. */
    private boolean plain(LongBlock block) {
        byte[] bytes = block.text().bytes();
        if (to[date] - from[date] != PlainCells.DATE_LENGTH
                || from[patient] == to[patient]
                || !PlainCells.isCleanId(bytes, from[patient], to[patient])
                || !PlainCells.isCleanId(bytes, from[episode], to[episode])) {
            return false;
        }
        int day = plainCells.day(bytes, from[date]);
        int sideCode = PlainCells.side(bytes, from[side], to[side] - from[side]);
        if (day == PlainCells.NO_DAY || day < firstDay || day > lastDay || sideCode < 0) {
            return false;
        }
        Optional<KnownColumns.Known> known =
                columns.find(bytes, from[instrument], to[instrument], from[item], to[item]);
        int code = PlainCells.code(bytes, from[response], to[response] - from[response]);
        if (known.isEmpty()
                || code != PlainCells.BLANK && (code < 0 || !known.get().allowed()[code])) {
            return false;
        }
        if (!block.goesOn(from[patient], to[patient], from[episode], to[episode], day, sideCode)) {
            block.beginRun(from[patient], to[patient], from[episode], to[episode], day, sideCode);
        }
        block.addPlain(known.get().column(), code);
        return true;
    }
}
