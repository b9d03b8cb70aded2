package lumbrical.intake;

import java.util.List;
import lumbrical.sitting.Sitting;

/**
 * A sitting as read: a row of the wide layout, or the rows of the long layout that belong together.
 *
 * @param sitting who, when, which side
 * @param forms the instruments whose columns the file has, in alphabetical order
 */
public record SittingRow(Sitting sitting, List<FormEntry> forms) {
    /** Copies the list. */
    public SittingRow {
        forms = List.copyOf(forms);
    }
}
