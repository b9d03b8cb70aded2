package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;
import lumbrical.grip.GripProfile;
import lumbrical.grip.GripRow;
import lumbrical.instrument.ChangeRule;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Scale;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.scoring.ScoreResult;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;

/** A clinic's scores put in time: assigns sittings to episodes and visits, finds baselines, judges change, counts follow-up. */
public final class FollowUpAnalysis {
    private final Schedule schedule;
    private final LocalDate asOf;
    private final EpisodeFinder finder;
    private final ChangeJudge judge;
    private final List<Problem> problems = new ArrayList<>();
    private final List<AssignedForm> placed = new ArrayList<>();
    private final List<AssignedScore> scores = new ArrayList<>();
    private final List<GripRow> grips = new ArrayList<>();
    private final Map<CourseKey, List<Integer>> courses = new LinkedHashMap<>();
    private final Map<Episode, List<AssignedForm>> formsOf = new IdentityHashMap<>();

    /** Compared by identity: definitions and episodes are shared values. */
    private record CourseKey(Episode episode, Instrument instrument, Scale scale) {
        @Override
        public boolean equals(Object other) {
            return other instanceof CourseKey k
                    && k.episode == episode
                    && k.instrument == instrument
                    && k.scale == scale;
        }

        @Override
        public int hashCode() {
            return 31 * (31 * System.identityHashCode(episode) + System.identityHashCode(instrument))
                    + System.identityHashCode(scale);
        }
    }

    private FollowUpAnalysis(List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        this.schedule = schedule;
        this.asOf = asOf;
        this.finder = new EpisodeFinder(episodes, schedule);
        this.judge = new ChangeJudge(choice);
    }

    /**
     * Everything known of the patients over time.
     *
     * @param forms every form read, in the order of the input; forms of one sitting follow each other
     * @param episodes the episodes
     * @param schedule the visits
     * @param asOf the day on which things are looked at; what lies after it is not placed in time
     * @param choice the thresholds used
     */
    public static FollowUpResult look(
            List<ScoredForm> forms, List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        FollowUpAnalysis clinic = new FollowUpAnalysis(episodes, schedule, asOf, choice);
        DuplicateForms doubles = new DuplicateForms(forms);
        clinic.problems.addAll(doubles.problems());
        clinic.placeAll(forms, doubles);
        List<Change> changes = clinic.judgeAll(episodes);
        FollowUpCompleteness expectations = new FollowUpCompleteness(schedule, asOf, clinic.formsOf);
        List<ExpectedForm> due = expectations.due(episodes);
        clinic.problems.addAll(expectations.notes());
        List<VisitCount> counts = expectations.counts(episodes);
        return new FollowUpResult(
                asOf,
                schedule,
                episodes,
                forms,
                clinic.placed,
                clinic.scores,
                changes,
                clinic.grips,
                counts,
                due,
                clinic.problems);
    }

    private void placeAll(List<ScoredForm> forms, DuplicateForms doubles) {
        SittingMerger whole = new SittingMerger(forms, doubles);
        int i = 0;
        while (i < forms.size()) {
            int end = i + 1;
            Sitting sitting = forms.get(i).sitting();
            while (end < forms.size() && forms.get(end).sitting() == sitting) {
                end++;
            }
            List<ScoredForm> formsOfRow = forms.subList(i, end);
            placeSitting(sitting, formsOfRow, doubles, GripProfile.of(whole.atFirstRow(sitting, formsOfRow)));
            i = end;
        }
    }

    private void placeSitting(Sitting sitting, List<ScoredForm> forms, DuplicateForms doubles, List<GripRow> profile) {
        if (forms.stream().allMatch(f -> f.responses().blank() && f.results().isEmpty())) {
            return;
        }
        EpisodeFinder.Found found = finder.find(sitting);
        found.problem().ifPresent(problems::add);
        found.episodes().stream()
                .filter(e -> e.birthYear().isPresent()
                        && sitting.completedOn().getYear() < e.birthYear().getAsInt())
                .findFirst()
                .ifPresent(e -> problems.add(new Problem(
                        sitting.place().in("completed_on"),
                        "",
                        ProblemCode.DATE_BEFORE_BIRTH,
                        "The date lies before the patient's year of birth in " + e.place()
                                + ". Correct one of them.")));
        if (found.episodes().isEmpty()) {
            for (ScoredForm form : forms) {
                placed.add(new AssignedForm(form, Optional.empty(), whyLeftOut(form, found, doubles)));
                addScores(form, Optional.empty(), false);
            }
            grips.addAll(profile);
        }
        for (Episode episode : found.episodes()) {
            OptionalInt day = episode.indexDate().isPresent()
                            && !sitting.completedOn().isAfter(asOf)
                    ? OptionalInt.of(EpisodeFinder.day(episode.indexDate().get(), sitting.completedOn()))
                    : OptionalInt.empty();
            Optional<Visit> visit = day.isPresent() ? schedule.visitOn(day.getAsInt()) : Optional.empty();
            if (day.isPresent() && visit.isEmpty()) {
                problems.add(new Problem(
                        sitting.place(),
                        "",
                        ProblemCode.NOTE_UNSCHEDULED,
                        "Day " + day.getAsInt() + " of the episode lies in no window of the schedule. The sitting is"
                                + " listed and not used for change."));
            }
            Optional<AssignedScore.VisitAssignment> placement =
                    Optional.of(new AssignedScore.VisitAssignment(episode, day, visit, AssignedScore.Use.NOT_USED));
            for (ScoredForm form : forms) {
                Optional<ProblemCode> leftOut = whyLeftOut(form, found, doubles);
                AssignedForm here = new AssignedForm(form, placement, leftOut);
                placed.add(here);
                addScores(form, placement, leftOut.isEmpty());
                if (leftOut.isEmpty() && !form.responses().blank()) {
                    formsOf.computeIfAbsent(episode, e -> new ArrayList<>()).add(here);
                }
            }
            Optional<String> at = day.isEmpty()
                    ? Optional.empty()
                    : Optional.of(visit.map(Visit::name).orElse(AssignedScore.UNSCHEDULED));
            profile.stream()
                    .filter(row -> found.episodes().size() == 1
                            || row.hand().isEmpty()
                            || row.hand().get() == episode.treatedSide())
                    .map(row -> row.placed(Optional.of(episode.id()), at))
                    .forEach(grips::add);
        }
    }

