package lumbrical.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;

/** Rows of a table that lies in no file, such as of a database. Rows invented. */
class HandedInRowsTest {
    private static final List<String> HEADINGS = List.of("patient", "completed_on", "side", "nprs_rest", "remark");

    private final List<String> scores = new ArrayList<>();
    private final List<Problem> problems = new ArrayList<>();

    private static BatchScorer scorer() {
        return new BatchScorer(
                Catalogue.builtIn(), ReadOptions.asOf(LocalDate.of(2026, 11, 1)), ScoringOptions.AS_DEFINED);
    }

    private BatchScorer.Rows rows(BatchScorer scorer) {
        return scorer.rows(
                "answers",
                (row, forms) -> forms.forEach(form -> form.results().forEach(r -> r.scored()
                        .ifPresent(s -> scores.add(row.sitting().patient() + " " + s.value())))),
                problems::add);
    }

    @Test
    void areScoredAsThoseOfAFileAndCounted() {
        BatchScorer.Rows rows = rows(scorer());
        rows.row(1, HEADINGS);
        rows.row(2, List.of("A", "2026-03-01", "right", "3", ""));
        rows.row(3, List.of("B", "no day", "right", "3", ""));
        rows.row(4, Arrays.asList("C", "2026-03-01", null, "4", null));
        rows.row(5, Arrays.asList(null, null, null, null, null));
        rows.row(6, List.of("D", "2026-03-01"));
        ScoringCounts counts = rows.end();
        assertEquals(List.of("A 3.0", "C 4.0"), scores);
        assertEquals("rows read 4 = scored 2 + nothing to score 1 + rejected 1", counts.reconciliation());
        assertTrue(
                problems.stream()
                        .anyMatch(p -> p.place().file().equals("answers")
                                && p.place().row().orElse(0) == 3
                                && p.place().column().equals(Optional.of("completed_on"))),
                problems.toString());
    }

    @Test
    void aTableEndsOnce() {
        BatchScorer.Rows rows = rows(scorer());
        rows.row(1, HEADINGS);
        rows.end();
        assertThrows(IllegalStateException.class, () -> rows.row(2, List.of("A", "2026-03-01", "right", "3", "")));
        assertThrows(IllegalStateException.class, rows::end);
        assertEquals(List.of(), scores);
    }

    @Test
    void aScorerScoresOnce() {
        BatchScorer scorer = scorer();
        rows(scorer);
        assertThrows(IllegalStateException.class, () -> rows(scorer));
        List<Input> demo = List.of(new Input(Path.of("..", "demo", "responses.csv"), Optional.empty()));
        assertThrows(IllegalStateException.class, () -> scorer.score(demo, (row, forms) -> {}, problem -> {}));
        BatchScorer another = scorer();
        another.score(demo, (row, forms) -> {}, problem -> {});
        assertThrows(IllegalStateException.class, () -> another.score(demo, (row, forms) -> {}, problem -> {}));
    }

    @Test
    void whatIsNoTableIsRefusedInItsWords() {
        BatchScorer.Rows none = rows(scorer());
        assertEquals(
                "answers: the table has no headings. Hand them in first.",
                assertThrows(UnreadableInputException.class, none::end).getMessage());
        BatchScorer.Rows rows = rows(scorer());
        assertThrows(IllegalArgumentException.class, () -> rows.row(0, HEADINGS));
    }

    /** In the long layout a second form of the same day begins where its first item is given again. */
    @Test
    void theSecondFormOfALongTableIsToldWhereItBegins() {
        List<Integer> places = new ArrayList<>();
        BatchScorer.Rows rows = scorer().rows(
                        "answers",
                        (row, forms) -> forms.stream()
                                .filter(f -> !f.responses().blank())
                                .forEach(f ->
                                        places.add(row.sitting().place().row().orElse(0))),
                        problems::add);
        rows.row(1, List.of("patient", "completed_on", "instrument", "item", "response"));
        rows.row(2, List.of("A", "2026-03-01", "nprs", "rest", "3"));
        rows.row(3, List.of("A", "2026-03-01", "nprs", "rest", "4"));
        rows.end();
        assertEquals(List.of(2, 3), places);
    }
}
