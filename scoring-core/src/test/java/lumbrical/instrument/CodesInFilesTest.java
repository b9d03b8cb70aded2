package lumbrical.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.change.BeyondError;
import lumbrical.change.ReachesMcid;
import lumbrical.change.Verdict;
import lumbrical.change.VerdictReason;
import lumbrical.followup.ExpectedForm;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.Reason;
import lumbrical.scoring.ScoreResult;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** The words written to files and definitions, which never change; taken from docs/definitions.md and the formats of files. */
class CodesInFilesTest {
    private static <E> void check(E[] values, Function<E, String> code, String expected) {
        assertEquals(
                List.of(expected.split(" ")), Arrays.stream(values).map(code).toList());
    }

    @Test
    void wordsOfDefinitions() {
        check(Standing.values(), Standing::code, "published second-hand from-memory ours");
        check(Metric.values(), Metric::code, "sum mean 0-100 percent t-score rating");
        check(Grip.values(), Grip::code, "key pinch precision power hook cylindrical");
        check(AnsweredFor.values(), AnsweredFor::code, "person treated-side hand");
        check(ChangeRule.Kind.values(), ChangeRule.Kind::code, "difference paired-items none");
        check(Threshold.Kind.values(), Threshold.Kind::code, "mcid mdc sem pass norm icc alpha retest-r kappa es srm");
        check(Threshold.Group.values(), Threshold.Group::code, "hand-wrist upper-limb shoulder low-back other");
        check(MissingRule.StatedBy.values(), MissingRule.StatedBy::code, "manual paper convention");
        check(Direction.values(), Direction::code, "lower higher");
    }

    @Test
    void wordsOfScoreAndChangeRows() {
        check(ScoreResult.Outcome.values(), ScoreResult.Outcome::code, "complete with-missing not-scored");
        check(
                Reason.values(),
                Reason::code,
                "too-few-answered response-not-allowed no-answers part-not-scored rule-not-published");
        check(
                Verdict.values(),
                Verdict::code,
                "important-improvement improvement-within-error small-improvement no-important-change small-worsening"
                        + " worsening-within-error important-worsening not-assessable");
        check(
                VerdictReason.values(),
                VerdictReason::code,
                "no-baseline not-scored different-versions no-mcid too-early");
        check(BeyondError.values(), BeyondError::code, "yes no unknown");
        check(ReachesMcid.values(), ReachesMcid::code, "improved worsened no unknown");
        check(ExpectedForm.State.values(), ExpectedForm.State::code, "done incomplete closed not-yet open late missed");
        check(Side.values(), Side::code, "right left both");
    }

    /** As section 7 of the formats has people read them. */
    @Test
    void wordsOfVerdictsForPeople() {
        assertEquals(
                List.of(
                        "important improvement",
                        "improved by the MCID, but within measurement error",
                        "real improvement, smaller than the MCID",
                        "no important change",
                        "real worsening, smaller than the MCID",
                        "worsened by the MCID, but within measurement error",
                        "important worsening",
                        "not assessable"),
                Arrays.stream(Verdict.values()).map(Verdict::words).toList());
        assertEquals(
                List.of(
                        "there is no baseline score",
                        "there is no follow-up score to set against it",
                        "the two scores come from different versions of the questionnaire's definition",
                        "no smallest important change is known",
                        "it is too early to judge"),
                Arrays.stream(VerdictReason.values()).map(VerdictReason::words).toList());
    }

    /** Section 2 of the formats; of the long layout a row whose instrument or item is not known; a form that is no readable JSON; rows between two stray quotes. */
    @Test
    void someProblemsRejectTheirRow() {
        assertEquals(
                List.of(
                        "patient-missing",
                        "date-missing",
                        "date-not-iso",
                        "too-many-cells",
                        "instrument-not-known",
                        "item-not-known",
                        "form-not-readable",
                        "rows-in-a-cell"),
                Arrays.stream(ProblemCode.values())
                        .filter(ProblemCode::rejectsRow)
                        .map(ProblemCode::code)
                        .toList());
    }

    @Test
    void everyNoteSaysSo() {
        for (ProblemCode code : ProblemCode.values()) {
            assertEquals(code.code().startsWith("note-"), code.isNote(), code.code());
        }
        assertEquals("date-not-iso", ProblemCode.DATE_NOT_ISO.code());
        assertEquals("note-same-answer-throughout", ProblemCode.NOTE_SAME_ANSWER_THROUGHOUT.code());
    }

    @ParameterizedTest
    @CsvSource({
        "right, RIGHT",
        "R, RIGHT",
        "Left, LEFT",
        "l, LEFT",
        "BOTH, BOTH",
        "b, BOTH",
        "middle, ",
        "'', ",
        "rechts, "
    })
    void aSideIsAWordOrItsFirstLetter(String text, Side side) {
        assertEquals(Optional.ofNullable(side), Side.parse(text));
    }

    @ParameterizedTest
    @CsvSource({
        "RIGHT, RIGHT, true",
        "RIGHT, LEFT, false",
        "LEFT, LEFT, true",
        "LEFT, RIGHT, false",
        "BOTH, RIGHT, true",
        "BOTH, LEFT, true"
    })
    void bothTakesInEitherHand(Side side, Side hand, boolean included) {
        assertEquals(included, side.includes(hand));
    }
}
