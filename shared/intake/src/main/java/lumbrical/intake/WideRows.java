package lumbrical.intake;

import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.RequestedColumns;
import lumbrical.scoring.Response;
import lumbrical.scoring.Responses;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.Cells;

/** What a row of texts means. The one place for it, whichever reader split the row. */
public final class WideRows {
    private final ReadOptions options;
    private final Consumer<Problem> problems;
    private final ResponseParser parser;
    private final SittingParser sittings;
    private final FormScoreCheck formScores;
    private final Map<String, Responses> blankForms = new HashMap<>();
    /** By text that means not answered and column: how many cells would be answers without it. */
    private final Map<String, Map<String, Long>> takenAway = new TreeMap<>();

    private static final int MOST_NAMED = 5;

    /** Of tables with so few columns a remark of two lines may hold as many commas as a row; ours. */
    private static final int NARROW = 4;

    public WideRows(ReadOptions options, Consumer<Problem> problems) {
        this.options = options;
        this.problems = problems;
        this.parser = new ResponseParser(options);
        this.sittings = new SittingParser(options, problems);
        this.formScores = new FormScoreCheck(options, problems);
    }

    /** What is known of how a row ends. */
    public enum RowEnd {
        /** Cells that it lacks are blank ones: a row of a workbook, of a database, or a form. */
        AT_LAST_FILLED_CELL,
        /** At a line break of a text: a cell that it lacks may have been lost. */
        AT_LINE_BREAK,
        /** With the file, without a line break. */
        AT_END_OF_FILE
    }

    /** The sitting of a row, or empty if the row is rejected; all its faults are told. */
    Optional<Sitting> sitting(
            ResponseHeader header, Place place, List<String> cells, Optional<String> identifier, RowEnd end) {
        boolean tooMany = tooMany(header, place, cells);
        if (end != RowEnd.AT_LAST_FILLED_CELL && cells.size() < header.cellsForResponses()) {
            problems.accept(tooFew(header, place, cells.size(), end));
        }
        Optional<Sitting> sitting = sittings.parse(header, cells, place, identifier);
        boolean swallowed = end != RowEnd.AT_LAST_FILLED_CELL && swallowed(header, place, cells);
        return swallowed || tooMany ? Optional.empty() : sitting;
    }

    /**
     * Whether a cell of a text holds further rows: as many separators for each of its line breaks as a row has; the rule is ours. Two stray
     * quotes, each in a row of its own, make such a cell of all that lies between, and the answers behind it are another patient's.
     */
    private boolean swallowed(ResponseHeader header, Place place, List<String> cells) {
        for (int i = 0; i < cells.size(); i++) {
            String cell = cells.get(i);
            long breaks = cell.indexOf('\n') < 0 ? 0 : count(cell, '\n');
            long ofRows = breaks * (header.width() - 1);
            if (breaks > 0
                    && header.width() > NARROW
                    && (count(cell, ',') == ofRows || count(cell, ';') == ofRows || count(cell, '\t') == ofRows)) {
                problems.accept(new Problem(
                        place.in(i < header.width() ? header.shown(i) : ""),
                        "",
                        ProblemCode.ROWS_IN_A_CELL,
                        "The row is rejected: this cell holds the text of " + breaks
                                + (breaks == 1 ? " further row" : " further rows")
                                + ", which are not read. A quote was probably opened in this row and never closed, and the next stray"
                                + " quote closed it. Look at the file as text, and take out both quotes."));
                return true;
            }
        }
        return false;
    }

    private static long count(String cell, char wanted) {
        return cell.chars().filter(c -> c == wanted).count();
    }

    private boolean tooMany(ResponseHeader header, Place place, List<String> cells) {
        for (int i = header.width(); i < cells.size(); i++) {
            if (!Cells.clean(cells.get(i)).isEmpty()) {
                problems.accept(new Problem(
                        place,
                        "",
                        ProblemCode.TOO_MANY_CELLS,
                        "The row is rejected: it has more filled cells than the header has columns. A separator"
                                + " inside a cell needs quotes around the cell."));
                return true;
            }
        }
        return false;
    }

    /**
     * That a row of a text has no cell for some responses: blank cells are often left out at the end of a row, and a file that was cut
     * off looks the same.
     *
     * @param cells how many it has, fewer than {@link ResponseHeader#cellsForResponses}
     */
    public static Problem tooFew(ResponseHeader header, Place place, int cells, RowEnd end) {
        String first = header.firstResponseBeyond(cells).stream()
                .mapToObj(header::shown)
                .findFirst()
                .orElse("");
        return new Problem(
                place.in(first),
                "",
                ProblemCode.NOTE_SHORT_ROW,
                "The row ends before this column: it has " + cells + (cells == 1 ? " cell" : " cells")
                        + " and the header " + header.width()
                        + " columns. What it lacks counts as not answered. "
                        + (end == RowEnd.AT_END_OF_FILE
                                ? "The file ends here without a line break, so it may be cut off: compare it with where it comes from,"
                                        + " and export it again."
                                : "If anything stood there, export the file again."));
    }

    /** The sitting and its forms, or empty if the row is rejected; all its faults are told. */
    public Optional<SittingRow> row(ResponseHeader header, Place place, List<String> cells, RowEnd end) {
        return row(header, place, cells, Optional.empty(), end);
    }

