package lumbrical.fastpath;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CompletableFuture;
import lumbrical.instrument.Column;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.WideRows;
import lumbrical.problem.Place;
import lumbrical.tabular.Input;
import lumbrical.tabular.Limits;

/**
 * Splits blocks of a plain table at its bytes. A row counts as plain when each cell is what most rows hold: an id that starts with
 * a letter or digit, an ISO date of the century up to the as-of date, a side in lower case, whole codes of one or two digits that the item
 * allows; any of them may stand in quotes. Every other row is decoded and read by {@link WideRows}, as all readers do. Not safe to share
 * between threads.
 */
final class PlainRowParser implements BlockParser<RowBlock> {
    private static final int IGNORED = -1;
    private static final int PATIENT = -2;
    private static final int DATE = -3;
    private static final int SIDE = -4;
    private static final int EPISODE = -5;

    /** Number of bytes of a row beyond which the limits of a table may count: the other reader knows them. */
    private static final int LONGEST = Limits.CELL_CHARACTERS;

    private final String file;
    private final ResponseHeader header;
    private final RowText row;
    private final ReadOptions options;
    private final long firstDay;
    private final long lastDay;
    private final PlainCells plainCells;
    /** Whether a cell without quotes may hold the comma that parts the cells of what is written. */
    private final boolean commaInCell;

    private final int[] meaning;
    /** Cells that a row needs to have one for every response. */
    private final int cellsForResponses;
    /** Cells of the last plain row. */
    private int cells;

    /** Which of the numbers 0 to 99 each item allows, item after item. */
    private final boolean[] allowed;

    PlainRowParser(Input input, ResponseHeader header, char delimiter, ReadOptions options) {
        this.file = input.name();
        this.header = header;
        this.row = new RowText(input, delimiter);
        this.options = options;
        this.firstDay = options.firstPlausibleDay().toEpochDay();
        this.lastDay = options.asOf().toEpochDay();
        this.meaning = new int[header.width()];
        this.cellsForResponses = header.cellsForResponses();
        Arrays.fill(meaning, IGNORED);
        int offset = 0;
        this.allowed = new boolean[header.values() * PlainCells.CODES];
        for (ResponseHeader.Form form : header.forms()) {
            for (int i = 0; i < form.positions().length; i++) {
                if (form.positions()[i] >= 0) {
                    meaning[form.positions()[i]] = offset + i;
                }
                allow(form.instrument().columns().get(i), (offset + i) * PlainCells.CODES);
            }
            offset += form.positions().length;
        }
        header.position("patient").ifPresent(p -> meaning[p] = PATIENT);
        header.position("completed_on").ifPresent(p -> meaning[p] = DATE);
        header.position("side").ifPresent(p -> meaning[p] = SIDE);
        header.position("episode").ifPresent(p -> meaning[p] = EPISODE);
        plainCells = new PlainCells(delimiter);
        commaInCell = delimiter != ',';
    }

    private void allow(Column column, int from) {
        for (int code = 0; code < PlainCells.CODES; code++) {
            allowed[from + code] = column.item().responses().allows(code);
        }
    }

    @Override
    public void parse(RowBlock block, int end, CompletableFuture<Integer> firstRow) {
        block.clear(end);
        BlockBytes text = block.text();
        byte[] bytes = text.bytes();
        Optional<WideRows> odd = Optional.empty();
        int start = 0;
        while (start < end) {
            int stop = plain(bytes, start, end, block);
            if (stop < 0) {
                stop = PlainCells.oddEnd(bytes, start);
                int last = stop > start && bytes[stop - 1] == '\r' && stop < end ? stop - 1 : stop;
                Optional<List<String>> texts =
                        last - start > LONGEST ? Optional.empty() : row.split(bytes, start, last);
                if (texts.isEmpty()) {
                    text.refuse();
                    return;
                }
                if (last > start) {
                    odd = Optional.of(odd.orElseGet(() -> new WideRows(options, block.problems()::add)));
                    int number = firstRow.join() + text.lines();
                    oddRow(texts.get(), number, block, odd.get(), endOf(stop, end));
                }
            } else if (cells < cellsForResponses) {
                Place place = Place.of(file, firstRow.join() + text.lines());
                block.problems().add(WideRows.tooFew(header, place, cells, endOf(stop, end)));
            }
            text.addLine();
            start = stop + 1;
        }
    }

    private static WideRows.RowEnd endOf(int stop, int end) {
        return stop < end ? WideRows.RowEnd.AT_LINE_BREAK : WideRows.RowEnd.AT_END_OF_FILE;
    }

