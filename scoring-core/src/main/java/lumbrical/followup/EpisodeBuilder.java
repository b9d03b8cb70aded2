package lumbrical.followup;

import java.time.LocalTime;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import lumbrical.condition.EpisodeCondition;
import lumbrical.grip.GripRow;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Column;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;

/** Gathers the forms of one episode, then picks baselines and visits and judges change. */
final class EpisodeBuilder {
    private static final Comparator<Candidate> BY_TIME = Comparator.comparing(
                    (Candidate c) -> c.form().sitting().completedOn())
            .thenComparing(c -> c.form().sitting().time().orElse(LocalTime.MIN));

    private final int number;
    private final Episode episode;
    private final Schedule schedule;
    private final ThresholdSets thresholds;
    private final EpisodeCondition condition;
    private List<Waiting> waiting = new ArrayList<>(4);
    private final List<GripRow> grips = new ArrayList<>();
    private final List<Problem> problems = new ArrayList<>();
    private final Set<String> noted = new HashSet<>();
    private List<AssignedForm> forms = List.of();

    /** A form that waits to be judged. */
    private record Waiting(ScoredForm form, VisitAssignment at, Optional<ProblemCode> leftOut, boolean contradicted) {}

    /** A form that is being judged, and room for its scores. */
    private record Pending(
            ScoredForm form,
            VisitAssignment at,
            Optional<ProblemCode> leftOut,
            boolean contradicted,
            List<AssignedScore> scores) {}

    /** A score that may count. */
    private record Candidate(Pending pending, int position, Scale scale, ScoreResult result) {
        ScoredForm form() {
            return pending.form();
        }

        VisitAssignment at() {
            return pending.at();
        }

        boolean scorable() {
            return result.scored().isPresent();
        }

        /** As it is listed, until it is kept for a use. */
        AssignedScore listed() {
            return pending.scores().get(position);
        }

        AssignedScore keep(AssignedScore.Use use, Optional<AssessedChange> change) {
            AssignedScore score = new AssignedScore(form(), at(), scale, result, use, change);
            pending.scores().set(position, score);
            return score;
        }
    }

    /** @param number of the episode among those of the clinic, from 0 */
    EpisodeBuilder(int number, Episode episode, Schedule schedule, ThresholdSets thresholds) {
        this.number = number;
        this.episode = episode;
        this.schedule = schedule;
        this.thresholds = thresholds;
        this.condition = thresholds.condition(episode.condition());
    }

    /** Adds a form; its position in this episode. */
    int add(ScoredForm form, VisitAssignment at, Optional<ProblemCode> leftOut, boolean contradicted) {
        waiting.add(new Waiting(form, at, leftOut, contradicted));
        return waiting.size() - 1;
    }

    /** Makes room for the scores of a form, not used unless something else is found. */
    private static Pending pending(Waiting w) {
        List<AssignedScore> scores = new ArrayList<>(w.form().results().size());
        for (ScoreResult result : w.form().results()) {
            scores.add(new AssignedScore(
                    w.form(),
                    w.at(),
                    w.form().instrument().requireScale(result.scale()),
                    result,
                    AssignedScore.Use.NOT_USED,
                    Optional.empty()));
        }
        return new Pending(w.form(), w.at(), w.leftOut(), w.contradicted(), scores);
    }

    void grips(List<GripRow> rows) {
        grips.addAll(rows);
    }

    Episode episode() {
        return episode;
    }

    int number() {
        return number;
    }

    /** The form at that position as it was placed, without its scores. */
    AssignedForm listed(int position) {
        Waiting form = waiting.get(position);
        return new AssignedForm(form.form(), form.at(), form.leftOut(), form.contradicted(), List.of());
    }

    /** The form at that position, once the episode is built. */
    AssignedForm form(int position) {
        return forms.get(position);
    }

    List<Problem> problems() {
        return problems;
    }

    /** Says where of an instrument that asks of both hands only the other one's columns are filled. */
    void noteOtherHand(ScoredForm form) {
        if (form.sitting().side().equals(Optional.of(Side.BOTH))) {
            return;
        }
        Set<Side> hands = EnumSet.noneOf(Side.class);
        for (Column column : form.instrument().columns()) {
            if (column.hand().isPresent() && form.responses().entered(column.index())) {
                hands.add(column.hand().get());
            }
        }
        if (hands.size() == 1 && !hands.contains(episode.treatedSide())) {
            String hand = hands.iterator().next().code();
            problems.add(new Problem(
                    form.sitting().place(),
                    hand,
                    ProblemCode.SIDE_DIFFERS_FROM_EPISODE,
                    "Of " + form.instrument().id() + " only the " + hand
                            + " hand is filled in, but episode " + episode.id() + " treats the "
                            + episode.treatedSide().code()
                            + " one. Its scores of that hand are listed and not used in time. Correct the hand or the"
                            + " episode."));
        }
    }

    /** Judges the episode, once, and keeps its forms, each to be asked for by its position. */
    EpisodeFollowUp build() {
        EpisodeFollowUp built = judge();
        forms = built.forms();
        waiting = List.of(); // a clinic's are so many that they would be missed
        return built;
    }