    private static Optional<ProblemCode> whyLeftOut(
            ScoredForm form, EpisodeFinder.Found found, DuplicateForms doubles) {
        return found.problem()
                .map(Problem::code)
                .or(() -> doubles.excludes(form) ? Optional.of(ProblemCode.DUPLICATE_SITTING) : Optional.empty());
    }

    private void addScores(ScoredForm form, Optional<AssignedScore.VisitAssignment> placement, boolean candidate) {
        for (ScoreResult result : form.results()) {
            Scale scale = form.instrument().scale(result.scale()).orElseThrow();
            boolean counts = candidate
                    && placement.isPresent()
                    && placement.get().visit().isPresent()
                    && ofTreatedHand(result, placement.get().episode());
            if (counts) {
                courses.computeIfAbsent(
                                new CourseKey(placement.get().episode(), form.instrument(), scale),
                                k -> new ArrayList<>(4))
                        .add(scores.size());
            }
            scores.add(new AssignedScore(form, scale, result, placement));
        }
    }

    private static boolean ofTreatedHand(ScoreResult result, Episode episode) {
        Optional<Side> hand = result.hand();
        return hand.isEmpty() || hand.get() == episode.treatedSide();
    }

    private List<Change> judgeAll(List<Episode> episodes) {
        Map<Episode, Integer> order = new IdentityHashMap<>();
        episodes.forEach(e -> order.put(e, order.size()));
        List<CourseKey> keys = new ArrayList<>(courses.keySet());
        keys.sort(Comparator.comparingInt((CourseKey k) -> order.get(k.episode()))
                .thenComparing(k -> k.instrument().id())
                .thenComparingInt(k -> k.instrument().scales().indexOf(k.scale())));
        List<Change> changes = new ArrayList<>();
        Set<String> noted = new HashSet<>();
        for (CourseKey key : keys) {
            judgeCourse(key, changes, noted);
        }
        return changes;
    }

    private void judgeCourse(CourseKey key, List<Change> changes, Set<String> noted) {
        List<Integer> positions = courses.get(key);
        ScoreSeries course = new ScoreSeries(positions.stream().map(scores::get).toList());
        Map<AssignedScore, AssignedScore.Use> uses = new IdentityHashMap<>();
        course.baseline().ifPresent(b -> uses.put(b, AssignedScore.Use.BASELINE));
        schedule.visits().stream()
                .filter(v -> v.role() == Visit.Role.FOLLOW_UP)
                .map(course::at)
                .flatMap(Optional::stream)
                .forEach(s -> uses.put(s, AssignedScore.Use.FOLLOW_UP));
        Map<AssignedScore, AssignedScore> marked = new IdentityHashMap<>();
        for (int position : positions) {
            AssignedScore score = scores.get(position);
            AssignedScore withUse = uses.containsKey(score) ? used(score, uses.get(score)) : score;
            scores.set(position, withUse);
            marked.put(score, withUse);
        }
        Optional<AssignedScore> baseline = course.baseline().map(marked::get);
        if (key.instrument().facts().change().kind() == ChangeRule.Kind.NONE) {
            return;
        }
        noteBaseline(key, baseline, course, noted);
        for (AssignedScore followUp : course.followUps()) {
            changes.add(judge.judge(marked.get(followUp), uses.get(followUp) == AssignedScore.Use.FOLLOW_UP, baseline));
        }
    }

    private static AssignedScore used(AssignedScore score, AssignedScore.Use use) {
        AssignedScore.VisitAssignment p = score.placement().orElseThrow();
        return new AssignedScore(
                score.form(),
                score.scale(),
                score.result(),
                Optional.of(new AssignedScore.VisitAssignment(p.episode(), p.day(), p.visit(), use)));
    }

    private void noteBaseline(CourseKey key, Optional<AssignedScore> baseline, ScoreSeries course, Set<String> noted) {
        Episode episode = key.episode();
        if (baseline.isEmpty() && !course.followUps().isEmpty()) {
            note(
                    key,
                    ProblemCode.NOTE_BASELINE_MISSING,
                    noted,
                    "Patient " + episode.patient() + ", episode " + episode.id() + ": no scorable "
                            + key.instrument().id() + " in the baseline window. Changes cannot be assessed.");
        }
        baseline.filter(b -> b.placement().orElseThrow().day().orElseThrow() > 0)
                .ifPresent(b -> note(
                        key,
                        ProblemCode.NOTE_BASELINE_AFTER_TREATMENT,
                        noted,
                        "Patient " + episode.patient() + ", episode " + episode.id() + ": the "
                                + key.instrument().id()
                                + " baseline was taken after treatment start, as the schedule allows."));
    }

    private void note(CourseKey key, ProblemCode code, Set<String> noted, String text) {
        if (noted.add(
                code + " " + key.episode().place() + " " + key.instrument().id())) {
            problems.add(new Problem(key.episode().place(), "", code, text));
        }
    }
}
