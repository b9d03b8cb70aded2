package lumbrical.intake;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.IntStream;
import lumbrical.catalogue.Catalogue;
import lumbrical.document.Nearest;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.problem.Remedy;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;

/** The header of a response table, resolved once: what each position holds. */
public final class ResponseHeader {
    static final List<String> SITTING_COLUMNS =
            List.of("patient", "completed_on", "side", "episode", "mode", "respondent", "language");
    static final List<String> LONG_COLUMNS = List.of("instrument", "item", "response");

    private final Map<String, Integer> sittingColumns = new HashMap<>();
    private final List<String> shown = new ArrayList<>();
    private final Set<String> given = new LinkedHashSet<>();
    private final Set<String> leftOut = new LinkedHashSet<>();
    private final List<Form> forms = new ArrayList<>();
    private final SortedMap<Integer, FormScoreColumn> formScores = new TreeMap<>();
    private final Set<String> unused = new LinkedHashSet<>();
    private final List<Problem> problems = new ArrayList<>();
    private final int width;
    /** Positions of the columns that hold responses, in order. */
    private final int[] responses;

    /**
     * An instrument that has columns in the table.
     *
     * @param positions position in the table of each of the instrument's columns, -1 = none
     */
    public record Form(Instrument instrument, int[] positions) {}

    /** @throws UnreadableInputException if two columns mean one thing, or patient or date are missing */
    public ResponseHeader(Input input, int row, List<String> cells, Catalogue catalogue, ColumnMap map) {
        int last = cells.size();
        while (last > 0 && Cells.clean(cells.get(last - 1)).isEmpty()) {
            last--;
        }
        width = last;
        Map<String, int[]> positions = new TreeMap<>();
        for (int i = 0; i < width; i++) {
            String heading = Cells.heading(cells.get(i));
            shown.add(Cells.printable(heading));
            given.add(heading);
            if (map.leavesOut(heading)) {
                leftOut.add(Cells.printable(heading));
                unused.add(Cells.printable(heading));
                continue;
            }
            resolve(input, row, i, map.nameOf(heading), catalogue, positions);
        }
        positions.forEach((id, at) -> catalogue.find(id).ifPresent(i -> forms.add(new Form(i, at))));
        dropScoresWithoutItems();
        if (isLong()) { // whose responses stand in one column
            forms.forEach(form ->
                    Arrays.stream(form.positions()).filter(at -> at >= 0).forEach(at -> unused.add(shown.get(at))));
        }
        for (String required : List.of("patient", "completed_on")) {
            if (!sittingColumns.containsKey(required)) {
                throw new UnreadableInputException(
                        Place.of(input.name(), row),
                        "the header lacks the column " + required + meant(required) + " Rename the column.",
                        List.of(Remedy.of(Remedy.Kind.MAP_HEADINGS)));
            }
        }
        responses = responsePositions();
        lookForForms(Place.of(input.name(), row));
    }

    /** The header of rows that are made of forms: the names of columns, each shown as the file names it. */
    private ResponseHeader(List<String> names, Catalogue catalogue, Map<String, String> shownAs) {
        width = names.size();
        Map<String, int[]> positions = new TreeMap<>();
        for (int i = 0; i < width; i++) {
            String name = names.get(i);
            shown.add(Cells.printable(shownAs.getOrDefault(name, name)));
            if (SITTING_COLUMNS.contains(name)) {
                sittingColumns.put(name, i);
            } else {
                Instrument instrument = catalogue.ownerOf(name).orElseThrow();
                positions
                        .computeIfAbsent(
                                instrument.id().value(),
                                id -> absent(instrument.columns().size()))[
                        instrument.column(name).orElseThrow().index()] = i;
            }
        }
        positions.forEach((id, at) -> forms.add(new Form(catalogue.find(id).orElseThrow(), at)));
        responses = responsePositions();
    }

