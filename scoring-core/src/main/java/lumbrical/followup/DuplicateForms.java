package lumbrical.followup;

import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Finds the same instrument given twice in one sitting. */
final class DuplicateForms {
    private final Set<ScoredForm> notUsed = Collections.newSetFromMap(new IdentityHashMap<>());
    private final List<Problem> problems = new ArrayList<>();

    private record Key(Sitting.Key sitting, InstrumentId instrument) {}

    /** Blank forms are no doubles. */
    DuplicateForms(List<ScoredForm> forms) {
        Map<Key, ScoredForm> first = new HashMap<>(forms.size() * 2);
        for (ScoredForm form : forms) {
            if (form.responses().blank()) {
                continue;
            }
            Key key = new Key(form.sitting().key(), form.instrument().id());
            ScoredForm before = first.putIfAbsent(key, form);
            if (before != null) {
                boolean same = before.responses().equals(form.responses());
                notUsed.add(form);
                if (!same) {
                    notUsed.add(before);
                }
                problems.add(problem(form, before, same));
            }
        }
    }

    private static Problem problem(ScoredForm form, ScoredForm before, boolean same) {
        String what = form.instrument().id() + " stands twice for this sitting, first in "
                + before.sitting().place() + ". ";
        return new Problem(
                form.sitting().place(),
                "",
                ProblemCode.DUPLICATE_SITTING,
                what
                        + (same
                                ? "The answers are the same and count once. Remove one of the two."
                                : "The answers differ, so neither is used in time. Remove the wrong one."));
    }

    /** Whether a form is a double that does not count in time. */
    boolean excludes(ScoredForm form) {
        return notUsed.contains(form);
    }

    List<Problem> problems() {
        return problems;
    }
}
