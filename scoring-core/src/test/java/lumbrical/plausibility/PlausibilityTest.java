package lumbrical.plausibility;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.ItemRule;
import lumbrical.instrument.MissingRule;
import lumbrical.instrument.Provenance;
import lumbrical.instrument.Range;
import lumbrical.instrument.Standing;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.scoring.ExampleInstrument;
import lumbrical.scoring.Responses;
import lumbrical.scoring.ScoringOptions;
import lumbrical.scoring.ScoringPlan;
import lumbrical.scoring.TestInstruments;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Limits are ours; each row stands at, just below or just above one. Ten items from 1 to 5, scored 0 to 100. */
class PlausibilityTest {
    private static final Instrument TEN = TestInstruments.of(
            10,
            1,
            5,
            new ItemRule.RescaledMean(1, 25, new Provenance(Standing.PUBLISHED, "paper")),
            TestInstruments.meanOfAnswered(new MissingRule.Minimum.AtLeastPercent(40)),
            new Range(0, 100));

    private static ScoredForm form(String patient, String on, String answers) {
        double[] values = new double[10];
        Arrays.fill(values, Double.NaN);
        for (int i = 0; i < answers.length(); i++) {
            if (answers.charAt(i) != '.') {
                values[i] = answers.charAt(i) - '0';
            }
        }
        Responses responses = ExampleInstrument.responses(TEN, values);
        Sitting sitting = new Sitting(
                patient,
                LocalDate.parse(on),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Optional.empty(),
                Place.of("visits.csv", 2));
        return new ScoredForm(
                sitting,
                TEN,
                responses,
                ScoringPlan.of(TEN, new ScoringOptions(false, false)).score(responses, Optional.empty()));
    }

    private static List<String> codes(ScoredForm... forms) {
        List<String> codes = new ArrayList<>();
        for (Problem note : Plausibility.notes(List.of(forms))) {
            codes.add(note.code().code());
        }
        return codes;
    }

    @ParameterizedTest
    @CsvSource({
        "3333333333, note-same-answer-throughout",
        "33333....., note-same-answer-throughout",
        "3333......, ''",
        "3333333332, ''",
        "1111111111, note-same-answer-throughout",
        ".........., ''"
    })
    void saysThatAllAnswersAreTheSameFromFiveOn(String answers, String expected) {
        assertEquals(String.join(",", codes(form("P1", "2026-01-01", answers))), expected);
    }

    /** By hand, (mean - 1) x 25: 11/10 is 2.5, 39/10 is 72.5, 41/10 is 77.5, just 75 more, 42/10 is 80. */
    @ParameterizedTest
    @CsvSource({
        "1111111112, 4444444455, 2026-01-15, note-large-change-in-short-time",
        "1111111112, 4444444455, 2026-01-16, ''",
        "1111111112, 4444444445, 2026-01-15, ''",
        "1111111112, 4444444443, 2026-01-01, ''",
        "4444444455, 1111111112, 2026-01-15, note-large-change-in-short-time"
    })
    void saysThatAScoreChangedByMoreThanThreeQuartersWithinFourteenDays(
            String first, String second, String on, String expected) {
        assertEquals(expected, String.join(",", codes(form("P1", "2026-01-01", first), form("P1", on, second))));
    }

    @Test
    void comparesOnlyTheSamePatientWithTheSittingBefore() {
        assertEquals(List.of(), codes(form("P1", "2026-01-01", "1111111112"), form("P2", "2026-01-02", "5555555554")));
        assertEquals(
                List.of("note-large-change-in-short-time"),
                codes(
                        form("P1", "2026-01-01", "1111111112"),
                        form("P1", "2026-01-02", "1112111112"),
                        form("P1", "2026-01-03", "5555555554")));
    }

    /** Three sittings in a course up, down and up, of which the list has the middle one first: both changes are told, each of the later. */
    @Test
    void comparesWithTheSittingBeforeInTimeWhereverItStands() {
        List<Problem> notes = Plausibility.notes(List.of(
                form("P1", "2026-01-10", "4444444455"),
                form("P1", "2026-01-01", "1111111112"),
                form("P1", "2026-01-12", "1111111112")));
        assertEquals(
                List.of("within 9 days", "within 2 days"),
                notes.stream()
                        .map(n -> n.advice().replaceFirst("(?s).*(within \\d+ days).*", "$1"))
                        .toList());
    }

    /** Code 1 of item 1 skips the others of that hand; their best code is 0. */
    @ParameterizedTest
    @CsvSource({
        "1 . . 1 . ., ''",
        "1 0 0 . . ., ''",
        "1 3 . . . ., example10_1_right 1 further item tells",
        "1 3 2 . . ., example10_1_right 2 further items tell",
        "0 3 2 . . ., ''",
        "0 3 2 1 0 1, example10_1_left 1 further item tells",
        "1 . . 0 3 2, ''",
        "1 9 . . . ., ''"
    })
    void answersThatContradictASkipAreTold(String answers, String expected) {
        Instrument hands = ExampleInstrument.called("example10")
                .itemPerHand("1", ExampleInstrument.codes(0, 1))
                .itemPerHand("2", ExampleInstrument.codes(0, 3))
                .itemPerHand("3", ExampleInstrument.codes(0, 3))
                .scale(
                        "total",
                        new ItemRule.Sum(1, ExampleInstrument.PUBLISHED),
                        ExampleInstrument.noneMissing(),
                        new Range(0, 7))
                .skip("1", 1, 0, ExampleInstrument.PUBLISHED)
                .build();
        Responses.Builder builder = Responses.builder(hands);
        String[] given = answers.split(" ");
        for (int i = 0; i < given.length; i++) {
            String name = "example10_" + (i % 3 + 1) + (i < 3 ? "_right" : "_left");
            if (!given[i].equals(".")) {
                builder.answer(hands.column(name).orElseThrow().index(), Double.parseDouble(given[i]));
            }
        }
        Responses responses = builder.build();
        ScoredForm form = new ScoredForm(
                form("P1", "2026-01-01", "1").sitting(),
                hands,
                responses,
                ScoringPlan.of(hands, new ScoringOptions(false, false)).score(responses, Optional.empty()));
        String told = Plausibility.notes(List.of(form)).stream()
                .map(n -> n.code().code().equals("note-answers-after-skip")
                        ? n.advice().replaceFirst(".*answer to (\\S+) .*, but (.* tells?) of.*", "$1 $2")
                        : "")
                .collect(java.util.stream.Collectors.joining());
        assertEquals(expected, told);
    }
}
