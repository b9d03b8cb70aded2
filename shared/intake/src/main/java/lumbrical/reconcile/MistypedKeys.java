package lumbrical.reconcile;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Finds the sittings that stand in both tables, one of them under a mistyped patient, day or side: of the three they differ in one, no
 * other sitting comes into question for either, and at least three quarters of the cells that either has filled are the same. Ours.
 */
final class MistypedKeys {
    private static final double SAME_CELLS = 0.75;

    private MistypedKeys() {}

    /** Takes such sittings out of both lists and returns them as pairs, in the order of the first. */
    static List<Comparison.Pair> take(List<EnteredSitting> onlyFirst, List<EnteredSitting> onlySecond) {
        List<Comparison.Pair> pairs = new ArrayList<>();
        for (EnteredSitting one : List.copyOf(onlyFirst)) {
            theOnlyNear(one, onlySecond)
                    .filter(other -> theOnlyNear(other, onlyFirst).isPresent())
                    .filter(other -> alike(one, other))
                    .ifPresent(other -> pairs.add(new Comparison.Pair(one, other)));
        }
        for (Comparison.Pair pair : pairs) {
            onlyFirst.remove(pair.first());
            onlySecond.remove(pair.second());
        }
        return pairs;
    }

    /** The one sitting of {@code others} that differs in one of patient, day and side. */
    static Optional<EnteredSitting> theOnlyNear(EnteredSitting sitting, List<EnteredSitting> others) {
        PairKey key = PairKey.of(sitting.sitting());
        List<EnteredSitting> near = others.stream()
                .filter(o -> key.inCommon(PairKey.of(o.sitting())) == 2)
                .toList();
        return near.size() == 1 ? Optional.of(near.get(0)) : Optional.empty();
    }

    private static boolean alike(EnteredSitting one, EnteredSitting other) {
        long same = one.cells().entrySet().stream()
                .filter(cell -> other.cell(cell.getKey())
                        .filter(entry -> entry.text().equals(cell.getValue().text()))
                        .isPresent())
                .count();
        long either = one.cells().size()
                + other.cells().keySet().stream()
                        .filter(column -> one.cell(column).isEmpty())
                        .count();
        return either > 0 && same >= SAME_CELLS * either;
    }
}
