package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import lumbrical.grip.GripRow;
import lumbrical.problem.Problem;
import lumbrical.sitting.ScoredForm;

/**
 * Everything known of a clinic's patients over time: what the workbook, the tables and the registry files are written from.
 *
 * @param asOf the day on which things are looked at
 * @param schedule the visits
 * @param episodes in the order of the input
 * @param forms every form with at least one score row or grip response, in the order of the input
 * @param placed where each form stands; a sitting of both sides stands once for each side's episode
 * @param scores every score row; a sitting of both sides stands once for each side's episode
 * @param changes follow-up scores against their baselines, by episode, instrument, scale and day
 * @param grips the functional-task profile, by sitting and episode
 * @param counts expected against received, by visit and instrument
 * @param due every expected form and how it stands, by episode and visit
 * @param problems problems and notes found while placing in time
 */
public record FollowUpResult(
        LocalDate asOf,
        Schedule schedule,
        List<Episode> episodes,
        List<ScoredForm> forms,
        List<AssignedForm> placed,
        List<AssignedScore> scores,
        List<Change> changes,
        List<GripRow> grips,
        List<VisitCount> counts,
        List<ExpectedForm> due,
        List<Problem> problems) {
    /** Copies the lists. */
    public FollowUpResult {
        episodes = List.copyOf(episodes);
        forms = List.copyOf(forms);
        placed = List.copyOf(placed);
        scores = List.copyOf(scores);
        changes = List.copyOf(changes);
        grips = List.copyOf(grips);
        counts = List.copyOf(counts);
        due = List.copyOf(due);
        problems = List.copyOf(problems);
    }
}