    private int[] responsePositions() {
        IntStream items = forms.stream().flatMapToInt(form -> Arrays.stream(form.positions()));
        return (isLong() ? IntStream.of(sittingColumns.get("response")) : items)
                .filter(at -> at >= 0)
                .sorted()
                .toArray();
    }

    /** The first column of responses that a row of so many cells has no cell for, by its position. */
    OptionalInt firstResponseBeyond(int cells) {
        return Arrays.stream(responses).filter(at -> at >= cells).findFirst();
    }

    /** How many cells a row needs to have one for every response. */
    public int cellsForResponses() {
        return responses.length == 0 ? 0 : responses[responses.length - 1] + 1;
    }

    /**
     * The header of rows that are made of forms.
     *
     * @param names our names, which are all known
     * @param shownAs what the file calls a column, where it differs
     */
    static ResponseHeader ofForms(List<String> names, Catalogue catalogue, Map<String, String> shownAs) {
        return new ResponseHeader(names, catalogue, shownAs);
    }

    /** An instrument of which a file has these columns and no others. */
    static Form formOf(Instrument instrument, boolean[] columns) {
        int[] positions = absent(columns.length);
        for (int i = 0; i < columns.length; i++) {
            positions[i] = columns[i] ? i : -1;
        }
        return new Form(instrument, positions);
    }

    private void lookForForms(Place place) {
        if (!leftOut.isEmpty()) {
            problems.add(new Problem(
                    place,
                    "",
                    ProblemCode.NOTE_COLUMNS_LEFT_OUT,
                    "Your map of headings leaves blank what these mean, so they are not used: "
                            + String.join(", ", leftOut) + "."));
        }
        if (isLong()) {
            return;
        }
        if (forms.isEmpty()) {
            problems.add(new Problem(
                            place,
                            "",
                            ProblemCode.NO_INSTRUMENT_FOUND,
                            "No column of this file belongs to any instrument, so nothing can be scored. An item's column is named"
                                    + " after its instrument and number, such as <instrument>_1.")
                    .mendedBy(Remedy.of(Remedy.Kind.MAP_HEADINGS), Remedy.of(Remedy.Kind.INSTRUMENTS)));
        }
        forms.forEach(form -> MissingColumns.notes(form, place).forEach(problems::add));
    }

    private String meant(String required) {
        return Nearest.to(required, shown)
                .map(near -> ". Is '" + near + "' meant?")
                .orElse(".");
    }

    /** Whether a row of texts looks like a header of responses. */
    public static boolean looksLike(List<String> cells, ColumnMap map) {
        List<String> names = cells.stream()
                .map(Cells::heading)
                .filter(heading -> !map.leavesOut(heading))
                .map(map::nameOf)
                .toList();
        return names.contains("patient") && names.contains("completed_on");
    }

    private void resolve(
            Input input, int row, int position, String name, Catalogue catalogue, Map<String, int[]> positions) {
        Optional<Column> column = Optional.empty();
        Optional<FormScoreColumn> score = FormScoreColumn.parse(name, catalogue);
        Optional<Instrument> instrument = catalogue.ownerOf(name);
        if (instrument.isPresent()) {
            column = instrument.get().column(name);
        }
        if (SITTING_COLUMNS.contains(name) || LONG_COLUMNS.contains(name)) {
            Integer before = sittingColumns.put(name, position);
            refuseSecond(input, row, name, before != null);
        } else if (column.isPresent()) {
            int[] at = positions.computeIfAbsent(
                    instrument.get().id().value(),
                    id -> absent(instrument.get().columns().size()));
            refuseSecond(input, row, name, at[column.get().index()] >= 0);
            at[column.get().index()] = position;
        } else if (score.isPresent()) {
            formScores.put(position, score.get());
        } else if (name.isEmpty()) {
            unused.add("column " + (position + 1) + " without a heading");
        } else {
            unknown(input, row, name, catalogue);
        }
    }

    /** A score whose items the table lacks can be held against nothing. */
    private void dropScoresWithoutItems() {
        formScores.entrySet().removeIf(score -> {
            boolean none = forms.stream()
                    .noneMatch(f -> f.instrument().equals(score.getValue().instrument()));
            if (none) {
                unused.add(shown.get(score.getKey()));
            }
            return none;
        });
    }

