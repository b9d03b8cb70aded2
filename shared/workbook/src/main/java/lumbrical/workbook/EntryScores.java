package lumbrical.workbook;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.intake.FormScoreColumn;

/** The formulas by which an entry form shows the scores of a row, and the steps behind them. */
final class EntryScores {
    private static final String NO_HAND = "";

    private final EntryWorking working = new EntryWorking();
    private final ConversionTables tables = new ConversionTables();
    private final List<EntryForm.Field> fields;
    private final Map<Instrument, ScoreFormulas> formulas = new HashMap<>();
    private final Map<Instrument, Map<String, String>> shown = new HashMap<>();
    private final String patient;
    private final String bothHands;

    private EntryScores(List<EntryForm.Field> fields) {
        this.fields = fields;
        this.patient = working.add("patient", text("patient"));
        this.bothHands =
                working.add("both hands", "OR(LOWER(" + text("side") + ")=\"both\",LOWER(" + text("side") + ")=\"b\")");
    }

    static EntryScores of(List<EntryForm.Field> fields) {
        EntryScores scores = new EntryScores(fields);
        fields.stream().flatMap(f -> f.instrument().stream()).distinct().forEach(scores::add);
        return scores;
    }

    /** The trimmed text of a column of the sitting; an error counts as blank. */
    private String text(String heading) {
        String cell = cell(heading);
        return "IF(ISERROR(" + cell + "),\"\"," + ResponseFormulas.trimmed(cell) + ")";
    }

    private String cell(String heading) {
        for (int i = 0; i < fields.size(); i++) {
            if (fields.get(i).heading().equals(heading)) {
                return EntryForm.RESPONSES + "!$" + TableSheet.letters(i) + "#";
            }
        }
        throw new IllegalArgumentException("The form has no column " + heading);
    }

    private void add(Instrument instrument) {
        Map<Integer, String> numbers = new HashMap<>();
        instrument
                .columns()
                .forEach(c -> numbers.put(c.index(), ResponseFormulas.number(working, c.name(), cell(c.name()))));
        // The columns of one hand stand together, so that a scale's items are one range.
        List<Column> byHand = instrument.columns().stream()
                .sorted(Comparator.comparing(c -> c.hand().map(Side::code).orElse(NO_HAND)))
                .toList();
        Map<Integer, String> values = new HashMap<>();
        byHand.forEach(c -> values.put(
                c.index(),
                ResponseFormulas.value(
                        working, c.name(), numbers.get(c.index()), c.item().responses())));
        ScoreFormulas made = ScoreFormulas.of(working, tables, instrument, values);
        formulas.put(instrument, made);
        shown.put(instrument, shown(instrument, made));
    }

    /** Steps that say whether the person's scores are shown, and those of each hand and of both. */
    private Map<String, String> shown(Instrument instrument, ScoreFormulas made) {
        Map<String, String> steps = new HashMap<>();
        steps.put(NO_HAND, shown(instrument + " entered", made.anyEntered(instrument.columns())));
        List<Column> right = ofHand(instrument, Side.RIGHT);
        if (!right.isEmpty()) {
            String rightShown = shown(instrument + " right entered", made.anyEntered(right));
            String leftShown = shown(instrument + " left entered", made.anyEntered(ofHand(instrument, Side.LEFT)));
            steps.put(Side.RIGHT.code(), rightShown);
            steps.put(Side.LEFT.code(), leftShown);
            steps.put(
                    Side.BOTH.code(),
                    shown(
                            instrument + " both entered",
                            "AND(" + bothHands + ",OR(" + rightShown + "," + leftShown + "))"));
        }
        return steps;
    }

    private String shown(String heading, String entered) {
        return working.add(heading, "AND(" + patient + "<>\"\"," + entered + ")");
    }

    private static List<Column> ofHand(Instrument instrument, Side hand) {
        return instrument.columns().stream()
                .filter(c -> c.hand().equals(Optional.of(hand)))
                .toList();
    }

    /** The formula of a column; {@code #} stands for the row. */
    String formula(FormScoreColumn column) {
        ScoreFormulas.Scored scored = formulas.get(column.instrument()).of(column.scale(), column.hand());
        String show = step(
                shown.get(column.instrument()).get(column.hand().map(Side::code).orElse(NO_HAND)));
        String state = step(scored.state());
        return switch (column.shows()) {
            case SCORE -> showIf(show, step(scored.score()));
            case LOWEST -> showIf("AND(" + show + "," + state + "<>\"\")", step(scored.lowest()));
            case HIGHEST -> showIf("AND(" + show + "," + state + "<>\"\")", step(scored.highest()));
            case UNANSWERED -> showIf(isAsked(column), step(scored.unanswered()));
            case WHY -> showIf("AND(" + show + ",NOT(" + ScoreFormulas.isScored(state) + "))", state);
        };
    }

    /** Blanks are counted from the moment that the row has a patient; those of both hands if the row is about both. */
    private String isAsked(FormScoreColumn column) {
        String inUse = step(patient) + "<>\"\"";
        return column.hand().equals(Optional.of(Side.BOTH)) ? "AND(" + inUse + "," + step(bothHands) + ")" : inUse;
    }

    private static String showIf(String condition, String value) {
        return "IF(" + condition + "," + value + ",\"\")";
    }

    private static String step(String step) {
        return EntryWorking.fromOtherSheet(step);
    }

    /** Writes the sheets of the steps and of the tables. */
    void write(StreamingWorkbook book, int rows) {
        tables.write(book);
        working.write(book, rows);
    }
}
