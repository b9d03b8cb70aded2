package lumbrical.intake;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Consumer;
import lumbrical.catalogue.Catalogue;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.questionnaire.FhirFile;
import lumbrical.questionnaire.FhirForm;
import lumbrical.questionnaire.FhirFormSink;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.InputFile;
import lumbrical.tabular.ProgressListener;
import lumbrical.tabular.TableFile;
import lumbrical.tabular.TableSink;
import lumbrical.tabular.UnreadableInputException;

/**
 * Reads response tables, wide or long, CSV or XLSX, and forms in FHIR R4. Sittings of a wide table and forms are handed on row by row,
 * so memory does not grow with them; those of a long table when its file ends.
 */
public final class ResponseReader {
    /** How many rows above the header may hold a title. */
    private static final int TITLE_ROWS = 10;

    private static final int NO_COLUMN = -1;

    private final Catalogue catalogue;
    private final ReadOptions options;
    private final Consumer<SittingRow> rows;
    private final Consumer<Problem> problems;
    private final WideRows wide;
    private final LongRows longRows;
    private final Optional<EntrySink> entries;
    private final ProgressListener watch;
    private final Set<String> unused = new LinkedHashSet<>();
    private final Set<String> headings = new LinkedHashSet<>();
    private final List<InputFile> files = new ArrayList<>();
    private long rowsRead;
    private long rejected;
    private boolean longLayout;

    private ResponseReader(
            Catalogue catalogue,
            ReadOptions options,
            Consumer<SittingRow> rows,
            Optional<EntrySink> entries,
            Consumer<Problem> problems,
            ProgressListener watch) {
        this.entries = entries;
        this.watch = watch;
        this.catalogue = catalogue;
        this.options = options;
        this.rows = rows;
        this.problems = problems;
        this.wide = new WideRows(options, problems);
        this.longRows = new LongRows(catalogue, wide, problems);
    }

    /**
     * Reads {@code inputs} one after the other.
     *
     * @param rows takes each sitting, in input order
     * @param problems takes each problem and note, in the order found
     * @param watch told how far the reading is
     * @throws UnreadableInputException if a file cannot be read, or its header names no patient or date, or one item twice
     */
    public static ReadSummary read(
            List<Input> inputs,
            Catalogue catalogue,
            ReadOptions options,
            Consumer<SittingRow> rows,
            Consumer<Problem> problems,
            ProgressListener watch) {
        return new ResponseReader(catalogue, options, rows, Optional.empty(), problems, watch).readAll(inputs);
    }

    /**
     * Reads {@code input} cell by cell, as it was entered.
     *
     * @param entries takes the cells, in input order
     * @param problems takes each problem and note, in the order found
     * @throws UnreadableInputException if the file cannot be read, or its header names no patient or date, or one item twice
     */
    public static ReadSummary readEntries(
            Input input, Catalogue catalogue, ReadOptions options, EntrySink entries, Consumer<Problem> problems) {
        return new ResponseReader(catalogue, options, row -> {}, Optional.of(entries), problems, ProgressListener.NONE)
                .readAll(List.of(input));
    }

    /**
     * Reads a table that lies in no file, such as one of a database: its rows are handed in one by one.
     *
     * @param table its name in problems
     * @param rows takes each sitting, in input order; those of a long table when it ends
     * @param problems takes each problem and note, in the order found
     */
    public static Rows rows(
            String table,
            Catalogue catalogue,
            ReadOptions options,
            Consumer<SittingRow> rows,
            Consumer<Problem> problems) {
        ResponseReader reader =
                new ResponseReader(catalogue, options, rows, Optional.empty(), problems, ProgressListener.NONE);
        FileRun run =
                reader.new FileRun(new Input(Path.of(table), Optional.empty()), WideRows.RowEnd.AT_LAST_FILLED_CELL);
        return new Rows() {
            private boolean ended;

            @Override
            public void row(int number, List<String> cells) {
                requireOpen();
                if (number < 1) {
                    throw new IllegalArgumentException("Rows are numbered from 1, not " + number);
                }
                List<String> texts = new ArrayList<>(cells.size());
                cells.forEach(cell -> texts.add(Objects.requireNonNullElse(cell, "")));
                run.row(number, texts);
            }

            @Override
            public ReadSummary end() {
                requireOpen();
                ended = true;
                if (run.empty()) {
                    throw new UnreadableInputException(
                            Place.of(table), "the table has no headings. Hand them in first.");
                }
                run.end();
                return reader.summary();
            }

            private void requireOpen() {
                if (ended) {
                    throw new IllegalStateException("The table " + table + " has ended");
                }
            }
        };
    }

    /** Takes the rows of a table; the headings come first. */
    public interface Rows {
        /**
         * One row.
         *
         * @param number by which problems name it, from 1
         * @param cells its texts, in the order of the headings; blank = not answered; a null, as a database gives one, counts as blank
         * @throws IllegalArgumentException if the number is less than 1
         * @throws IllegalStateException if the table has ended
         * @throws UnreadableInputException if it is the header, and names no patient or date, or one item twice
         */
        void row(int number, List<String> cells);

