package lumbrical.columns;

import static lumbrical.columns.InventedClinic.INDEX;
import static lumbrical.columns.InventedClinic.SIX_WEEKS;
import static lumbrical.columns.InventedClinic.all;
import static lumbrical.columns.InventedClinic.cells;
import static lumbrical.columns.InventedClinic.expecting;
import static lumbrical.columns.InventedClinic.line;
import static org.junit.jupiter.api.Assertions.assertEquals;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.cohort.CohortAnalysis;
import lumbrical.cohort.CohortRequest;
import lumbrical.followup.CallList;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.VisitCount;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.Reason;
import lumbrical.threshold.ThresholdChoice;
import org.junit.jupiter.api.Test;

/** Expected against received, whom to call and what to ask: sections 3, 8 and 14 of the formats, counted by hand. */
class FollowUpColumnsTest {
    /**
     * Seven episodes of which the quickDASH is expected. At six weeks (days 28 to 59, past on day 91): P1 sent a form that can be scored,
     * P2 one of nine items, P3 none, P4 was closed on day 10, P5 was treated on 2026-05-20 (12 days ago, the window opens on day 28), P6
     * was treated on 2026-04-25 (37 days ago, the window is open), P7 sent the form twice with different answers.
     */
    private static FollowUpResult clinic() {
        return new InventedClinic()
                .episode("P1", expecting("quickdash"))
                .episode("P2", expecting("quickdash"))
                .episode("P3", expecting("quickdash"))
                .episode("P4", b -> expecting("quickdash")
                        .apply(b)
                        .closure(Optional.of(new Episode.Closure(INDEX.plusDays(10), "moved"))))
                .episode("P5", b -> expecting("quickdash").apply(b).indexDate(LocalDate.of(2026, 5, 20)))
                .episode("P6", b -> expecting("quickdash", "prwe").apply(b).indexDate(LocalDate.of(2026, 4, 25)))
                .episode("P7", expecting("quickdash"))
                .on("P1", 42)
                .quickdash(all(2, 11))
                .on("P2", 50)
                .quickdash(all(2, 9))
                .on("P7", 42)
                .quickdash(all(2, 11))
                .quickdash(all(3, 11))
                .on("P1", 70)
                .quickdash(all(2, 11))
                .analyse();
    }

    private static List<String> counts(FollowUpResult clinic) {
        return clinic.counts().stream()
                .map(row -> line(FollowUpColumns.TABLE, row))
                .toList();
    }

    /**
     * visit, instrument, expected, received, per cent, scorable; too-few-answered, response-not-allowed, no-answers, part-not-scored,
     * rule-not-published; outside window, closed, not yet, entered twice.
     */
    @Test
    void expectedFormsAreCountedByWhatBecameOfThem() {
        assertEquals(
                List.of(
                        "baseline|prwe|1|0|0|0|0|0|0|0|0|0|0|0|0",
                        // all seven baselines are over or open (P5 and P6 were treated); none came
                        "baseline|quickdash|7|0|0|0|0|0|0|0|0|0|0|0|0",
                        "6 weeks|prwe|1|0|0|0|0|0|0|0|0|0|0|0|0",
                        // P1, P2, P3, P6, P7 expected; P1, P2, P7 came: 3 / 5; the form of day 70 lies nearest to this
                        // visit
                        "6 weeks|quickdash|5|3|60|1|1|0|0|0|0|1|1|1|1"),
                counts(clinic()));
    }

    @Test
    void ofNothingExpectedThereIsNoPercentage() {
        VisitCount none = new VisitCount(
                SIX_WEEKS, new InstrumentId("prwe"), 0, 0, 3, 0, 0, Map.of(Reason.PART_NOT_SCORED, 2), 0, 4);
        assertEquals("6 weeks|prwe|0|0||0|0|0|0|2|0|4|0|3|0", line(FollowUpColumns.TABLE, none));
    }

    /** P6: 2026-04-25 + 28 is May 23, + 42 June 6, + 59 June 23, which is 22 days after June 1. */
    @Test
    void whoIsDueIsListedWithTheDaysOfTheWindow() {
        assertEquals(
                List.of("P6|E6|right|6 weeks|2026-05-23|2026-06-06|2026-06-23|open|quickdash prwe|22"),
                CallList.of(clinic(), CallList.Selection.NOW).stream()
                        .map(row -> line(DueColumns.TABLE, row))
                        .toList());
    }

