package lumbrical.condition;

import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import lumbrical.instrument.Provenance;

/**
 * A condition for which thresholds hold or by which results are grouped.
 *
 * @param id lower-case letters and digits, words joined by {@code -}
 * @param label its name in words
 * @param synonyms other names in clinical use
 * @param names standing and source of label and synonyms
 * @param codes codes of ICD-10 (WHO) that name this condition
 */
public record Condition(String id, String label, List<String> synonyms, Provenance names, List<Code> codes) {
    /**
     * Copies the lists.
     *
     * @throws IllegalArgumentException if {@code id} is not of lower-case letters, digits and {@code -}, or {@code label} blank
     */
    public Condition {
        if (!id.matches("[a-z][a-z0-9]*(-[a-z0-9]+)*")) {
            throw new IllegalArgumentException(
                    "'" + id + "' is no id of a condition: lower-case letters and digits, words joined by '-'");
        }
        if (label.isBlank()) {
            throw new IllegalArgumentException("Condition " + id + " has no label");
        }
        synonyms = List.copyOf(synonyms);
        codes = List.copyOf(codes);
    }

    /** Of the id, which tells most conditions apart: the lists are long, and a clinic asks for it with every change. */
    @Override
    public int hashCode() {
        return id.hashCode();
    }

    /**
     * A code of ICD-10 (WHO): a category of three characters, or a subcategory where the category is wider than the condition.
     *
     * @param value such as {@code G56.0}
     * @param provenance standing and source
     */
    public record Code(String value, Provenance provenance) {
        private static final Pattern CODE = Pattern.compile("[A-Za-z][0-9][0-9A-Za-z](\\.?[0-9A-Za-z]{1,4})?");

        /** @throws IllegalArgumentException if {@code value} does not look like a code */
        public Code {
            if (!isCode(value)) {
                throw new IllegalArgumentException("'" + value + "' is no code of ICD-10");
            }
        }

        /** Whether {@code text} looks like a code: a letter, two characters, and up to four more, with or without a dot. */
        static boolean isCode(String text) {
            return CODE.matcher(text.strip()).matches();
        }

        /** Letters and digits alone, in capitals. */
        static String bare(String text) {
            return text.strip().toUpperCase(Locale.ROOT).replace(".", "");
        }

        /** Whether {@code given} is this code or a finer one. */
        boolean holds(String given) {
            return bare(given).startsWith(bare(value));
        }

        /** Whether {@code given} is coarser than this code. */
        boolean isWithin(String given) {
            return bare(value).startsWith(bare(given)) && !holds(given);
        }
    }

    /** Id, label and synonyms. */
    public List<String> allNames() {
        return Stream.concat(Stream.of(id, label), synonyms.stream()).toList();
    }

    /** Whether {@code name} is id, label or synonym, without regard to case and repeated blanks. */
    public boolean isCalled(String name) {
        return allNames().stream().anyMatch(n -> Names.same(n, name));
    }
}
