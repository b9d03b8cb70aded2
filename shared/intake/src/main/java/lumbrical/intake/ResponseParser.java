package lumbrical.intake;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.regex.Pattern;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.problem.Remedy;
import lumbrical.scoring.Response;
import lumbrical.tabular.Cells;

/** What a cell in an item's column means. The one place where that is decided, for every layout and kind of file. */
final class ResponseParser {
    /** Numbers that databases of questionnaires write where nothing was answered; common practice, no source. */
    private static final Set<String> MISSING_NUMBERS = Set.of(
            "8", "9", "77", "88", "99", "777", "888", "999", "7777", "8888", "9999", "-1", "-7", "-8", "-9", "-99",
            "-999");

    /** Two numbers in one cell, or a comma, which parts the texts that mean not answered. */
    private static final Pattern SEVERAL = Pattern.compile("[0-9][^0-9]+[0-9]|,");

    private final ReadOptions options;

    ResponseParser(ReadOptions options) {
        this.options = options;
    }

    /** The response; a number that the item does not allow counts as no number, since nobody will use it. */
    Response parse(Instrument instrument, Column column, String cleaned) {
        if (cleaned.isEmpty()) {
            return Response.NOT_ANSWERED;
        }
        if (isNotAnsweredToken(cleaned)) {
            return Response.NOT_ANSWERED;
        }
        String code = options.codes().codeOf(column.name(), instrument.id().value(), cleaned);
        if (code.isEmpty() || isNotAnsweredToken(code)) {
            return Response.NOT_ANSWERED;
        }
        ResponseSet allowed = column.item().responses();
        OptionalDouble number = Cells.number(code);
        if (number.isEmpty() && options.decimalComma()) {
            number = Cells.number(code.replace(',', '.'));
        }
        return number.isPresent() && allowed.allows(number.getAsDouble())
                ? Response.of(number.getAsDouble())
                : Response.NO_NUMBER;
    }

    /** What a cleaned cell holds, in one form: blank if not answered, the code, or the text if it is not allowed. */
    String entered(Instrument instrument, Column column, String cleaned, Response response) {
        if (response instanceof Response.Answered answered) {
            return plain(answered.value());
        }
        boolean blank = cleaned.isEmpty() || isNotAnsweredToken(cleaned);
        String code = blank
                ? ""
                : options.codes().codeOf(column.name(), instrument.id().value(), cleaned);
        return isNotAnsweredToken(code) ? "" : code;
    }

    /** Whether a cleaned cell counts as not answered by a text that the user named, and would be an answer without it. */
    boolean takenAway(Column column, String cleaned) {
        return isNotAnsweredToken(cleaned)
                && Cells.number(cleaned).stream().anyMatch(column.item().responses()::allows);
    }

    private boolean isNotAnsweredToken(String text) {
        return !options.notAnswered().isEmpty()
                && options.notAnswered().stream().anyMatch(t -> t.equalsIgnoreCase(text));
    }

    /** What to do about a response that is not allowed. */
    String advice(Instrument instrument, Column column, String cleaned) {
        String then = options.badAsNotAnswered()
                ? "It is treated as not answered."
                : "The scale is not scored for this form.";
        String score = looksLikeScore(instrument, column, cleaned)
                ? " A score of the form seems to stand where a response belongs."
                : "";
        return AllowedResponses.inWords(column.item().responses()) + score + " " + then
                + " Look at the form and correct the cell.";
    }

    /** What would read it as it stands. */
    List<Remedy> remedies(Column column, String cleaned) {
        List<Remedy> remedies = new ArrayList<>();
        if (Cells.number(cleaned.replace(',', '.')).stream()
                .anyMatch(column.item().responses()::allows)) {
            remedies.add(Remedy.of(Remedy.Kind.DECIMAL_COMMA));
        } else if (SEVERAL.matcher(cleaned).find()) {
            return List.of(); // two ticks: no option may read them, and none may take other answers away
        } else if (Cells.number(cleaned).isEmpty()) {
            remedies.add(new Remedy(Remedy.Kind.MAP_ANSWERS, Cells.printable(cleaned)));
            remedies.add(new Remedy(Remedy.Kind.BLANK_TEXT, Cells.printable(cleaned)));
        } else if (MISSING_NUMBERS.contains(cleaned)) {
            remedies.add(new Remedy(Remedy.Kind.BLANK_TEXT, Cells.printable(cleaned)));
        }
        return remedies;
    }

    /** Whether the number is above every response of the item and within the range of a score of the form. */
    private static boolean looksLikeScore(Instrument instrument, Column column, String cleaned) {
        OptionalDouble number = Cells.number(cleaned);
        return number.isPresent()
                && !MISSING_NUMBERS.contains(cleaned)
                && number.getAsDouble() > 2 * column.item().responses().high()
                && instrument.scales().stream().anyMatch(s -> s.range().contains(number.getAsDouble()));
    }

    private static String plain(double code) {
        return code == Math.rint(code) ? Long.toString((long) code) : String.format(Locale.ROOT, "%s", code);
    }
}
