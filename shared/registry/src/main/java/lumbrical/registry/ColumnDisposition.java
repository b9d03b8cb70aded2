package lumbrical.registry;

import java.util.List;
import java.util.Locale;
import java.util.Set;

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
    private static final Set<String> KNOWN = Set.of(
            "responses of every instrument",
            "mode",
            "respondent",
            "language",
            "patient",
            "episode",
            "treated_side",
            "index_date",
            "dominant_side",
            "sex",
            "birth_year",
            "condition",
            "procedure",
            "forms",
            "closed_on",
            "closed_reason",
            "share");

    /** Copies the list. */
    public ColumnDisposition {
        examples = List.copyOf(examples);
    }

    /** Whether the heading is one of this program or of the profile, and so tells nothing of the clinic. */
    boolean known() {
        return leaves || KNOWN.contains(column.toLowerCase(Locale.ROOT));
    }
}