        /**
         * Ends the table: what was read.
         *
         * @throws IllegalStateException if it has ended
         * @throws UnreadableInputException if no headings came, or they name no patient or date
         */
        ReadSummary end();
    }

    private ReadSummary readAll(List<Input> inputs) {
        inputs.forEach(this::readFile);
        return summary();
    }

    private ReadSummary summary() {
        return new ReadSummary(rowsRead, rejected, longLayout, List.copyOf(unused), List.copyOf(headings), files);
    }

    private void readFile(Input input) {
        if (input.sheet().isEmpty() && FhirFile.isOne(input)) {
            readForms(input);
            files.add(InputFile.of(input));
            return;
        }
        FileRun run = new FileRun(
                input,
                TableFile.isWorkbook(input) ? WideRows.RowEnd.AT_LAST_FILLED_CELL : WideRows.RowEnd.AT_LINE_BREAK);
        TableFile.read(input, options.encoding(), run);
        run.end();
        files.add(InputFile.of(input));
    }

    private void readForms(Input input) {
        FormRows forms = new FormRows(input, catalogue, options, wide, problems);
        long before = rowsRead;
        FhirFile.read(input, new FhirFormSink() {
            @Override
            public void form(FhirForm form) {
                FormRows.Outcome outcome = forms.row(form);
                if (outcome instanceof FormRows.Outcome.Other) {
                    return;
                }
                rowsRead++;
                if (outcome instanceof FormRows.Outcome.Read read) {
                    formRow(read.row());
                } else {
                    rejected++;
                }
            }

            @Override
            public void notReadable(int line, String why) {
                rejectForm(Place.of(input.name(), line), "The line is rejected: " + why);
            }

            @Override
            public void entryNotReadable(int entry, String why) {
                rejectForm(Place.of(input.name(), entry), "The entry of the Bundle is rejected: " + why);
            }

            @Override
            public void morePages() {
                forms.morePages();
            }

            @Override
            public void at(double share) {
                watch.read(input, rowsRead - before, share);
            }
        });
        forms.endOfFile();
        unused.addAll(forms.unused());
        headings.addAll(forms.headings());
    }

    private void rejectForm(Place place, String what) {
        rowsRead++;
        rejected++;
        problems.accept(new Problem(
                place, "", ProblemCode.FORM_NOT_READABLE, what + ". Export it again, or tell whoever made the file."));
    }

    private void formRow(FormRows.Row row) {
        ResponseHeader header = row.layout().header();
        Optional<SittingRow> read =
                wide.row(header, row.place(), row.cells(), row.identifier(), WideRows.RowEnd.AT_LAST_FILLED_CELL);
        if (read.isEmpty()) {
            rejected++;
            return;
        }
        rows.accept(read.get());
        entries.ifPresent(sink -> {
            sink.columns(header.names());
            wide.entries(header, row.cells(), read.get(), sink);
        });
    }

    /** One file on its way through. */
    private final class FileRun implements TableSink {
        private final Input input;
        private final String file;
        private final List<List<String>> beforeHeader = new ArrayList<>();
        private final LongSittings longSittings = new LongSittings();
        private Optional<ResponseHeader> header = Optional.empty();
        private int firstFilledRow;
        private boolean formulaSaid;
        private boolean hiddenSaid;
        private boolean zerosSaid;
        /** Column of the row under way whose cell shows zeros that it does not hold; -1 = none. */
        private int zeros = NO_COLUMN;
        /** Sheets of a workbook none of which has the header. */
        private List<String> sheets = List.of();

        private WideRows.RowEnd end;

        private final long rowsBefore = rowsRead;

        /** @param end how its rows end */
        FileRun(Input input, WideRows.RowEnd end) {
            this.input = input;
            this.end = end;
            this.file = input.name();
        }

        @Override
        public void at(double share) {
            watch.read(input, rowsRead - rowsBefore, share);
        }

        @Override
        public void remark(Remark remark, int row, int column) {
            if (remark == Remark.FORMULA_CELL && !formulaSaid && !isFormScore(column)) {
                formulaSaid = true;
                note(
                        row,
                        ProblemCode.NOTE_FORMULA_CELLS,
                        "The sheet holds formulas, here for the first time. The values last calculated are used.");
            } else if (remark == Remark.HIDDEN_ROW && !hiddenSaid) {
                hiddenSaid = true;
                note(
                        row,
                        ProblemCode.NOTE_HIDDEN_ROWS,
                        "The sheet holds hidden rows, here for the first time. They are read.");
            } else if (remark == Remark.LEADING_ZEROS && !zerosSaid && isId(column)) {
                zeros = column;
            } else if (remark == Remark.ENDS_WITHOUT_LINE_BREAK) {
                end = WideRows.RowEnd.AT_END_OF_FILE;
            }
        }

