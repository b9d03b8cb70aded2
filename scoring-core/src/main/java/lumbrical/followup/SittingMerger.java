package lumbrical.followup;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Puts the forms of one sitting together that stand in several rows, as where each form was exported to a file of its own. */
final class SittingMerger {
    private final DuplicateForms doubles;
    private final Map<Sitting.Key, List<ScoredForm>> split = new HashMap<>();

    SittingMerger(List<ScoredForm> forms, DuplicateForms doubles) {
        this.doubles = doubles;
        Map<Sitting.Key, Sitting> firstRows = new HashMap<>();
        for (ScoredForm form : forms) {
            Sitting row = form.sitting();
            Sitting first = firstRows.computeIfAbsent(row.key(), key -> row);
            if (first != row) {
                split.putIfAbsent(row.key(), new ArrayList<>());
            }
        }
        if (!split.isEmpty()) {
            for (ScoredForm form : forms) {
                if (split.containsKey(form.sitting().key())) {
                    split.get(form.sitting().key()).add(form);
                }
            }
        }
    }

    /** The forms of a sitting, from all its rows but doubles, at the first of its rows; none at another. */
    List<ScoredForm> atFirstRow(Sitting row, List<ScoredForm> formsOfRow) {
        List<ScoredForm> forms = split.getOrDefault(row.key(), formsOfRow);
        return forms.get(0).sitting() == row
                ? forms.stream().filter(form -> !doubles.excludes(form)).toList()
                : List.of();
    }
}
