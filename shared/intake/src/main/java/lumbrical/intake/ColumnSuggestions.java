package lumbrical.intake;

import java.nio.charset.Charset;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import lumbrical.catalogue.Catalogue;
import lumbrical.columns.FhirNames;
import lumbrical.document.Nearest;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.questionnaire.FhirFile;
import lumbrical.questionnaire.FhirForm;
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

    private static final int MOST_LINK_IDS = 16_384;
    private final Catalogue catalogue;
    private final Map<String, String> columns = new HashMap<>();
    private final List<String> names = new ArrayList<>(ResponseHeader.SITTING_COLUMNS);

    /**
     * A heading and what it may mean.
     *
     * @param heading the clinic's heading, in lower case
     * @param column our column; blank = no guess
     * @param state {@code known}, {@code guessed} or {@code to fill in}
     */
    public record Guess(String heading, String column, State state) {}

    /** How sure the meaning of a heading is. */
    public enum State {
        /** It is our column already. */
        KNOWN("known"),
        /** A guess, to be reviewed. */
        GUESSED("guessed, to review"),
        /** No guess. */
        TO_FILL_IN("to fill in, or leave blank if it is no response");

        private final String words;

        State(String words) {
            this.words = words;
        }

        /** As people read it. */
        public String words() {
            return words;
        }
    }

    /**
     * What the headings of a file may mean.
     *
     * @param sheet the sheet that was looked at, of several
     * @param headings every heading, in the order of the file
     */
    public record Suggestions(Optional<String> sheet, List<Guess> headings) {
        /** Copies the list. */
        public Suggestions {
            headings = List.copyOf(headings);
        }

        /** The headings of one state. */
        public List<Guess> in(State state) {
            return headings.stream().filter(g -> g.state() == state).toList();
        }

        private int understood() {
            return headings.size() - in(State.TO_FILL_IN).size();
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
     * Looks at the headings of {@code input}: the row among the first ten in which most headings can be guessed; of a workbook that of
     * the sheet with most of these, then with most headings.
     *
     * @throws UnreadableInputException if the file cannot be read
     */
    public static Suggestions of(Input input, Optional<Charset> encoding, Catalogue catalogue) {
        ColumnSuggestions suggestions = new ColumnSuggestions(catalogue);
        if (input.sheet().isEmpty() && FhirFile.isOne(input)) {
            return new Suggestions(Optional.empty(), suggestions.ofRow(linkIds(input)));
        }
        List<String> sheets = input.sheet().isPresent() ? List.of() : TableFile.sheets(input);
        if (sheets.size() < 2) {
            return suggestions.ofSheet(input, encoding, Optional.empty());
        }
        Suggestions best = new Suggestions(Optional.empty(), List.of());
        for (String name : sheets) {
            Suggestions found =
                    suggestions.ofSheet(new Input(input.path(), Optional.of(name)), encoding, Optional.of(name));
            boolean more = found.understood() == best.understood()
                    ? found.headings().size() > best.headings().size()
                    : found.understood() > best.understood();
            best = more ? found : best;
        }
        return best;
    }

    /** What the items of a FHIR file are called, but for the forms of a known questionnaire; at most so many as a table has columns. */
    private static List<String> linkIds(Input input) {
        Set<String> linkIds = new LinkedHashSet<>();
        FhirFile.read(input, form -> {
            boolean known = form.questionnaire()
                    .filter(url -> url.startsWith(FhirNames.QUESTIONNAIRE))
                    .isPresent();
            for (FhirForm.Answer answer : form.answers()) {
                if (!known && linkIds.size() < MOST_LINK_IDS) {
                    linkIds.add(Cells.heading(answer.linkId()));
                }
            }
        });
        return List.copyOf(linkIds);
    }

    private Suggestions ofSheet(Input input, Optional<Charset> encoding, Optional<String> name) {
        List<List<String>> rows = new ArrayList<>();
        TableFile.read(input, encoding, (number, cells) -> {
            if (rows.size() < ROWS_LOOKED_AT && !WideRows.blank(cells)) {
                rows.add(cells.stream().map(Cells::heading).toList());
            }
        });
        Suggestions best = new Suggestions(name, List.of());
        for (List<String> row : rows) {
            Suggestions found = new Suggestions(name, ofRow(row));
            boolean more = found.understood() == best.understood()
                    ? best.understood() == 0
                            && found.headings().size() > best.headings().size()
                    : found.understood() > best.understood();
            best = more ? found : best;
        }
        return best;
    }

    private List<Guess> ofRow(List<String> headings) {
        Set<String> taken = new HashSet<>(headings);
        taken.retainAll(names);
        Map<String, Guess> found = new LinkedHashMap<>();
        for (String heading : headings) {
            if (heading.isEmpty() || found.containsKey(heading)) {
                continue;
            }
            String shown = Cells.printable(heading);
            if (names.contains(heading)
                    || FormScoreColumn.parse(heading, catalogue).isPresent()) {
                found.put(heading, new Guess(shown, heading, State.KNOWN));
                continue;
            }
            found.put(
                    heading,
                    guess(heading)
                            .filter(taken::add)
                            .map(column -> new Guess(shown, column, State.GUESSED))
                            .orElseGet(() -> new Guess(shown, "", State.TO_FILL_IN)));
        }
        return List.copyOf(found.values());
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
