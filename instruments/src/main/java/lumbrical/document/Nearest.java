package lumbrical.document;

import java.util.Collection;
import java.util.Optional;

/** Finds what somebody probably meant. */
public final class Nearest {
    private Nearest() {}

    /** The first of {@code known} that is one edit (a letter more, less, other, or two swapped) from {@code word}. */
    public static Optional<String> to(String word, Collection<String> known) {
        return known.stream().filter(k -> oneEdit(word, k)).findFirst();
    }

    /** Whether some word that begins with {@code prefix} could be one edit from {@code word}, or be that word. */
    public static boolean mayBegin(String word, String prefix) {
        for (int length = prefix.length() - 1; length <= prefix.length() + 1; length++) {
            if (length <= word.length()) {
                String start = word.substring(0, length);
                if (start.equals(prefix) || oneEdit(start, prefix)) {
                    return true;
                }
            }
        }
        return false;
    }

    /** Whether the words differ by exactly one edit. */
    static boolean oneEdit(String a, String b) {
        if (a.equals(b) || Math.abs(a.length() - b.length()) > 1) {
            return false;
        }
        int i = 0;
        while (i < a.length() && i < b.length() && a.charAt(i) == b.charAt(i)) {
            i++;
        }
        if (a.length() == b.length()) {
            return a.substring(i + 1).equals(b.substring(i + 1)) || swapped(a, b, i);
        }
        return a.length() > b.length()
                ? a.substring(i + 1).equals(b.substring(i))
                : a.substring(i).equals(b.substring(i + 1));
    }

    private static boolean swapped(String a, String b, int i) {
        return i + 1 < a.length()
                && a.charAt(i) == b.charAt(i + 1)
                && a.charAt(i + 1) == b.charAt(i)
                && a.substring(i + 2).equals(b.substring(i + 2));
    }
}
