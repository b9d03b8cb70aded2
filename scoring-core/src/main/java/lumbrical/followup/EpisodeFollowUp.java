package lumbrical.followup;

import java.util.List;
import java.util.stream.Stream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.grip.GripRow;
import lumbrical.instrument.InstrumentId;
import lumbrical.problem.ProblemCode;

/**
 * All that is known of one episode.
 *
 * @param episode the episode
 * @param condition what its condition is, by the vocabulary
 * @param forms its forms, in the order of the input
 * @param series its scores by instrument and scale
 * @param grips its functional-task profile, by sitting
 * @param expected every expected form and how it stands, by visit
 */
public record EpisodeFollowUp(
        Episode episode,
        EpisodeCondition condition,
        List<AssignedForm> forms,
        List<ScoreSeries> series,
        List<GripRow> grips,
        List<ExpectedForm> expected) {
    /** Copies the lists. */
    public EpisodeFollowUp {
        forms = List.copyOf(forms);
        series = List.copyOf(series);
        grips = List.copyOf(grips);
        expected = ExpectedForms.copyOf(expected);
    }

    /** Forms that came: with an answer and not left out, also those entered twice with different answers. */
    public Stream<AssignedForm> received() {
        return forms.stream()
                .filter(f ->
                        f.leftOut().isEmpty() || f.contradicted() && f.leftOut().get() == ProblemCode.DUPLICATE_SITTING)
                .filter(f -> !f.form().responses().blank());
    }

    /**
     * The instruments asked for at a visit: those of the schedule's visit, else those of the episode, else those that its baseline
     * window had.
     */
    public List<InstrumentId> asked(Visit visit) {
        return visit.formsOr(askedThroughout());
    }

    /** The instruments asked for at each visit for which the schedule names none. */
    public List<InstrumentId> askedThroughout() {
        return episode.forms().isEmpty()
                ? received()
                        .filter(f -> f.at().inRole(Visit.Role.BASELINE))
                        .map(f -> f.form().instrument().id())
                        .distinct()
                        .sorted()
                        .toList()
                : episode.forms();
    }

    /** Its changes, by instrument, scale and time. */
    public Stream<ChangeRow> changes() {
        return series.stream().flatMap(ScoreSeries::changes);
    }
}