    /** 2026-03-02 + 28 is March 30, + 42 April 13, + 59 April 30, 32 days before June 1; P5: 2026-05-20 + 59 is July 18. */
    @Test
    void everyStateHasItsWord() {
        assertEquals(
                List.of(
                        "P1|6 weeks|2026-04-30|done|quickdash|-32",
                        "P2|6 weeks|2026-04-30|incomplete|quickdash|-32",
                        "P3|6 weeks|2026-04-30|missed|quickdash|-32",
                        "P7|6 weeks|2026-04-30|incomplete|quickdash|-32",
                        "P6|6 weeks|2026-06-23|open|quickdash prwe|22",
                        "P5|6 weeks|2026-07-18|not-yet|quickdash|47"),
                CallList.of(clinic(), CallList.Selection.ALL).stream()
                        .filter(row -> row.visit().equals(SIX_WEEKS))
                        .map(row -> cells(
                                DueColumns.TABLE, row, "patient", "visit", "closes", "state", "forms", "days_left"))
                        .toList());
    }

    /** P2 left items 10 and 11 blank; the words are our own topic labels of the definition. */
    @Test
    void theItemsToAskForAreNamed() {
        assertEquals(
                List.of("P2|E2|6 weeks|2026-04-30|quickdash|10 tingling; 11 sleep difficulty"),
                clinic().expected()
                        .filter(form -> !form.blankItems().isEmpty())
                        .map(form -> line(BlankItemColumns.TABLE, form))
                        .toList());
    }

    /**
     * group by, group, instrument, visit; episodes, not yet, closed, expected, received, scorable, paired; the five reasons; entered
     * twice.
     */
    @Test
    void theFlowOfAGroupCountsTheSameForms() {
        List<String> rows = CohortAnalysis.of(
                        clinic(),
                        ThresholdChoice.DEFAULTS,
                        CohortRequest.builder().by(List.of()).build(),
                        InventedClinic.CATALOGUE::find)
                .standing()
                .flow()
                .stream()
                .map(row -> line(FlowColumns.TABLE, row))
                .toList();
        assertEquals(
                List.of(
                        "all|all|prwe|baseline|7|0|0|1|0|0||0|0|0|0|0|0",
                        "all|all|prwe|6 weeks|7|0|0|1|0|0|0|0|0|0|0|0|0",
                        "all|all|quickdash|baseline|7|0|0|7|0|0||0|0|0|0|0|0",
                        // P1 can be scored, but has no baseline to be set against; P2 has nine items, P7 was entered
                        // twice
                        "all|all|quickdash|6 weeks|7|1|1|5|3|1|0|1|0|0|0|0|1"),
                rows);
    }

    /** griptasks: 0 to 4 is 0 to 100; quickDASH jar (1 to 5): (3 - 1) / 4 x 100 = 50; PRWE doorknob (0 to 10): 10 is 100. */
    @Test
    void gripsOfEachHandAndOfThePersonHaveRowsOfTheirOwn() {
        assertEquals(
                List.of(
                        "P1|E1|right|2026-04-13|6 weeks|key|50|1|1|griptasks_key",
                        "P1|E1|right|2026-04-13|6 weeks|power|100|1|1|griptasks_power",
                        // item 8 (buttons) 5 of 10
                        "P1|E1||2026-04-13|6 weeks|pinch|50|1|1|prwe_8",
                        // (50 + 100) / 2
                        "P1|E1||2026-04-13|6 weeks|power|75|2|2|quickdash_1 prwe_6"),
                new InventedClinic()
                                .episode("P1", "invented")
                                .on("P1", 42)
                                .form("griptasks", "key_right=2 power_right=4")
                                .quickdash(3)
                                .form("prwe", "6=10 8=5")
                                .analyse()
                                .grips()
                                .stream()
                                .map(row -> line(GripColumns.TABLE, row))
                                .toList());
    }

    /** The jar of the quickDASH is answered, the doorknob of the PRWE is not: two items of that grip, of which one. */
    @Test
    void anItemOfAGripThatIsNotAnsweredIsCountedAndNotAveraged() {
        assertEquals(
                List.of("P1|E1||2026-04-13|6 weeks|power|50|2|1|quickdash_1"),
                new InventedClinic()
                                .episode("P1", "invented")
                                .on("P1", 42)
                                .quickdash(3)
                                .form("prwe", "1=5")
                                .analyse()
                                .grips()
                                .stream()
                                .map(row -> line(GripColumns.TABLE, row))
                                .toList());
    }

    @Test
    void aProblemSaysWhereItStands() {
        assertEquals(
                "visits.csv|12|dash_3|7|response-not-allowed|Allowed responses are 1 to 5.",
                line(
                        ProblemColumns.TABLE,
                        new Problem(
                                Place.of("visits.csv", 12).in("dash_3"),
                                "7",
                                ProblemCode.RESPONSE_NOT_ALLOWED,
                                "Allowed responses are 1 to 5.")));
        assertEquals(
                "visits.csv||||note-forms-not-known|Name the forms.",
                line(
                        ProblemColumns.TABLE,
                        new Problem(Place.of("visits.csv"), "", ProblemCode.NOTE_FORMS_NOT_KNOWN, "Name the forms.")));
    }
}
