package lumbrical.registry;

import java.util.List;

/**
 * What becomes of a column of the input.
 *
 * @param table {@code responses} or {@code episodes}
 * @param column its heading
 * @param leaves whether anything of it leaves the house
 * @param becomes in what form, or why it stays
 * @param examples values as they would leave, masked
 */
public record ColumnDisposition(String table, String column, boolean leaves, String becomes, List<String> examples) {
    /** Copies the list. */
    public ColumnDisposition {
        examples = List.copyOf(examples);
    }
}
