package lumbrical.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.change.Change;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.ScoreSeries;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.number.Figures;
import lumbrical.report.html.ScaleNames;
import lumbrical.threshold.ThresholdSet;

/**
 * All that an episode has of one scale, of the treated hand or of the person.
 *
 * @param instrument the instrument, in the version of the latest form
 * @param scale the scale
 * @param hand the hand asked about; empty for a scale asked of the person
 * @param thresholds what a change is set against
 * @param baseline the baseline
 * @param entries every form by time, also those that do not count
 */
record ScaleCourse(
        Instrument instrument,
        Scale scale,
        Optional<Side> hand,
        ThresholdSet thresholds,
        Optional<AssignedScore> baseline,
        List<Entry> entries) {
    private static final Comparator<Entry> BY_TIME = Comparator.comparing(
                    (Entry e) -> e.score().form().sitting().completedOn())
            .thenComparing(
                    e -> e.score().form().sitting().time().map(Object::toString).orElse(""));

    ScaleCourse {
        entries = List.copyOf(entries);
    }

    /**
     * A form's result for the scale.
     *
     * @param score the result and its place
     * @param enteredTwice whether the form was entered twice with different answers, so that it is not used
     */
    record Entry(AssignedScore score, boolean enteredTwice) {}

    private record Key(InstrumentId instrument, ScaleId scale) {}

    /** The courses of an episode, by instrument, scales in the order of the definition; a step of another scale is left out. */
    static List<ScaleCourse> of(EpisodeFollowUp episode, ThresholdCache thresholds) {
        Map<Key, List<Entry>> byScale = new LinkedHashMap<>();
        for (AssignedForm form : episode.forms()) {
            if (form.leftOut().isPresent() && !form.contradicted()) {
                continue; // the same answers entered again, or nobody's
            }
            for (AssignedScore score : form.scores()) {
                Optional<Side> hand = score.result().hand();
                boolean ofTreated =
                        hand.isEmpty() || hand.get() == episode.episode().treatedSide();
                if (ofTreated && score.scale().reported()) {
                    byScale.computeIfAbsent(
                                    new Key(
                                            form.form().instrument().id(),
                                            score.scale().id()),
                                    k -> new ArrayList<>(8))
                            .add(new Entry(score, form.contradicted()));
                }
            }
        }
        List<ScaleCourse> courses = new ArrayList<>(byScale.size());
        byScale.forEach((key, entries) -> courses.add(course(episode, key, entries, thresholds)));
        courses.sort(Comparator.comparing((ScaleCourse c) -> c.instrument().id())
                .thenComparingInt(c -> c.instrument().position(c.scale().id())));
        return courses;
    }

    private static ScaleCourse course(
            EpisodeFollowUp episode, Key key, List<Entry> entries, ThresholdCache thresholds) {
        entries.sort(BY_TIME);
        AssignedScore latest = entries.get(entries.size() - 1).score();
        Optional<ScoreSeries> series = episode.series().stream()
                .filter(s -> s.instrument().id().equals(key.instrument())
                        && s.scale().id().equals(key.scale()))
                .findFirst();
        Instrument instrument =
                series.map(ScoreSeries::instrument).orElse(latest.form().instrument());
        Scale scale = series.map(ScoreSeries::scale).orElse(latest.scale());
        return new ScaleCourse(
                instrument,
                scale,
                latest.result().hand(),
                thresholds.of(instrument, scale, episode.condition()),
                series.flatMap(ScoreSeries::baseline),
                entries);
    }

    /** Whether a summary speaks of it. */
    boolean main() {
        return Scale.mainOf(instrument.scales()).contains(scale);
    }

    /** The last score that counts at a follow-up visit. */
    Optional<AssignedScore> lastCounted() {
        return entries.stream()
                .map(Entry::score)
                .filter(s -> s.use() == AssignedScore.Use.FOLLOW_UP)
                .reduce((a, b) -> b);
    }

    /** The latest form in the window of a follow-up visit that gave no score, if it came after the last score that counts. */
    Optional<AssignedScore> laterWithoutScore() {
        Optional<AssignedScore> counted = lastCounted();
        return entries.stream()
                .filter(e -> !e.enteredTwice())
                .map(Entry::score)
                .filter(s -> s.change().isPresent() && s.result().scored().isEmpty())
                .filter(s -> counted.isEmpty()
                        || s.form()
                                .sitting()
                                .completedOn()
                                .isAfter(counted.get().form().sitting().completedOn()))
                .reduce((a, b) -> b);
    }

    /** The last score that counts, else the baseline, else the last form at all. */
    AssignedScore latest() {
        return lastCounted().or(this::baseline).orElseGet(() -> entries.get(entries.size() - 1)
                .score());
    }

    /** The change of the last score that counts. */
    Optional<Change> lastChange() {
        return lastCounted().flatMap(AssignedScore::change).map(c -> c.change());
    }

    /** Whether a change is over the items rated both times, rather than between two scores. */
    boolean paired() {
        return instrument.facts().change().kind() == ChangeRule.Kind.PAIRED_ITEMS;
    }

    Figures figures() {
        return Figures.ofScaleWidth(scale.range().width());
    }

    /** The scale alone. */
    String scaleName() {
        return ScaleNames.alone(scale);
    }

    /** The questionnaire, the scale where the name does not say it, and the hand. */
    String name() {
        return ScaleNames.full(instrument, scale)
                + hand.map(h -> ", " + h.code() + " hand").orElse("");
    }
}
