package lumbrical.followup;

import java.time.LocalDate;
import java.util.List;
import java.util.stream.Stream;
import lumbrical.grip.GripRow;
import lumbrical.problem.Problem;

/**
 * Everything known of a clinic's patients over time: what the workbook, the tables, the pages and the registry files are written
 * from.
 *
 * @param asOf the day on which things are looked at
 * @param schedule the visits
 * @param episodes in the order of the input
 * @param forms every form with at least one answer or score row, in the order of the input; one of a sitting of both sides stands
 *     once for each side's episode
 * @param grips the functional-task profile, by sitting and episode, of unassigned sittings too
 * @param counts expected against received, by visit and instrument
 * @param problems problems and notes found while placing in time
 */
public record FollowUpResult(
        LocalDate asOf,
        Schedule schedule,
        List<EpisodeFollowUp> episodes,
        List<PlacedForm> forms,
        List<GripRow> grips,
        List<VisitCount> counts,
        List<Problem> problems) {
    /** Copies the lists. */
    public FollowUpResult {
        episodes = List.copyOf(episodes);
        forms = List.copyOf(forms);
        grips = List.copyOf(grips);
        counts = List.copyOf(counts);
        problems = List.copyOf(problems);
    }

    /** Changes by episode, instrument, scale and time. */
    public Stream<ChangeRow> changes() {
        return episodes.stream().flatMap(EpisodeFollowUp::changes);
    }

    /** Every expected form and how it stands, by episode and visit. */
    public Stream<ExpectedForm> expected() {
        return episodes.stream().flatMap(e -> e.expected().stream());
    }
}
