package lumbrical.workbook;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import lumbrical.grip.GripTask;
import org.junit.jupiter.api.Test;

/** The treated and the other hand side by side: the invented demo clinic. */
class GripSheetTest {
    private static final List<GripSheet.Line> LINES =
            GripSheet.lines(Written.demo().clinic()).toList();

    private static String text(GripSheet.Line line, String column) {
        return GripSheet.TABLE.columns().stream()
                .filter(c -> c.name().equals(column))
                .map(c -> c.of().apply(line))
                .map(Cells::text)
                .findFirst()
                .orElseThrow();
    }

    private static List<String> row(GripSheet.Line line) {
        return List.of(
                text(line, "side"),
                text(line, "grip"),
                text(line, "hand"),
                text(line, "treated_hand"),
                text(line, "other_hand"));
    }

    /** From the demo's own file: what patient P030 answered on 2023-10-31, the left hand being treated, each code times 25. */
    @Test
    void theHardestGripOfTheTreatedHandComesFirstAndTheOtherHandBesideIt() {
        List<List<String>> rows = LINES.stream()
                .filter(l -> l.row().sitting().patient().equals("P030")
                        && l.row().sitting().completedOn().toString().equals("2023-10-31")
                        && l.row().hand().isPresent())
                .map(GripSheetTest::row)
                .limit(4)
                .toList();
        assertEquals(
                List.of(
                        List.of("left", "hook", "treated", "50", "25"),
                        List.of("right", "hook", "other", "50", "25"),
                        List.of("left", "cylindrical", "treated", "50", "0"),
                        List.of("right", "cylindrical", "other", "50", "0")),
                rows);
    }

    @Test
    void bothHandsOfAGripShowTheSamePairAndHardestComesFirst() {
        Map<Object, List<GripSheet.Line>> sittings = LINES.stream()
                .filter(l -> l.row().hand().isPresent() && l.of().isPresent())
                .collect(Collectors.groupingBy(
                        l -> List.of(l.row().sitting(), l.row().episode())));
        assertTrue(sittings.size() > 20, "only " + sittings.size());
        int pairs = 0;
        for (List<GripSheet.Line> lines : sittings.values()) {
            double before = 100;
            for (GripSheet.Line line : lines) {
                double treated = line.of().orElseThrow() == GripSheet.Hand.TREATED
                        ? line.row().difficulty()
                        : line.counterpart().orElse(line.row()).difficulty();
                assertTrue(
                        treated <= before,
                        () -> line.row().sitting() + " " + line.row().grip());
                before = treated;
                pairs += line.counterpart().isPresent() ? 1 : 0;
            }
        }
        assertTrue(pairs > 100, "only " + pairs);
    }

    @Test
    void tasksAreNamedHardestFirst() {
        assertEquals(
                "carrying 75, opening 50, turning 50",
                GripSheet.words(List.of(
                        new GripTask("a_1", "opening", 50),
                        new GripTask("a_2", "carrying", 75),
                        new GripTask("a_3", "turning", 50))));
    }
}
