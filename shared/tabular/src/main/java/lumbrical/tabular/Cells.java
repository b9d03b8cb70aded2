package lumbrical.tabular;

import java.util.Locale;
import java.util.OptionalDouble;
import java.util.regex.Pattern;

/** What a cell's text means, whichever kind of file it came from. */
public final class Cells {
    private static final Pattern NUMBER = Pattern.compile("[+-]?[0-9]{1,15}(\\.[0-9]{1,15})?");
    /** How texts start that a spreadsheet would take for a formula; guarded on writing, and unguarded on reading. */
    public static final String GUARDED = "=+-@\t\r";

    /** Stands in a cell whose formula has no stored value: nobody has calculated it. No cell of a file can hold it. */
    public static final String NOT_CALCULATED = "\uFFFE formula not calculated";

    private static final char BYTE_ORDER_MARK = '\uFEFF';
    private static final char ZERO_WIDTH_SPACE = '\u200B';

    private Cells() {}

    /** The text without surrounding white space of any kind and without the apostrophe that guards a formula start. */
    public static String clean(String raw) {
        int start = 0;
        int end = raw.length();
        while (start < end && isSpace(raw.charAt(start))) {
            start++;
        }
        while (end > start && isSpace(raw.charAt(end - 1))) {
            end--;
        }
        if (end - start > 1 && raw.charAt(start) == '\'' && GUARDED.indexOf(raw.charAt(start + 1)) >= 0) {
            start++;
        }
        return raw.substring(start, end);
    }

    private static boolean isSpace(char c) {
        return c <= ' '
                || c >= 0x80
                        && (Character.isWhitespace(c)
                                || Character.isSpaceChar(c)
                                || c == BYTE_ORDER_MARK
                                || c == ZERO_WIDTH_SPACE);
    }

    /** A heading: cleaned and in lower case. */
    public static String heading(String raw) {
        return clean(raw).toLowerCase(Locale.ROOT);
    }

    /** The number a cleaned text is, with a decimal point; full-width digits count as digits. Empty if it is none. */
    public static OptionalDouble number(String text) {
        if (text.length() == 1 && text.charAt(0) >= '0' && text.charAt(0) <= '9') {
            return OptionalDouble.of(text.charAt(0) - '0');
        }
        String digits = asciiDigits(text);
        return NUMBER.matcher(digits).matches()
                ? OptionalDouble.of(Double.parseDouble(digits))
                : OptionalDouble.empty();
    }

    private static String asciiDigits(String text) {
        StringBuilder changed = new StringBuilder(text.length());
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            changed.append(c >= '\uFF10' && c <= '\uFF19' ? (char) (c - '\uFF10' + '0') : c);
        }
        return changed.toString();
    }

    /** The text with control and direction-changing characters shown as {@code ?}, at most 60 characters: safe to print. */
    public static String printable(String text) {
        StringBuilder shown = new StringBuilder();
        text.codePoints().limit(60).forEach(c -> {
            int type = Character.getType(c);
            boolean odd = Character.isISOControl(c)
                    || type == Character.FORMAT
                    || type == Character.SURROGATE
                    || type == Character.LINE_SEPARATOR
                    || type == Character.PARAGRAPH_SEPARATOR;
            shown.appendCodePoint(odd ? '?' : c);
        });
        return text.codePointCount(0, text.length()) > 60 ? shown + "..." : shown.toString();
    }
}