        private boolean isId(int column) {
            return header.filter(h -> h.position("patient").equals(OptionalInt.of(column))
                            || h.position("episode").equals(OptionalInt.of(column)))
                    .isPresent();
        }

        /** Told when the row is whole, since only then its value is known. */
        private void noteZeros(int number, List<String> cells) {
            if (zeros != NO_COLUMN) {
                zerosSaid = true;
                String held = Cells.printable(Cells.clean(cells.get(zeros)));
                problems.accept(new Problem(
                        Place.of(file, number).in(header.orElseThrow().shown(zeros)),
                        held,
                        ProblemCode.NOTE_LEADING_ZEROS,
                        "The cell shows leading zeros and holds the number " + held
                                + ", here for the first time; " + held
                                + " is read. If the zeros belong to the ids, give the"
                                + " column the cell format 'text' and type the ids again."));
                zeros = NO_COLUMN;
            }
        }

        /** The formulas of an entry form are meant to be there. */
        private boolean isFormScore(int column) {
            return header.map(h -> h.formScores().containsKey(column)).orElse(false);
        }

        @Override
        public boolean isHeader(List<String> cells) {
            return ResponseHeader.looksLike(cells, options.columns());
        }

        @Override
        public void noSheetFits(List<String> names) {
            sheets = names;
        }

        @Override
        public void otherSheet(String name) {
            problems.accept(new Problem(
                            Place.of(file),
                            "",
                            ProblemCode.NOTE_SHEET_CHOSEN,
                            "The sheet '" + Cells.printable(name)
                                    + "' is read: the first of the workbook that has the columns patient and completed_on.")
                    .mendedBy(Remedy.of(Remedy.Kind.SHEET)));
        }

        private void note(int row, ProblemCode code, String text) {
            problems.accept(new Problem(Place.of(file, row), "", code, text));
        }

        @Override
        public void row(int number, List<String> cells) {
            noteZeros(number, cells);
            if (header.map(h -> h.blank(cells)).orElseGet(() -> WideRows.blank(cells))) {
                return;
            }
            if (header.isEmpty()) {
                lookForHeader(number, cells);
            } else if (header.get().isLong()) {
                rowsRead++;
                longRow(header.get(), number, cells);
            } else {
                rowsRead++;
                wideRow(header.get(), number, cells);
            }
        }

        private void lookForHeader(int number, List<String> cells) {
            if (beforeHeader.isEmpty()) {
                firstFilledRow = number;
            }
            if (ResponseHeader.looksLike(cells, options.columns())) {
                if (!beforeHeader.isEmpty()) {
                    note(
                            number,
                            ProblemCode.NOTE_TITLE_ROW,
                            "The header was found here; what stands above it is not read.");
                }
                useHeader(number, cells);
                beforeHeader.clear();
                return;
            }
            beforeHeader.add(List.copyOf(cells));
            if (beforeHeader.size() > TITLE_ROWS) {
                useHeader(firstFilledRow, beforeHeader.get(0));
            }
        }

        private void useHeader(int number, List<String> cells) {
            if (!sheets.isEmpty()) {
                throw new UnreadableInputException(
                        input.place(),
                        "no sheet has a header with the columns patient and completed_on."
                                + TableFile.sheetsRead(sheets),
                        List.of(Remedy.of(Remedy.Kind.SHEET), Remedy.of(Remedy.Kind.MAP_HEADINGS)));
            }
            ResponseHeader found = new ResponseHeader(input, number, cells, catalogue, options.columns());
            found.problems().forEach(problems);
            unused.addAll(found.unused());
            headings.addAll(found.given());
            longLayout |= found.isLong();
            entries.ifPresent(sink -> sink.columns(found.names()));
            header = Optional.of(found);
        }

        /** Whether no row has come that holds anything. */
        boolean empty() {
            return header.isEmpty() && beforeHeader.isEmpty();
        }

        void end() {
            if (header.isEmpty()) {
                if (beforeHeader.isEmpty()) {
                    throw new UnreadableInputException(input.place(), "the file holds no rows. Export it again.");
                }
                useHeader(firstFilledRow, beforeHeader.get(0));
            }
            longSittings.handOn(rows);
            wide.endOfFile(Place.of(file));
            if (rowsRead == rowsBefore) {
                problems.accept(WideRows.noRows(file));
            }
            at(1);
        }

        private void wideRow(ResponseHeader header, int number, List<String> cells) {
            wide.row(header, Place.of(file, number), cells, end)
                    .ifPresentOrElse(
                            row -> {
                                rows.accept(row);
                                entries.ifPresent(sink -> wide.entries(header, cells, row, sink));
                            },
                            () -> rejected++);
        }

        private void longRow(ResponseHeader header, int number, List<String> cells) {
            longRows.row(header, Place.of(file, number), cells, end)
                    .ifPresentOrElse(
                            row -> {
                                entries.ifPresent(sink -> wide.entry(header, cells, row, sink));
                                longSittings.put(row);
                            },
                            () -> rejected++);
        }
    }
}
