package lumbrical.batch;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import lumbrical.catalogue.Catalogue;
import lumbrical.intake.ReadOptions;
import lumbrical.problem.Problem;
import lumbrical.scoring.ScoringOptions;
import lumbrical.sitting.ScoredForm;
import lumbrical.tabular.Input;
import lumbrical.tabular.ProgressListener;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Where every row went: rows read = scored + nothing to score + rejected (section 6 of the formats), counted by hand. */
class ReconciliationTest {
    private static final String BLANK =
            "questionnaires left blank on these rows (each instrument of the file counts by itself) ";

    @TempDir
    private Path folder;

    private final List<Problem> problems = new ArrayList<>();
    private final List<String> rows = new ArrayList<>();

    private Input file(String name, String... lines) throws IOException {
        return new Input(Files.write(folder.resolve(name), List.of(lines)), Optional.empty());
    }

    private ScoringCounts score(ScoringOptions options, Input... inputs) {
        return new BatchScorer(Catalogue.builtIn(), ReadOptions.asOf(LocalDate.of(2026, 11, 25)), options)
                .score(List.of(inputs), (row, forms) -> forms.forEach(this::keep), problems::add);
    }

    private ScoringCounts score(Input... inputs) {
        return score(ScoringOptions.AS_DEFINED, inputs);
    }

    private void keep(ScoredForm form) {
        form.results()
                .forEach(r -> rows.add(
                        form.sitting().patient() + " " + form.instrument().id() + " " + r.scale() + " "
                                + r.scored().map(s -> String.valueOf(s.value())).orElseGet(() -> r.reason()
                                        .orElseThrow()
                                        .code())));
    }

    /** P1 is scored, P2 has a response that is not allowed (a score row all the same), P3 answered nothing, the last has no day. */
    @Test
    void everyRowOfAWideTableIsCountedOnce() throws IOException {
        ScoringCounts counts = score(file(
                "t.csv",
                "patient,completed_on,grc_1,nprs_rest",
                "P1,2026-03-09,5,3",
                "P2,2026-03-09,9,",
                "P3,2026-03-09,,",
                ",,,",
                "P4,,5,3"));
        assertEquals("rows read 4 = scored 2 + nothing to score 1 + rejected 1", counts.reconciliation());
        assertEquals(
                "score rows: complete 2, with-missing 0, not-scored 1; questionnaires left blank on these rows (each instrument of the file counts by itself) 3",
                counts.outcomeLine());
        assertEquals(3, counts.sittings());
        assertEquals(List.of("P1 grc total 5.0", "P1 nprs rest 3.0", "P2 grc total response-not-allowed"), rows);
    }

    /** In the long layout a row is a response; one that is named and blank gives a row without a score. */
    @Test
    void everyRowOfALongTableIsCountedOnce() throws IOException {
        ScoringCounts counts = score(file(
                "t.csv",
                "patient,completed_on,instrument,item,response",
                "P1,2026-03-09,nprs,rest,3",
                "P1,2026-03-09,nprs,worst,",
                "P1,2026-03-09,grc,1,2",
                "P2,2026-03-09,grc,1,",
                "P2,2026-03-09,quickdash,work_1,",
                "P3,2026-03-09,grc,2,1"));
        assertEquals("rows read 6 = scored 5 + nothing to score 0 + rejected 1", counts.reconciliation());
        assertEquals(2, counts.sittings());
        assertEquals(
                List.of(
                        "P1 grc total 2.0",
                        "P1 nprs rest 3.0",
                        "P1 nprs worst no-answers",
                        "P2 grc total no-answers",
                        // the form is named, and so is its module
                        "P2 quickdash total no-answers",
                        "P2 quickdash work no-answers"),
                rows);
    }

    @Test
    void severalFilesAreCountedTogether() throws IOException {
        ScoringCounts counts = score(
                file("a.csv", "patient,completed_on,grc_1", "P1,2026-03-09,5"),
                file("b.csv", "patient,completed_on,instrument,item,response", "P1,2026-03-09,nprs,rest,3"));
        assertEquals("rows read 2 = scored 2 + nothing to score 0 + rejected 0", counts.reconciliation());
        assertEquals(2, counts.read().files().size());
    }

    /** PRWE pain: the rule for an unanswered item is from memory; complete, it is not used. */
    @Test
    void oneNoteTellsWhichInstrumentsUsedARuleFromMemory() throws IOException {
        String header = "patient,completed_on,prwe_1,prwe_2,prwe_3,prwe_4,prwe_5";
        score(file("a.csv", header, "P1,2026-03-09,1,1,1,1,1"));
        assertEquals(0, memoryNotes().size());
        score(file("a.csv", header, "P1,2026-03-09,1,1,1,1,", "P2,2026-03-09,1,1,1,1,"));
        assertEquals(
                List.of(
                        "Rules from memory were used for prwe. Check them against the manual before you rely on these scores."),
                memoryNotes());
        problems.clear();
        score(new ScoringOptions(false, true), file("a.csv", header, "P1,2026-03-09,1,1,1,1,"));
        assertEquals(0, memoryNotes().size(), "where only published rules count");
    }

    private List<String> memoryNotes() {
        return problems.stream()
                .filter(p -> p.code().code().equals("note-rule-from-memory"))
                .map(Problem::advice)
                .toList();
    }

    @Test
    void aFormThatWasAskedForAndIsBlankGivesARowWithoutAScore() throws IOException {
        ScoringCounts counts = new BatchScorer(
                        Catalogue.builtIn(),
                        ReadOptions.asOf(LocalDate.of(2026, 11, 25)),
                        ScoringOptions.AS_DEFINED,
                        (sitting, instrument) -> sitting.patient().equals("P1")
                                && instrument.value().equals("grc"))
                .score(
                        List.of(file(
                                "t.csv", "patient,completed_on,grc_1,nprs_rest", "P1,2026-03-09,,", "P2,2026-03-09,,")),
                        (row, forms) -> forms.forEach(this::keep),
                        problems::add);
        assertEquals(List.of("P1 grc total no-answers"), rows);
        assertEquals("rows read 2 = scored 1 + nothing to score 1 + rejected 0", counts.reconciliation());
    }

    @Test
    void whoListensIsToldOfEachSitting() throws IOException {
        List<String> told = new ArrayList<>();
        ScoringProgressListener watch = new ScoringProgressListener() {
            @Override
            public void read(Input input, long rows, double share) {
                told.add("read " + rows);
            }

            @Override
            public void begins() {
                told.add("begins");
            }

            @Override
            public void ends() {
                told.add("ends");
            }
        };
        new BatchScorer(Catalogue.builtIn(), ReadOptions.asOf(LocalDate.of(2026, 11, 25)), ScoringOptions.AS_DEFINED)
                .score(
                        List.of(file("t.csv", "patient,completed_on,grc_1", "P1,2026-03-09,5", "P2,2026-03-09,5")),
                        (row, forms) -> told.add(row.sitting().patient()),
                        problems::add,
                        watch);
        assertEquals(List.of("begins", "ends", "P1", "begins", "ends", "P2", "read 2"), told);
        List<Long> rowsRead = new ArrayList<>();
        ProgressListener plain = (input, rows, share) -> rowsRead.add(rows);
        ScoringProgressListener.of(plain).read(new Input(folder, Optional.empty()), 7, 0.5);
        assertEquals(List.of(7L), rowsRead);
    }
}
