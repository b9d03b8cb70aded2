package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lumbrical.catalogue.Catalogue;
import lumbrical.document.Nearest;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.tabular.Cells;
import lumbrical.tabular.Input;
import lumbrical.tabular.TableFile;
import lumbrical.tabular.UnreadableInputException;

/**
 * Guesses which of our columns a clinic's headings mean, for a person to review. A heading is taken for an item if it names the
 * instrument and the item's number or name, whatever stands between; for a column of the sitting if it is a usual word for it. Ours.
 */
public final class ColumnSuggestions {
    private static final int ROWS_LOOKED_AT = 10;
    private static final Pattern TOKEN = Pattern.compile("\\p{L}+|\\p{N}+");
    private static final Set<String> NOISE =
            Set.of("q", "item", "question", "no", "nr", "number", "answer", "response", "score", "value", "the", "of");
    private static final Map<String, String> SAME = Map.of("r", "right", "l", "left", "rt", "right", "lt", "left");
    private static final Map<String, List<String>> USUAL = Map.of(
            "patient", List.of("id", "patientid", "patid", "pid", "subject", "subjectid", "studyid", "patientnumber"),
            "completed_on",
                    List.of(
                            "date",
                            "completed",
                            "completiondate",
                            "datecompleted",
                            "formdate",
                            "assessmentdate",
                            "completeddate"),
            "side", List.of("hand", "laterality", "affectedside", "treatedhand", "affectedhand"),
            "mode", List.of("method", "modeofadministration", "channel"),
            "respondent", List.of("completedby", "filledinby", "answeredby"),
            "language", List.of("lang", "formlanguage"),
            "episode", List.of("treatment", "episodeid", "case"));

    private final Catalogue catalogue;
    private final Map<String, String> columns = new HashMap<>();
    private final List<String> names = new ArrayList<>(ResponseHeader.SITTING_COLUMNS);

    /**
     * A guess.
     *
     * @param heading the clinic's heading, in lower case
     * @param column our column
     */
    public record Guess(String heading, String column) {}

    /**
     * What the headings of a file may mean.
     *
     * @param guesses headings with a guess, in the order of the file
     * @param known headings that are our columns already
     * @param unknown headings without a guess
     */
    public record Suggestions(List<Guess> guesses, List<String> known, List<String> unknown) {
        /** Copies the lists. */
        public Suggestions {
            guesses = List.copyOf(guesses);
            known = List.copyOf(known);
            unknown = List.copyOf(unknown);
        }
    }

    private ColumnSuggestions(Catalogue catalogue) {
        this.catalogue = catalogue;
        for (Instrument instrument : catalogue.all()) {
            for (Column column : instrument.columns()) {
                names.add(column.name());
                columns.put(key(column.name()), column.name());
            }
        }
        ResponseHeader.SITTING_COLUMNS.forEach(c -> columns.put(key(c), c));
        USUAL.forEach((column, words) -> words.forEach(w -> columns.put(w, column)));
    }

    /**
     * Looks at the headings of {@code input}: the row among the first ten in which most headings can be guessed.
     *
     * @throws UnreadableInputException if the file cannot be read
     */
    public static Suggestions of(Input input, Optional<Charset> encoding, Catalogue catalogue) {
        ColumnSuggestions suggestions = new ColumnSuggestions(catalogue);
        List<List<String>> rows = new ArrayList<>();
        TableFile.read(input, encoding, (number, cells) -> {
            if (rows.size() < ROWS_LOOKED_AT && !WideRows.blank(cells)) {
                rows.add(cells.stream().map(Cells::heading).toList());
            }
        });
        Suggestions best = new Suggestions(List.of(), List.of(), List.of());
        for (List<String> row : rows) {
            Suggestions found = suggestions.ofRow(row);
            if (found.guesses().size() + found.known().size()
                    > best.guesses().size() + best.known().size()) {
                best = found;
            }
        }
        return best;
    }

    private Suggestions ofRow(List<String> headings) {
        List<String> known = headings.stream()
                .filter(h ->
                        names.contains(h) || FormScoreColumn.parse(h, catalogue).isPresent())
                .toList();
        Set<String> taken = new HashSet<>(known);
        Map<String, String> guesses = new LinkedHashMap<>();
        List<String> unknown = new ArrayList<>();
        for (String heading : headings) {
            if (heading.isEmpty() || known.contains(heading)) {
                continue;
            }
            Optional<String> guess = guess(heading).filter(taken::add);
            guess.ifPresentOrElse(g -> guesses.putIfAbsent(heading, g), () -> unknown.add(Cells.printable(heading)));
        }
        return new Suggestions(
                guesses.entrySet().stream()
                        .map(e -> new Guess(e.getKey(), e.getValue()))
                        .toList(),
                known,
                unknown);
    }

    private Optional<String> guess(String heading) {
        return Optional.ofNullable(columns.get(key(heading)))
                .or(() -> heading.length() > 60 ? Optional.empty() : Nearest.to(heading, names));
    }

    /** Words and numbers of a name, run together: without what stands between, leading zeros and words that say nothing. */
    private static String key(String name) {
        StringBuilder key = new StringBuilder();
        Matcher tokens = TOKEN.matcher(name);
        while (tokens.find()) {
            String token = tokens.group();
            if (!NOISE.contains(token)) {
                String plain = SAME.getOrDefault(token, token);
                key.append(plain.matches("[0-9]+") ? plain.replaceFirst("^0+(?=.)", "") : plain);
            }
        }
        return key.toString();
    }
}
