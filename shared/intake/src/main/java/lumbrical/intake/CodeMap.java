package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import lumbrical.catalogue.Catalogue;
import lumbrical.document.Nearest;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.SimpleTable;
import lumbrical.tabular.UnreadableInputException;

/**
 * A clinic's own answer texts. A text is looked up for the column first, then for its instrument, then for {@code *}.
 *
 * @param codes code by column, instrument, {@code side} or {@code *}, and by text in lower case
 */
public record CodeMap(Map<String, Map<String, String>> codes) {
    /** No texts of their own. */
    public static final CodeMap NONE = new CodeMap(Map.of());

    private static final String EVERY = "*";
    private static final List<String> SIDES = List.of("side", "treated_side", "dominant_side");
    private static final String SEX = "sex";

    /** Copies the maps. */
    public CodeMap {
        Map<String, Map<String, String>> copy = new HashMap<>();
        codes.forEach((column, texts) -> copy.put(column, Map.copyOf(texts)));
        codes = Map.copyOf(copy);
    }

    /**
     * Reads {@code column,text,code}.
     *
     * @throws UnreadableInputException if the file cannot be read or gives one text of a column two codes
     */
    public static CodeMap read(Input input) {
        return of(SimpleTable.readSettings(input, Optional.empty(), List.of("column", "text", "code")));
    }

    /**
     * As {@link #read(Input)}, and checks every row.
     *
     * @param encoding encoding of a CSV file that is not Unicode
     * @param catalogue the instruments
     * @param notAnswered texts that mean not answered, which may stand for codes
     * @throws UnreadableInputException also if a row names no column, or a code that is not allowed there: every such row is named
     */
    public static CodeMap read(Input input, Optional<Charset> encoding, Catalogue catalogue, Set<String> notAnswered) {
        SimpleTable table = SimpleTable.readSettings(input, encoding, List.of("column", "text", "code"));
        CodeMap map = of(table);
        List<String> faults = new ArrayList<>();
        for (SimpleTable.Row row : table.rows()) {
            String code = row.get("code");
            if (notAnswered.stream().noneMatch(code::equalsIgnoreCase)) {
                fault(Cells.heading(row.get("column")), code, catalogue)
                        .ifPresent(fault -> faults.add(row.place() + ": " + fault));
            }
        }
        if (!faults.isEmpty()) {
            throw new UnreadableInputException(
                    input.place(),
                    faults.size() + (faults.size() == 1 ? " fault" : " faults")
                            + " in the map of answers; none of it is used.\n  " + String.join("\n  ", faults));
        }
        return map;
    }

    private static CodeMap of(SimpleTable table) {
        Map<String, Map<String, String>> codes = new HashMap<>();
        for (SimpleTable.Row row : table.rows()) {
            String column = Cells.heading(row.get("column"));
            String text = row.get("text").toLowerCase(Locale.ROOT);
            if (column.isEmpty() || text.isEmpty()) {
                throw new UnreadableInputException(row.place(), "column and text must both be filled.");
            }
            String before = codes.computeIfAbsent(column, c -> new HashMap<>()).put(text, row.get("code"));
            if (before != null && !before.equals(row.get("code"))) {
                throw new UnreadableInputException(
                        row.place(), "'" + Cells.printable(text) + "' of " + column + " has two codes. Keep one row.");
            }
        }
        return new CodeMap(codes);
    }

    /** What is wrong with a code of a column, an instrument or all of them. */
    private static Optional<String> fault(String column, String code, Catalogue catalogue) {
        Optional<Instrument> instrument = catalogue.find(column);
        Optional<Column> item = catalogue.ownerOf(column).flatMap(i -> i.column(column));
        boolean known = column.equals(EVERY) || SIDES.contains(column) || column.equals(SEX);
        if (!known && instrument.isEmpty() && item.isEmpty()) {
            return Optional.of("there is no column or instrument '" + Cells.printable(column) + "'."
                    + Nearest.to(column, names(column, catalogue))
                            .map(near -> " Did you mean " + near + "?")
                            .orElse("")
                    + " Write the column of an item, the id of an instrument, side, or * for all.");
        }
        if (code.isEmpty()) {
            return Optional.empty(); // the text means not answered
        }
        OptionalDouble number = Cells.number(code);
        if (item.isPresent() && number.stream().noneMatch(item.get().item().responses()::allows)) {
            return Optional.of("the code " + Cells.printable(code) + " is not allowed for " + column + ". "
                    + AllowedResponses.inWords(item.get().item().responses()));
        }
        if (instrument.isPresent()
                && instrument.get().columns().stream()
                        .noneMatch(c -> number.stream().anyMatch(c.item().responses()::allows))) {
            return Optional.of("the code " + Cells.printable(code) + " is not allowed for any item of " + column + ".");
        }
        if (SIDES.contains(column) && Side.parse(code).isEmpty()) {
            return Optional.of("the code " + Cells.printable(code) + " is no side. Write right, left or both.");
        }
        return Optional.empty();
    }

    private static List<String> names(String column, Catalogue catalogue) {
        List<String> names = new ArrayList<>(SIDES);
        names.add(SEX);
        catalogue.ids().forEach(id -> names.add(id.value()));
        catalogue.ids().stream()
                .filter(id -> Nearest.mayBegin(column, id + "_")) // a definition takes time to read
                .flatMap(id -> catalogue.find(id.value()).stream())
                .forEach(i -> i.columns().forEach(c -> names.add(c.name())));
        return names;
    }

    /** The code for {@code text} in {@code column} of {@code group}; the text itself if it is not mapped. */
    String codeOf(String column, String group, String text) {
        if (codes.isEmpty() || text.isEmpty()) {
            return text;
        }
        String key = text.toLowerCase(Locale.ROOT);
        for (String level : List.of(column, group, EVERY)) {
            String code = codes.getOrDefault(level, Map.of()).get(key);
            if (code != null) {
                return code;
            }
        }
        return text;
    }
}