    /** Judges the episode; equal each time. Problems are noted the first time. */
    EpisodeFollowUp judge() {
        List<Pending> pending = waiting.stream().map(EpisodeBuilder::pending).toList();
        Map<InstrumentId, Map<ScaleId, List<Candidate>>> bySeries = new TreeMap<>();
        for (Pending form : pending) {
            if (form.leftOut().isPresent() || form.at().visit().isEmpty()) {
                continue;
            }
            for (int i = 0; i < form.scores().size(); i++) {
                AssignedScore score = form.scores().get(i);
                if (FollowUpAnalysis.ofTreatedHand(score.result().hand(), episode)) {
                    bySeries.computeIfAbsent(form.form().instrument().id(), k -> new LinkedHashMap<>())
                            .computeIfAbsent(score.scale().id(), k -> new ArrayList<>(4))
                            .add(new Candidate(form, i, score.scale(), score.result()));
                }
            }
        }
        List<ScoreSeries> series = new ArrayList<>();
        bySeries.values().forEach(scales -> scales.values().forEach(of -> series.add(series(of))));
        series.sort(Comparator.comparing((ScoreSeries s) -> s.instrument().id())
                .thenComparingInt(s -> s.instrument().position(s.scale().id())));
        List<AssignedForm> judged = pending.stream()
                .map(p -> new AssignedForm(p.form(), p.at(), p.leftOut(), p.contradicted(), p.scores()))
                .toList();
        return new EpisodeFollowUp(episode, condition, judged, series, grips, List.of());
    }

    private ScoreSeries series(List<Candidate> candidates) {
        Candidate latest = Collections.max(candidates, BY_TIME);
        Instrument instrument = latest.form().instrument();
        boolean changes = instrument.facts().change().kind() != ChangeRule.Kind.NONE;
        candidates.sort(BY_TIME); // a stable sort: of one moment the one that stands last in the input is the last
        List<Candidate> baselines = candidates.stream()
                .filter(c -> c.at().inRole(Visit.Role.BASELINE) && c.scorable())
                .toList();
        Optional<AssignedScore> baseline =
                last(baselines).map(c -> c.keep(AssignedScore.Use.BASELINE, Optional.empty()));
        BitSet used = nearestOfEachVisit(candidates);
        List<AssignedScore> followUps = new ArrayList<>(candidates.size());
        for (int i = 0; i < candidates.size(); i++) {
            if (candidates.get(i).at().inRole(Visit.Role.FOLLOW_UP)) {
                followUps.add(followUp(candidates.get(i), used.get(i), baselines, baseline, changes));
            }
        }
        if (changes) {
            noteBaseline(instrument, baseline, followUps);
        }
        return new ScoreSeries(instrument, latest.scale(), baseline, followUps);
    }

    private AssignedScore followUp(
            Candidate candidate,
            boolean used,
            List<Candidate> baselines,
            Optional<AssignedScore> lastBaseline,
            boolean changes) {
        return candidate.keep(
                used ? AssignedScore.Use.FOLLOW_UP : AssignedScore.Use.NOT_USED,
                changes
                        ? Optional.of(assess(candidate, baselineFor(candidate, baselines, lastBaseline)))
                        : Optional.empty());
    }

    private static Optional<Candidate> last(List<Candidate> byTime) {
        return byTime.isEmpty() ? Optional.empty() : Optional.of(byTime.get(byTime.size() - 1));
    }

    /** The baseline of a follow-up: the last of its own version of the definition, else the last of any. */
    private static Optional<AssignedScore> baselineFor(
            Candidate followUp, List<Candidate> baselines, Optional<AssignedScore> lastOfAny) {
        Instrument own = followUp.form().instrument();
        if (lastOfAny.filter(b -> b.form().instrument().equals(own)).isPresent()) {
            return lastOfAny;
        }
        return last(baselines.stream()
                        .filter(c -> c.form().instrument().definition().equals(own.definition()))
                        .toList())
                .map(Candidate::listed)
                .or(() -> lastOfAny);
    }

    /** Positions of the scorable candidates nearest the target of each follow-up visit; of two equally near the earlier. */
    private BitSet nearestOfEachVisit(List<Candidate> byTime) {
        BitSet nearest = new BitSet();
        for (Visit visit : schedule.visits()) {
            if (visit.role() == Visit.Role.FOLLOW_UP) {
                int least = Integer.MAX_VALUE;
                int position = -1;
                for (int i = 0; i < byTime.size(); i++) {
                    Candidate candidate = byTime.get(i);
                    if (candidate.at().isAt(visit) && candidate.scorable()) {
                        int away = Math.abs(candidate.at().day().orElse(visit.targetDay()) - visit.targetDay());
                        if (away < least) {
                            least = away;
                            position = i;
                        }
                    }
                }
                if (position >= 0) {
                    nearest.set(position);
                }
            }
        }
        return nearest;
    }

    /** Against the thresholds of its own version of the definition. */
    private AssessedChange assess(Candidate followUp, Optional<AssignedScore> baseline) {
        return AssessedChange.of(
                followUp.listed(), baseline, thresholds.of(followUp.form().instrument(), followUp.scale(), condition));
    }

    private void noteBaseline(Instrument instrument, Optional<AssignedScore> baseline, List<AssignedScore> followUps) {
        String who = "Patient " + episode.patient() + ", episode " + episode.id() + ": ";
        if (baseline.isEmpty() && !followUps.isEmpty()) {
            note(
                    episode.place(),
                    instrument,
                    ProblemCode.NOTE_BASELINE_MISSING,
                    who + "no scorable " + instrument.id() + " in the baseline window. Changes cannot be assessed.");
        }
        if (baseline.filter(b -> b.at().day().orElse(0) > 0).isPresent()) {
            note(
                    episode.place(),
                    instrument,
                    ProblemCode.NOTE_BASELINE_AFTER_TREATMENT,
                    who + "the " + instrument.id()
                            + " baseline was taken after treatment start, as the schedule allows.");
        }
    }

    private void note(Place place, Instrument instrument, ProblemCode code, String text) {
        if (noted.add(code + " " + place + " " + instrument.id())) {
            problems.add(new Problem(place, "", code, text));
        }
    }
}
