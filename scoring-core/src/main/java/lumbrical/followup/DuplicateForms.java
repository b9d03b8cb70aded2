package lumbrical.followup;

import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;

/** Finds the same instrument given twice in one sitting. Forms are named by their position in the list. */
final class DuplicateForms {
    private final BitSet repeated = new BitSet();
    private final BitSet contradicted = new BitSet();
    /** In the order of the forms. */
    private final List<Problem> problems;

    /**
     * Blank forms are no duplicates.
     *
     * @param sittings the positions of the forms of each sitting, ascending
     */
    DuplicateForms(List<ScoredForm> forms, List<int[]> sittings) {
        Map<Integer, Problem> found = new TreeMap<>();
        for (int[] sitting : sittings) {
            if (sitting.length == 1) {
                continue;
            }
            Map<InstrumentId, Integer> first = new HashMap<>();
            for (int i : sitting) {
                ScoredForm form = forms.get(i);
                if (form.responses().blank()) {
                    continue;
                }
                Integer before = first.putIfAbsent(form.instrument().id(), i);
                if (before != null) {
                    boolean same = forms.get(before).responses().equals(form.responses());
                    if (same && !contradicted.get(before)) {
                        repeated.set(i);
                    } else {
                        contradicted.set(i);
                        contradicted.set(before);
                    }
                    found.put(i, problem(form, forms.get(before), same));
                }
            }
        }
        problems = List.copyOf(found.values());
    }

    private static Problem problem(ScoredForm form, ScoredForm before, boolean same) {
        return new Problem(
                form.sitting().place(),
                "",
                ProblemCode.DUPLICATE_SITTING,
                form.instrument().id() + " stands twice for this patient, day and side, first in "
                        + before.sitting().place() + ". "
                        + (same
                                ? "The answers are the same and count once. Remove one of the two."
                                : "The answers differ, so neither is used in time. Remove the wrong one."));
    }

    /** Whether the form at that position does not count in time. */
    boolean excludes(int position) {
        return repeated.get(position) || contradicted.get(position);
    }

    /** Whether the form at that position was entered twice with different answers. */
    boolean contradicts(int position) {
        return contradicted.get(position);
    }

    List<Problem> problems() {
        return problems;
    }
}
