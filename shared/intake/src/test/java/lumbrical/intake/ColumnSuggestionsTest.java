package lumbrical.intake;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import lumbrical.tabular.Input;
import lumbrical.tabular.UnreadableInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a clinic's headings may mean, for a person to review. */
class ColumnSuggestionsTest {
    @TempDir
    private Path folder;

    private ColumnSuggestions.Suggestions of(String... lines) {
        return ColumnSuggestions.of(
                new Input(ReadTable.write(folder, "t.csv", lines), Optional.empty()),
                Optional.empty(),
                ReadTable.CATALOGUE);
    }

    private List<String> guesses(String header) {
        return of(header).headings().stream()
                .map(g -> g.heading() + " -> " + g.column() + " " + g.state())
                .toList();
    }

    @Test
    void aHeadingOfOursIsKnown() {
        assertEquals(
                List.of(
                        "patient -> patient KNOWN",
                        "quickdash_3 -> quickdash_3 KNOWN",
                        "quickdash total score -> quickdash total score KNOWN"),
                guesses("Patient,QuickDASH_3,quickdash total score"));
    }

    @Test
    void anItemIsGuessedByInstrumentAndNumberWhateverStandsBetween() {
        assertEquals(
                List.of(
                        "quickdash item 03 -> quickdash_3 GUESSED",
                        "quickdash-q4 -> quickdash_4 GUESSED",
                        "quickdash.5 -> quickdash_5 GUESSED",
                        "quickdsh_6 -> quickdash_6 GUESSED",
                        "mhq pain 1 r -> mhq_pain_1_right GUESSED",
                        "mhq_pain_1_lt -> mhq_pain_1_left GUESSED"),
                guesses("QuickDASH item 03,quickdash-Q4,quickdash.5,quickdsh_6,MHQ Pain 1 R,mhq_pain_1_lt"));
    }

    @Test
    void aUsualWordForAColumnOfTheSittingIsGuessed() {
        assertEquals(
                List.of(
                        "study id -> patient GUESSED",
                        "date completed -> completed_on GUESSED",
                        "affected hand -> side GUESSED",
                        "filled in by -> respondent GUESSED",
                        "lang -> language GUESSED"),
                guesses("Study ID,Date completed,Affected hand,Filled in by,Lang"));
    }

    @Test
    void aColumnIsGuessedOnceAndNeverOneThatIsThere() {
        assertEquals(
                List.of(
                        "patient -> patient KNOWN",
                        "study id ->  TO_FILL_IN",
                        "grc 1 -> grc_1 GUESSED",
                        "grc item 1 ->  TO_FILL_IN",
                        "weight ->  TO_FILL_IN"),
                guesses("patient,study id,grc 1,grc item 1,weight,,weight"));
        assertEquals(List.of("x".repeat(60) + "... ->  TO_FILL_IN"), guesses("x".repeat(61)));
    }

    @Test
    void theRowWithMostMeaningIsTakenForTheHeader() {
        ColumnSuggestions.Suggestions found =
                of("Forms of May", "", "Study ID,Date,grc 1", "P1,2026-03-09,5", "P2,2026-03-09,4");
        assertEquals(
                List.of("study id", "date", "grc 1"),
                found.in(ColumnSuggestions.State.GUESSED).stream()
                        .map(ColumnSuggestions.Guess::heading)
                        .toList());
        assertEquals(List.of(), found.in(ColumnSuggestions.State.TO_FILL_IN));
        assertEquals(
                "title",
                of("title", "a", "b", "c", "d", "e", "f", "g", "h", "i", "patient")
                        .headings()
                        .get(0)
                        .heading(),
                "the eleventh row is not looked at");
    }

    @Test
    void theStatesAreSaidInWords() {
        assertEquals("known", ColumnSuggestions.State.KNOWN.words());
        assertEquals("guessed, to review", ColumnSuggestions.State.GUESSED.words());
        assertEquals("to fill in, or leave blank if it is no response", ColumnSuggestions.State.TO_FILL_IN.words());
    }

    @Test
    void aFileThatIsNoTableIsRefused() {
        assertEquals(
                "none.csv: there is no such file. Check the name and the folder.",
                assertThrows(
                                UnreadableInputException.class,
                                () -> ColumnSuggestions.of(
                                        new Input(folder.resolve("none.csv"), Optional.empty()),
                                        Optional.empty(),
                                        ReadTable.CATALOGUE))
                        .getMessage());
    }
}
