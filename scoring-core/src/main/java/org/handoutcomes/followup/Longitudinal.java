package org.handoutcomes.followup;

import java.time.LocalDate;
import java.util.List;
import org.handoutcomes.problem.Problem;

/**
 * Everything known of a clinic's patients over time: what the workbook, the tables and the registry files are written from.
 *
 * @param asOf the day on which things are looked at
 * @param schedule the visits
 * @param episodes in the order of the input
 * @param forms every form with at least one score row or grip response, in the order of the input
 * @param scores every score row; a sitting of both sides stands once for each side's episode
 * @param changes follow-up scores against their baselines, by episode, instrument, scale and day
 * @param counts expected against received, by visit and instrument
 * @param problems problems and notes found while placing in time
 */
public record Longitudinal(
        LocalDate asOf,
        Schedule schedule,
        List<Episode> episodes,
        List<ScoredForm> forms,
        List<PlacedScore> scores,
        List<Change> changes,
        List<VisitCount> counts,
        List<Problem> problems) {
    /** Copies the lists. */
    public Longitudinal {
        episodes = List.copyOf(episodes);
        forms = List.copyOf(forms);
        scores = List.copyOf(scores);
        changes = List.copyOf(changes);
        counts = List.copyOf(counts);
        problems = List.copyOf(problems);
    }
}
