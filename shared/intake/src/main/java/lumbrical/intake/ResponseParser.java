package lumbrical.intake;

import java.util.Locale;
import java.util.OptionalDouble;
import java.util.stream.Collectors;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ResponseSet;
import lumbrical.scoring.Responses;
import lumbrical.tabular.Cells;

/** What a cell in an item's column means. The one place where that is decided, for every layout and kind of file. */
final class ResponseParser {
    /** Longer lists of codes are told by their ends. */
    private static final int MOST_LISTED = 15;

    private final ReadOptions options;

    ResponseParser(ReadOptions options) {
        this.options = options;
    }

    /** The response: a value, {@link Responses#NOT_ANSWERED} or {@link Responses#NOT_ALLOWED}. */
    double parse(Instrument instrument, Column column, String cleaned) {
        if (cleaned.isEmpty()) {
            return Responses.NOT_ANSWERED;
        }
        if (isNotAnsweredToken(cleaned)) {
            return Responses.NOT_ANSWERED;
        }
        String code = options.codes().codeOf(column.name(), instrument.id().value(), cleaned);
        if (code.isEmpty() || isNotAnsweredToken(code)) {
            return Responses.NOT_ANSWERED;
        }
        ResponseSet allowed = column.item().responses();
        OptionalDouble number = Cells.number(code);
        if (number.isEmpty() && options.decimalComma() && allowed instanceof ResponseSet.Continuous) {
            number = Cells.number(code.replace(',', '.'));
        }
        return number.isPresent() && allowed.allows(number.getAsDouble())
                ? number.getAsDouble()
                : Responses.NOT_ALLOWED;
    }

    /** What a cleaned cell holds, in one form: blank if not answered, the code, or the text if it is not allowed. */
    String entered(Instrument instrument, Column column, String cleaned, double response) {
        if (Double.isFinite(response)) {
            return plain(response);
        }
        boolean blank = cleaned.isEmpty() || isNotAnsweredToken(cleaned);
        String code = blank
                ? ""
                : options.codes().codeOf(column.name(), instrument.id().value(), cleaned);
        return isNotAnsweredToken(code) ? "" : code;
    }

    private boolean isNotAnsweredToken(String text) {
        return !options.notAnswered().isEmpty()
                && options.notAnswered().stream().anyMatch(t -> t.equalsIgnoreCase(text));
    }

    /** What to do about a response that is not allowed. */
    String advice(Instrument instrument, Column column, String cleaned) {
        String then = options.badAsNotAnswered()
                ? "It is treated as not answered."
                : "The scale of this sitting is not scored.";
        String score = looksLikeScore(instrument, column, cleaned)
                ? " A score of the form seems to stand where a response belongs."
                : "";
        return allowedWords(column.item().responses()) + score + " " + then
                + " Look at the form and correct the cell, or empty it.";
    }

    private static boolean everyWholeNumber(ResponseSet.Codes set) {
        return set.codes().stream().allMatch(code -> Double.compare(code, Math.rint(code)) == 0)
                && set.codes().size() == Math.round(set.high() - set.low()) + 1;
    }

    /** Whether the number is above every response of the item and within the range of a score of the form. */
    private static boolean looksLikeScore(Instrument instrument, Column column, String cleaned) {
        OptionalDouble number = Cells.number(cleaned);
        return number.isPresent()
                && number.getAsDouble() > 2 * column.item().responses().high()
                && instrument.scales().stream().anyMatch(s -> s.range().contains(number.getAsDouble()));
    }

    private static String allowedWords(ResponseSet responses) {
        if (responses instanceof ResponseSet.Codes set && set.codes().size() > MOST_LISTED && everyWholeNumber(set)) {
            return "Allowed responses are whole numbers from " + plain(set.low()) + " to " + plain(set.high())
                    + ", or blank.";
        }
        if (responses instanceof ResponseSet.Codes set) {
            return "Allowed responses are "
                    + set.codes().stream().map(ResponseParser::plain).collect(Collectors.joining(", ")) + ", or blank.";
        }
        return "Allowed is a number from " + plain(responses.low()) + " to " + plain(responses.high()) + ", or blank.";
    }

    private static String plain(double code) {
        return code == Math.rint(code) ? Long.toString((long) code) : String.format(Locale.ROOT, "%s", code);
    }
}