    /**
     * As {@link #row(ResponseHeader, Place, List, RowEnd)}.
     *
     * @param identifier what a form that tells no date is known by; empty = the row needs a date
     */
    Optional<SittingRow> row(
            ResponseHeader header, Place place, List<String> cells, Optional<String> identifier, RowEnd end) {
        Optional<Sitting> sitting = sitting(header, place, cells, identifier, end);
        List<FormEntry> forms = new ArrayList<>(header.forms().size());
        for (ResponseHeader.Form form : header.forms()) {
            Responses.Builder responses = Responses.builder(form.instrument());
            for (int i = 0; i < form.positions().length; i++) {
                int at = form.positions()[i];
                String cell = at < 0 || at >= cells.size() ? "" : Cells.clean(cells.get(at));
                responses.put(i, response(form.instrument(), i, cell, place, at < 0 ? "" : header.shown(at)));
            }
            forms.add(new FormEntry(form.instrument(), sharedIfBlank(responses.build()), RequestedColumns.NOTHING, 1));
        }
        formScores.check(header, place, cells);
        return sitting.map(s -> new SittingRow(s, forms));
    }

    /** One blank form stands for all of an instrument: a wide table holds many. */
    private Responses sharedIfBlank(Responses responses) {
        return responses.blank()
                ? blankForms.computeIfAbsent(responses.instrument().definition(), id -> responses)
                : responses;
    }

    /** The response in a cleaned cell; a problem if it is not allowed. */
    Response response(Instrument instrument, int index, String cell, Place place, String heading) {
        Column column = instrument.columns().get(index);
        Response value = parser.parse(instrument, column, cell);
        if (value.equals(Response.NOT_ANSWERED) && !cell.isEmpty() && parser.takenAway(column, cell)) {
            takenAway.computeIfAbsent(cell, token -> new LinkedHashMap<>()).merge(column.name(), 1L, Long::sum);
        }
        if (value.equals(Response.NO_NUMBER)) {
            problems.accept(
                    cell.equals(Cells.NOT_CALCULATED)
                            ? new Problem(
                                    place.in(heading),
                                    "",
                                    ProblemCode.FORMULA_NOT_CALCULATED,
                                    options.badAsNotAnswered() ? FormulaAdvice.NOT_ANSWERED : FormulaAdvice.NOT_SCORED)
                            : new Problem(
                                    place.in(heading),
                                    Cells.printable(cell),
                                    ProblemCode.RESPONSE_NOT_ALLOWED,
                                    parser.advice(instrument, column, cell),
                                    parser.remedies(column, cell)));
            return options.badAsNotAnswered() ? Response.NOT_ANSWERED : value;
        }
        return value;
    }

    /** Tells what is to be told of a file as a whole. */
    void endOfFile(Place file) {
        sittings.endOfFile(file);
        takenAway.forEach((token, columns) -> problems.accept(new Problem(
                file,
                Cells.printable(token),
                ProblemCode.NOTE_ANSWERS_TAKEN_AWAY,
                "You say that '" + Cells.printable(token) + "' means not answered, and it is an allowed answer of "
                        + columns.keySet().stream().limit(MOST_NAMED).collect(Collectors.joining(", "))
                        + (columns.size() > MOST_NAMED ? " and " + (columns.size() - MOST_NAMED) + " more columns" : "")
                        + ": "
                        + answers(columns.values())
                        + " of this file count as not answered. If they are answers, leave the text out and"
                        + " correct the cells that hold it for nothing.")));
        takenAway.clear();
    }

    private static String answers(Collection<Long> counts) {
        long sum = counts.stream().mapToLong(Long::longValue).sum();
        return sum + (sum == 1 ? " answer" : " answers");
    }

    /** Hands on the filled cells of a row. */
    void entries(ResponseHeader header, List<String> cells, SittingRow row, EntrySink sink) {
        sink.row(row.sitting());
        ofSitting(header, cells, row.sitting(), sink);
        for (int f = 0; f < header.forms().size(); f++) {
            ResponseHeader.Form form = header.forms().get(f);
            Responses responses = row.forms().get(f).responses();
            for (int i = 0; i < form.positions().length; i++) {
                int at = form.positions()[i];
                if (at >= 0 && at < cells.size()) {
                    item(
                            row.sitting(),
                            form.instrument(),
                            form.instrument().columns().get(i),
                            Cells.clean(cells.get(at)),
                            responses.at(i),
                            sink);
                }
            }
        }
    }

    /** Hands on the filled cells of a row of the long layout. */
    void entry(ResponseHeader header, List<String> cells, LongResponse row, EntrySink sink) {
        sink.row(row.sitting());
        ofSitting(header, cells, row.sitting(), sink);
        item(
                row.sitting(),
                row.column().instrument(),
                row.column().column(),
                header.cell(cells, "response"),
                row.response(),
                sink);
    }

    private static void ofSitting(ResponseHeader header, List<String> cells, Sitting sitting, EntrySink sink) {
        for (String name : List.of("episode", "mode", "respondent", "language")) {
            String text = header.cell(cells, name);
            if (!text.isEmpty()) {
                sink.cell(sitting, name, text, Response.NOT_ANSWERED);
            }
        }
    }

    private void item(
            Sitting sitting, Instrument instrument, Column column, String cell, Response response, EntrySink sink) {
        String text = parser.entered(instrument, column, cell, response);
        if (!text.isEmpty()) {
            sink.cell(sitting, column.name(), text, response);
        }
    }

    /** That a file has headings and nothing else. */
    public static Problem noRows(String file) {
        return new Problem(
                Place.of(file),
                "",
                ProblemCode.NOTE_NO_ROWS,
                "The file has headings and no rows below them. Is it the right file, or the right sheet?");
    }

    /** Whether every cell of a row is blank. */
    public static boolean blank(List<String> cells) {
        for (String cell : cells) {
            if (!cell.isEmpty() && !Cells.clean(cell).isEmpty()) {
                return false;
            }
        }
        return true;
    }
}