    private static int[] absent(int size) {
        int[] positions = new int[size];
        Arrays.fill(positions, -1);
        return positions;
    }

    private static void refuseSecond(Input input, int row, String name, boolean second) {
        if (second) {
            throw new UnreadableInputException(
                    Place.of(input.name(), row).in(name),
                    "two columns of this file mean this. Remove or rename one of them.");
        }
    }

    private void unknown(Input input, int row, String name, Catalogue catalogue) {
        unused.add(Cells.printable(name));
        nearest(name, catalogue)
                .ifPresent(near -> problems.add(new Problem(
                                Place.of(input.name(), row).in(Cells.printable(name)),
                                "",
                                ProblemCode.UNKNOWN_COLUMN,
                                "This column is not known and not used. Did you mean " + near + "? Rename it.")
                        .mendedBy(Remedy.of(Remedy.Kind.MAP_HEADINGS))));
    }

    static Optional<String> nearest(String name, Catalogue catalogue) {
        Optional<String> sitting = Nearest.to(name, SITTING_COLUMNS);
        if (sitting.isPresent() || name.length() > 60) {
            return sitting;
        }
        return catalogue.ids().stream()
                .filter(id -> Nearest.mayBegin(name, id + "_")) // a definition takes time to read
                .map(id -> catalogue.find(id.value()).orElseThrow())
                .map(i ->
                        Nearest.to(name, i.columns().stream().map(Column::name).toList()))
                .flatMap(Optional::stream)
                .findFirst();
    }

    /** Whether the table is in the long layout. */
    public boolean isLong() {
        return sittingColumns.keySet().containsAll(LONG_COLUMNS);
    }

    /** The cleaned cell under a sitting's column, blank if the table has none. */
    String cell(List<String> cells, String column) {
        Integer position = sittingColumns.get(column);
        return position == null || position >= cells.size() ? "" : Cells.clean(cells.get(position));
    }

    /** Position of a sitting's column, if the table has it. */
    public OptionalInt position(String column) {
        Integer position = sittingColumns.get(column);
        return position == null ? OptionalInt.empty() : OptionalInt.of(position);
    }

    /** The heading as the file shows it. */
    String shown(int position) {
        return shown.get(position);
    }

    /** Names of the columns that mean something here, in the order of the file. */
    List<String> names() {
        String[] names = new String[width];
        sittingColumns.forEach((name, at) -> names[at] = LONG_COLUMNS.contains(name) ? null : name);
        for (Form form : forms) {
            for (Column column : form.instrument().columns()) {
                if (form.positions()[column.index()] >= 0) {
                    names[form.positions()[column.index()]] = column.name();
                }
            }
        }
        return Arrays.stream(names).filter(Objects::nonNull).toList();
    }

    /** What an entry form shows of its scores, by position. */
    public SortedMap<Integer, FormScoreColumn> formScores() {
        return Collections.unmodifiableSortedMap(formScores);
    }

    /** Whether every cell of a row is blank but those in which an entry form shows its scores. */
    boolean blank(List<String> cells) {
        for (int i = 0; i < cells.size(); i++) {
            if (!cells.get(i).isEmpty()
                    && !formScores.containsKey(i)
                    && !Cells.clean(cells.get(i)).isEmpty()) {
                return false;
            }
        }
        return true;
    }

    /** The headings of the file in lower case. */
    public Set<String> given() {
        return Collections.unmodifiableSet(given);
    }

    /** Number of columns up to the last heading. */
    public int width() {
        return width;
    }

    public List<Form> forms() {
        return forms;
    }

    /** Number of responses a row holds: the columns of all its forms, whether the table has them or not. */
    public int values() {
        return forms.stream().mapToInt(form -> form.positions().length).sum();
    }

    public Set<String> unused() {
        return unused;
    }

    public List<Problem> problems() {
        return problems;
    }
}
