package org.handoutcomes.table;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentLinkedDeque;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.Consumer;
import java.util.function.Function;
import org.handoutcomes.catalogue.Catalogue;
import org.handoutcomes.instrument.Instrument;
import org.handoutcomes.problem.Place;
import org.handoutcomes.problem.Problem;

/**
 * A wide CSV table in the plain case: UTF-8, header in the first line, no quotes. It is read in blocks of bytes, several at once;
 * what is not plain is left to {@link ResponseReader}, and both give the same.
 */
public final class PlainTable {
    private static final int BLOCK = 1 << 16;
    private static final int IN_FLIGHT = 3;

    private final Input input;
    private final ResponseHeader header;
    private final char delimiter;
    private final ReadOptions options;
    private final int bodyStart;

    private PlainTable(Input input, ResponseHeader header, char delimiter, ReadOptions options, int bodyStart) {
        this.input = input;
        this.header = header;
        this.delimiter = delimiter;
        this.options = options;
        this.bodyStart = bodyStart;
    }

    /**
     * The table if it can be read this way, else empty: another reader then takes the whole file.
     *
     * @throws UnreadableInput if its header cannot be used, or the style of dates is none
     */
    public static Optional<PlainTable> open(Input input, Catalogue catalogue, ReadOptions options) {
        Dates.of(options.dateFormat()); // a fault in it is told even where every date is plain
        boolean ordinary = options.codes().codes().isEmpty()
                && options.notAnswered().isEmpty()
                && options.encoding().isEmpty()
                && input.sheet().isEmpty()
                && Files.isRegularFile(input.path());
        if (!ordinary) {
            return Optional.empty();
        }
        try (InputStream in = Files.newInputStream(input.path())) {
            byte[] head = in.readNBytes(1 << 16);
            int end = 0;
            while (end < head.length && head[end] != '\n') {
                boolean text = head[end] >= ' '
                        || head[end] == '\t'
                        || head[end] == '\r' && end + 1 < head.length && head[end + 1] == '\n';
                if (head[end] == '"' || !text) {
                    return Optional.empty();
                }
                end++;
            }
            if (end == 0 || end == head.length) {
                return Optional.empty();
            }
            String line = new String(head, 0, end, StandardCharsets.US_ASCII).stripTrailing();
            char delimiter = CsvReader.delimiter(line);
            List<String> cells = Arrays.asList(line.split(String.valueOf(delimiter), -1));
            if (!ResponseHeader.looksLike(cells, options.columns())) {
                return Optional.empty();
            }
            ResponseHeader header = new ResponseHeader(input, 1, cells, catalogue, options.columns());
            return header.isLong()
                    ? Optional.empty()
                    : Optional.of(new PlainTable(input, header, delimiter, options, end + 1));
        } catch (IOException e) {
            return Optional.empty(); // the other reader finds the words for it
        }
    }

    /** Problems of the header. */
    public List<Problem> headerProblems() {
        return header.problems();
    }

    /** Headings that mean nothing here. */
    public List<String> unusedColumns() {
        return List.copyOf(header.unused());
    }

    /** The instruments whose columns it has; their responses follow each other in a {@link RowBlock}. */
    public List<Instrument> instruments() {
        return header.forms().stream().map(ResponseHeader.Form::instrument).toList();
    }

    /**
     * The part of a file that is not plain.
     *
     * @param offset byte where its first row starts
     * @param row number of that row
     */
    public record Rest(long offset, int row) {}

    /**
     * Reads the table.
     *
     * @param threads how many blocks are worked on at once
     * @param work what is done with a block, in any thread
     * @param inOrder takes the results in the order of the file
     * @param read told the number of bytes after each block
     * @return the row from which on the other reader must take over; empty = the file is done
     */
    public <R> Optional<Rest> read(int threads, Function<RowBlock, R> work, Consumer<R> inOrder, Consumer<Long> read) {
        ExecutorService workers = Executors.newFixedThreadPool(threads, PlainTable::daemon);
        Deque<Future<R>> pending = new ArrayDeque<>();
        Deque<PlainRowParser> parsers = new ConcurrentLinkedDeque<>();
        try (InputStream in = Files.newInputStream(input.path())) {
            in.skipNBytes(bodyStart);
            byte[] carried = new byte[0];
            long offset = bodyStart;
            int row = 2;
            boolean more = true;
            while (more) {
                byte[] block = Arrays.copyOf(carried, Math.max(BLOCK, carried.length * 2));
                int filled = carried.length + in.readNBytes(block, carried.length, block.length - carried.length);
                more = filled == block.length;
                int end = more ? afterLastRow(block, filled) : filled;
                int rows = plainRows(block, end);
                if (rows < 0 || end == 0 && more && block.length > Limits.ROW_CHARACTERS) {
                    drain(pending, inOrder, 0);
                    return Optional.of(new Rest(offset, row));
                }
                carried = Arrays.copyOfRange(block, end, filled);
                int first = row;
                pending.add(workers.submit(() -> {
                    PlainRowParser parser = Optional.ofNullable(parsers.poll())
                            .orElseGet(() -> new PlainRowParser(input, header, delimiter, options));
                    RowBlock parsed = parser.parse(block, end, first);
                    parsers.push(parser);
                    return work.apply(parsed);
                }));
                row += rows;
                offset += end;
                drain(pending, inOrder, IN_FLIGHT);
                read.accept(offset);
            }
            drain(pending, inOrder, 0);
            return Optional.empty();
        } catch (IOException e) {
            throw new UnreadableInput(input.place(), "the file cannot be read.");
        } finally {
            workers.shutdownNow();
        }
    }

    private static Thread daemon(Runnable work) {
        Thread thread = new Thread(work, "rows");
        thread.setDaemon(true);
        return thread;
    }

    private static <R> void drain(Deque<Future<R>> pending, Consumer<R> inOrder, int left) {
        while (pending.size() > left) {
            try {
                inOrder.accept(pending.remove().get());
            } catch (InterruptedException e) {
                Thread.currentThread().interrupt();
                throw new IllegalStateException("Interrupted", e);
            } catch (ExecutionException e) {
                if (e.getCause() instanceof RuntimeException known) {
                    throw known;
                }
                throw new IllegalStateException(e.getCause());
            }
        }
    }

    private static int afterLastRow(byte[] block, int filled) {
        int end = filled;
        while (end > 0 && block[end - 1] != '\n') {
            end--;
        }
        return end;
    }

    /** Number of line feeds, or -1 if there is a quote, or a carriage return but before a line feed. */
    private static int plainRows(byte[] block, int end) {
        int rows = 0;
        for (int i = 0; i < end; i++) {
            byte b = block[i];
            if (b <= '"') { // almost every byte of a table is above
                if (b == '\n') {
                    rows++;
                } else if (b == '"' || b == '\r' && (i + 1 == end || block[i + 1] != '\n')) {
                    return -1;
                }
            }
        }
        return rows;
    }

    /** Reads the part that is not plain, row by row, as every reader does. */
    public ReadSummary readRest(Rest rest, Consumer<SittingRow> rows, Consumer<Problem> problems) {
        WideRows wide = new WideRows(options, problems);
        long[] counts = new long[2];
        CsvReader.readFrom(input, rest.offset(), rest.row(), delimiter, (number, cells) -> {
            if (!WideRows.blank(cells)) {
                counts[0]++;
                wide.row(header, Place.of(input.name(), number), cells).ifPresentOrElse(rows, () -> counts[1]++);
            }
        });
        return new ReadSummary(counts[0], counts[1], false, List.of(), List.of());
    }
}
