package lumbrical.workbook;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.apache.poi.ss.util.CellReference;

/** Neighbouring steps of the working sheet taken together: {@code $C#:$F#} for four of them. */
final class StepRanges {
    private StepRanges() {}

    static List<String> of(List<String> unordered) {
        List<String> steps = unordered.stream()
                .sorted(Comparator.comparingInt(StepRanges::column))
                .toList();
        List<String> ranges = new ArrayList<>();
        int i = 0;
        while (i < steps.size()) {
            int end = i;
            while (end + 1 < steps.size() && column(steps.get(end + 1)) == column(steps.get(end)) + 1) {
                end++;
            }
            ranges.add(end == i ? steps.get(i) : steps.get(i) + ":" + steps.get(end));
            i = end + 1;
        }
        return ranges;
    }

    private static int column(String step) {
        return CellReference.convertColStringToIndex(step.substring(1, step.length() - 1));
    }
}
