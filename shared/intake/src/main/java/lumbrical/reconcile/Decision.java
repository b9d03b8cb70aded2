package lumbrical.reconcile;

import java.util.List;

/**
 * What a person read on the form.
 *
 * @param word {@code first}, {@code second}, {@code blank} or {@code value}
 * @param value the entry, for {@code value}
 */
public record Decision(String word, String value) {
    /** The words that decide. */
    /** What a person may write. */
    public static final List<String> WORDS = List.of("first", "second", "blank", "value");

    /** What the agreed table then holds. */
    String settles(Difference difference) {
        return switch (word) {
            case "first" -> difference.first();
            case "second" -> difference.second();
            case "value" -> value;
            default -> "";
        };
    }
}
