package lumbrical.condition;

import java.util.Collection;
import java.util.Locale;
import java.util.Optional;
import java.util.regex.Pattern;

/** How names of conditions are compared. */
final class Names {
    /** Most edits between a text and the name that was probably meant. Ours. */
    private static final int MOST_EDITS = 2;
    /** Shorter names are too often one or two letters from another word. Ours. */
    private static final int SHORTEST = 5;

    private static final Pattern BLANKS = Pattern.compile("(?U)\\s+");

    private Names() {}

    /** Blanks of any kind as one, none at the ends. */
    static String tidy(String text) {
        return BLANKS.matcher(text).replaceAll(" ").strip();
    }

    /** Tidy and in lower case, the typographic apostrophe as the plain one. Called for every change that is judged. */
    static String normal(String text) {
        String tidy = isTidyAscii(text) ? text : tidy(text.replace('\u2019', '\''));
        return tidy.toLowerCase(Locale.ROOT);
    }

    private static boolean isTidyAscii(String text) {
        char before = ' ';
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c < ' ' || c > '~' || c == ' ' && before == ' ') {
                return false;
            }
            before = c;
        }
        return before != ' ';
    }

    static boolean same(String a, String b) {
        return normal(a).equals(normal(b));
    }

    /** The name at fewest edits from {@code text}, at most {@value #MOST_EDITS}; the first of several. */
    static Optional<String> nearest(String text, Collection<String> names) {
        String word = normal(text);
        int least = MOST_EDITS + 1;
        Optional<String> nearest = Optional.empty();
        for (String name : names) {
            int edits = Math.min(word.length(), name.length()) < SHORTEST ? least : edits(word, normal(name));
            if (edits < least) {
                least = edits;
                nearest = Optional.of(name);
            }
        }
        return nearest;
    }

    /** Letters added, left out or changed between two words (Levenshtein's distance). */
    static int edits(String a, String b) {
        int[] before = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            before[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            int[] row = new int[b.length() + 1];
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int change = before[j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
                row[j] = Math.min(change, Math.min(before[j], row[j - 1]) + 1);
            }
            before = row;
        }
        return before[b.length()];
    }
}
