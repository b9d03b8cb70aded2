package lumbrical.workbook;

import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.instrument.ResponseSet;

/**
 * What a typed cell means, as formulas: a number if the item allows it, empty text if the cell is blank, {@link #NOT_ALLOWED} for
 * anything else. A text counts as the number that the reader of responses takes it for, whatever the country of the spreadsheet.
 */
final class ResponseFormulas {
    /** Stands for a response that is not allowed. */
    static final String NOT_ALLOWED = "x";

    /** White space but a plain blank, as the reader trims it; line ends and tabs, then the blanks of typesetting and of the web. */
    private static final List<String> BLANKS = Stream.concat(
                    Stream.of("CHAR(9)", "CHAR(10)", "CHAR(13)"),
                    IntStream.of(0xA0, 0x2002, 0x2003, 0x2007, 0x2009, 0x200A, 0x200B, 0x202F, 0x3000, 0xFEFF)
                            .mapToObj(c -> "\"" + Character.toString(c) + "\""))
            .toList();

    private static final int FULL_WIDTH_ZERO = 0xFF10;
    private static final int DIGITS = 10;

    private ResponseFormulas() {}

    /** The text of a cell without surrounding white space. */
    static String trimmed(String cell) {
        String text = cell;
        for (String blank : BLANKS) {
            text = "SUBSTITUTE(" + text + "," + blank + ",\" \")";
        }
        return "TRIM(" + text + ")";
    }

    /** Adds the steps that read a typed cell as a number; the reference to the last. */
    static String number(EntryWorking working, String name, String cell) {
        String entered = working.add( // to some spreadsheets a truth value is a number
                name + " entered",
                "IF(ISBLANK(" + cell + "),\"\",IF(ISLOGICAL(" + cell + ")," + quoted(NOT_ALLOWED) + "," + cell + "))");
        String typed = working.add(
                name + " trimmed",
                "IF(ISNUMBER(" + entered + ")," + entered + ",IF(ISTEXT(" + entered + "),"
                        + plainDigits(trimmed(entered)) + "," + quoted(NOT_ALLOWED) + "))");
        String unsigned = working.add(
                name + " digits",
                "IF(ISNUMBER(" + typed + "),\"\",IF(OR(LEFT(" + typed + ",1)=\"+\",LEFT(" + typed + ",1)=\"-\"),MID("
                        + typed + ",2,40)," + typed + ")&IF(ISNUMBER(FIND(\".\"," + typed + ")),\"\",\".0\"))");
        return working.add(name + " number", number(typed, unsigned));
    }

    /** Adds the step that keeps a number only if the item allows it. */
    static String value(EntryWorking working, String name, String number, ResponseSet allowed) {
        return working.add(
                name,
                "IF(ISNUMBER(" + number + "),IF(" + allows(number, allowed) + "," + number + "," + quoted(NOT_ALLOWED)
                        + ")," + number + ")");
    }

    /** Full-width digits made plain, and no apostrophe before a sign. */
    private static String plainDigits(String text) {
        String plain = text;
        for (int digit = 0; digit < DIGITS; digit++) {
            plain = "SUBSTITUTE(" + plain + ",\"" + Character.toString(FULL_WIDTH_ZERO + digit) + "\",\"" + digit
                    + "\")";
        }
        return "SUBSTITUTE(SUBSTITUTE(" + plain + ",\"'-\",\"-\"),\"'+\",\"+\")";
    }

    /** Digits before and after the point are read apart, since a spreadsheet reads a point by the customs of its country. */
    private static String number(String typed, String unsigned) {
        String whole = "LEFT(" + unsigned + ",FIND(\".\"," + unsigned + ")-1)";
        String decimals = "MID(" + unsigned + ",FIND(\".\"," + unsigned + ")+1,40)";
        return "IF(ISNUMBER(" + typed + ")," + typed + ",IF(" + typed + "=\"\",\"\",IFERROR(IF(AND(" + digits(whole)
                + "," + digits(decimals) + "),IF(LEFT(" + typed + ",1)=\"-\",-1,1)*(VALUE(" + whole + ")+VALUE("
                + decimals + ")/10^LEN(" + decimals + "))," + quoted(NOT_ALLOWED) + ")," + quoted(NOT_ALLOWED) + ")))";
    }

    /** Whether a text is 1 to 15 digits and nothing else: then it is what its number looks like. */
    private static String digits(String text) {
        return "LEN(" + text + ")>0,LEN(" + text + ")<16,EXACT(TEXT(VALUE(" + text + "),REPT(\"0\",LEN(" + text + "))),"
                + text + ")";
    }

    /** Whether the item allows a number. */
    private static String allows(String number, ResponseSet allowed) {
        return allowed.fold(new ResponseSet.Kinds<>() {
            @Override
            public String codes(ResponseSet.Codes set) {
                boolean consecutive = set.codes().stream().allMatch(code -> Double.compare(Math.rint(code), code) == 0)
                        && Math.round(set.high() - set.low()) == set.codes().size() - 1;
                return consecutive
                        ? between(number, set) + "," + number + "=INT(" + number + "))"
                        : set.codes().stream()
                                .map(code -> number + "=" + FormulaNumber.of(code))
                                .collect(Collectors.joining(",", "OR(", ")"));
            }

            @Override
            public String continuous(ResponseSet.Continuous set) {
                return between(number, set) + ")";
            }
        });
    }

    private static String between(String number, ResponseSet set) {
        return "AND(" + number + ">=" + FormulaNumber.of(set.low()) + "," + number + "<="
                + FormulaNumber.of(set.high());
    }

    /** A text as a formula writes it. */
    static String quoted(String text) {
        return "\"" + text + "\"";
    }
}
