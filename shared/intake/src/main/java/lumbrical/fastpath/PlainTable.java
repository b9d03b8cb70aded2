package lumbrical.fastpath;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.instrument.Instrument;
import lumbrical.intake.LongColumns;
import lumbrical.intake.ReadOptions;
import lumbrical.intake.ReadSummary;
import lumbrical.intake.ResponseHeader;
import lumbrical.intake.ResponseReader;
import lumbrical.intake.SittingRow;
import lumbrical.intake.WideRows;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.questionnaire.FhirFile;
import lumbrical.tabular.CsvReader;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import lumbrical.tabular.TableSink;
import lumbrical.tabular.UnreadableInputException;

/**
 * A CSV table, wide or long, in the plain case: UTF-8, header in the first line, no line break in a cell. It is read in blocks of bytes, several at
 * once; what is not plain is left to {@link ResponseReader}, and both give the same.
 */
final class PlainTable {
    /** Number of the first row below the header. */
    public static final int FIRST_ROW = 2;

    private static final int BLOCK = 1 << 17;

    private final Input input;
    private final Catalogue catalogue;
    private final ResponseHeader header;
    private final char delimiter;
    private final ReadOptions options;
    private final int bodyStart;
    private final long size;

    private PlainTable(
            Input input,
            Catalogue catalogue,
            ResponseHeader header,
            char delimiter,
            ReadOptions options,
            int bodyStart,
            long size) {
        this.input = input;
        this.catalogue = catalogue;
        this.header = header;
        this.delimiter = delimiter;
        this.options = options;
        this.bodyStart = bodyStart;
        this.size = size;
    }

    /**
     * The table if it can be read this way, else empty: another reader then takes the whole file.
     *
     * @throws UnreadableInputException if its header cannot be used
     */
    public static Optional<PlainTable> open(Input input, Catalogue catalogue, ReadOptions options) {
        boolean ordinary = options.codes().codes().isEmpty()
                && options.notAnswered().isEmpty()
                && options.dateFormat().isEmpty()
                && options.encoding().isEmpty()
                && input.sheet().isEmpty()
                && Files.isRegularFile(input.path())
                && !FhirFile.isOne(input);
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
                if (!text) {
                    return Optional.empty();
                }
                end++;
            }
            if (end == 0 || end == head.length) {
                return Optional.empty();
            }
            char delimiter = CsvReader.delimiter(new String(head, 0, end, StandardCharsets.US_ASCII));
            int last = end > 0 && head[end - 1] == '\r' ? end - 1 : end;
            Optional<List<String>> cells = new RowText(input, delimiter).split(head, 0, last);
            if (cells.isEmpty() || !ResponseHeader.looksLike(cells.get(), options.columns())) {
                return Optional.empty();
            }
            ResponseHeader header = new ResponseHeader(input, 1, cells.get(), catalogue, options.columns());
            return header.formScores().isEmpty()
                    ? Optional.of(new PlainTable(
                            input, catalogue, header, delimiter, options, end + 1, Files.size(input.path())))
                    : Optional.empty();
        } catch (IOException e) {
            return Optional.empty(); // the other reader finds the words for it
        }
    }

    /** Problems of the header. */
    public List<Problem> headerProblems() {
        return header.problems();
    }

    /** Every heading, in lower case as the file has it. */
    public Set<String> headings() {
        return header.given();
    }

    /** Headings that mean nothing here. */
    public List<String> unusedColumns() {
        return List.copyOf(header.unused());
    }

    /** Whether it is in the long layout. */
    boolean isLong() {
        return header.isLong();
    }

    /** The instruments whose columns it has; their responses follow each other in a {@link RowBlock}. */
    public List<Instrument> instruments() {
        return header.forms().stream().map(ResponseHeader.Form::instrument).toList();
    }

    /** How many blocks of its size the whole file holds. */
    public double blocksLike(RowBlock block) {
        return (double) size / Math.max(1, block.text().end());
    }

    /**
     * The part of a file that is not plain.
     *
     * @param offset byte where its first row starts
     * @param row number of that row
     */
    public record Remainder(long offset, int row) {}

    /**
     * Reads a wide table.
     *
     * @param threads how many blocks are worked on at once, the caller's thread among them
     * @param watch told how far the reading is, after each block and at the end
     * @return the row from which on the other reader must take over; empty = the file is done
     */
    <R> Optional<Remainder> read(int threads, BlockProcessor<RowBlock, R> processor, ProgressListener watch) {
        return new BlockReading<>(
                        input,
                        bodyStart,
                        size,
                        () -> new RowBlock(header.values(), BLOCK),
                        () -> new PlainRowParser(input, header, delimiter, options),
                        processor,
                        watch)
                .read(threads);
    }

    /** As {@link #read}, of a long table. */
    <R> Optional<Remainder> readLong(int threads, BlockProcessor<LongBlock, R> processor, ProgressListener watch) {
        return new BlockReading<>(
                        input,
                        bodyStart,
                        size,
                        () -> new LongBlock(BLOCK),
                        () -> new PlainLongParser(input, header, delimiter, options, new LongColumns(catalogue)),
                        processor,
                        watch)
                .read(threads);
    }

    /** Gathers the sittings of a long table. */
    LongGathering gathering(Consumer<Problem> problems) {
        return new LongGathering(input.name(), header, catalogue, options, problems);
    }

    /** Reads the part of a wide table that is not plain, row by row, as every reader does. */
    ReadSummary readRest(
            Remainder rest, Consumer<SittingRow> rows, Consumer<Problem> problems, ProgressListener watch) {
        WideRows wide = new WideRows(options, problems);
        long[] rejected = new long[1];
        String file = input.name();
        long read = readRest(
                rest,
                (number, cells, end) ->
                        wide.row(header, Place.of(file, number), cells, end).ifPresentOrElse(rows, () -> rejected[0]++),
                watch);
        return new ReadSummary(read, rejected[0], false, List.of(), List.of(), List.of());
    }

    /** Takes rows of texts. */
    interface TextRows {
        /** Takes a row that is not blank. */
        void row(int number, List<String> cells, WideRows.RowEnd end);
    }

    /** As {@link #readRest(Remainder, Consumer, Consumer, ProgressListener)}, of any table: the number of rows that are not blank. */
    long readRest(Remainder rest, TextRows rows, ProgressListener watch) {
        long[] count = new long[1];
        CsvReader.readFrom(input, rest.offset(), rest.row(), delimiter, new TableSink() {
            private WideRows.RowEnd end = WideRows.RowEnd.AT_LINE_BREAK;

            @Override
            public void row(int number, List<String> cells) {
                if (!WideRows.blank(cells)) {
                    count[0]++;
                    rows.row(number, cells, end);
                }
            }

            @Override
            public void remark(Remark remark, int row, int column) {
                if (remark == Remark.ENDS_WITHOUT_LINE_BREAK) {
                    end = WideRows.RowEnd.AT_END_OF_FILE;
                }
            }

            @Override
            public void at(double share) {
                watch.read(input, rest.row() - FIRST_ROW + count[0], share);
            }
        });
        return count[0];
    }
}
