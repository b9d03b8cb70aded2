package lumbrical.instrument;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.followup.Change;
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
                Change.Verdict.values(),
                Change.Verdict::code,
                "important-improvement improvement-within-error no-important-change worsening-within-error"
                        + " important-worsening not-assessable");
        check(
                ExpectedForm.State.values(),
                ExpectedForm.State::code,
                "not-yet due overdue missed received received-not-scorable");
        check(Side.values(), Side::code, "right left both");
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