    /** Where the row that starts at {@code start} ends, its line feed or the end of the bytes; -1 if the row is not plain. */
    private int plain(byte[] bytes, int start, int end, RowBlock block) {
        byte[] kind = plainCells.kinds();
        int[] means = meaning;
        int columns = means.length;
        int row = block.next();
        double[] values = block.values();
        int offset = block.valuesOffset(row);
        int patientStart = 0;
        int patientEnd = 0;
        int episodeStart = 0;
        int episodeEnd = 0;
        int dateStart = -1;
        int side = 0;
        int column = 0;
        int at = start;
        int ending = PlainCells.SEPARATOR;
        byte special = plainCells.lastSpecial();
        while (ending == PlainCells.SEPARATOR) {
            if (column == columns) {
                return -1;
            }
            int meant = means[column++];
            int from = at;
            if (meant >= 0) {
                int code = bytes[at] - '0';
                ending = kind[bytes[at + 1] & 0xFF];
                if (code >= 0 && code <= 9 && ending != PlainCells.CELL) {
                    at++;
                } else if (bytes[at] == PlainCells.QUOTE) {
                    from++;
                    at = plainCells.afterQuoted(bytes, from);
                    if (bytes[at] != PlainCells.QUOTE) {
                        return -1;
                    }
                    code = PlainCells.code(bytes, from, at - from);
                    ending = kind[bytes[++at] & 0xFF];
                } else {
                    ending = kind[bytes[at] & 0xFF];
                    while (ending == PlainCells.CELL) {
                        ending = kind[bytes[++at] & 0xFF];
                    }
                    code = PlainCells.code(bytes, from, at - from);
                }
                if (code >= 0 && allowed[meant * PlainCells.CODES + code]) {
                    values[offset + meant] = code;
                } else if (code == PlainCells.BLANK) {
                    values[offset + meant] = RowBlock.NOT_ANSWERED;
                } else {
                    return -1;
                }
            } else if (meant == DATE) {
                boolean quotes = bytes[at] == PlainCells.QUOTE;
                dateStart = quotes ? from + 1 : from;
                at = dateStart + PlainCells.DATE_LENGTH; // whether these bytes are a date is seen when the row is done
                if (at > end) {
                    return -1;
                }
                if (quotes && bytes[at++] != PlainCells.QUOTE) {
                    return -1;
                }
                ending = kind[bytes[at] & 0xFF];
            } else {
                byte b = bytes[at];
                boolean quotes = b == PlainCells.QUOTE;
                int to;
                if (quotes) {
                    from++;
                    to = plainCells.afterQuoted(bytes, from);
                    if (bytes[to] != PlainCells.QUOTE) {
                        return -1;
                    }
                    at = to + 1;
                    b = bytes[at];
                } else {
                    while (b > special || kind[b & 0xFF] == PlainCells.CELL) {
                        b = bytes[++at];
                    }
                    to = at;
                }
                ending = kind[b & 0xFF];
                if (meant == SIDE) {
                    side = PlainCells.side(bytes, from, to - from);
                } else if (meant != IGNORED) {
                    if (!PlainCells.isCleanId(bytes, from, to)
                            || (commaInCell || quotes) && PlainCells.holdsComma(bytes, from, to)) {
                        return -1;
                    }
                    if (meant == PATIENT) {
                        patientStart = from;
                        patientEnd = to;
                    } else {
                        episodeStart = from;
                        episodeEnd = to;
                    }
                }
            }
            at++;
        }
        at--;
        if (ending == PlainCells.RETURN && at + 1 < end && bytes[at + 1] == '\n') {
            at++;
        } else if (ending != PlainCells.LINE_FEED) {
            return -1; // a control byte, a quote, or text that is not ASCII
        }
        if (patientEnd == patientStart || dateStart < 0 || side < 0) {
            return -1;
        }
        cells = column;
        for (; column < columns; column++) {
            if (means[column] >= 0) {
                values[offset + means[column]] = RowBlock.NOT_ANSWERED;
            }
        }
        int day = plainCells.day(bytes, dateStart);
        if (day == PlainCells.NO_DAY || day < firstDay || day > lastDay || at - start > LONGEST) {
            return -1;
        }
        block.addPlain(patientStart, patientEnd, episodeStart, episodeEnd, dateStart, day, side);
        return at;
    }

    private void oddRow(List<String> texts, int number, RowBlock block, WideRows odd, WideRows.RowEnd rowEnd) {
        if (WideRows.blank(texts)) {
            return;
        }
        block.next();
        odd.row(header, Place.of(file, number), texts, rowEnd).ifPresentOrElse(block::addOdd, block::reject);
    }
}
