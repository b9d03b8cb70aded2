package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import lumbrical.grip.GripProfile;
import lumbrical.grip.GripRow;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;

/** A clinic's scores put in time: assigns sittings to episodes and visits, finds baselines, judges change, counts follow-up. */
public final class FollowUpAnalysis {
    private final List<ScoredForm> forms;
    private final List<Episode> episodes;
    private final Schedule schedule;
    private final LocalDate asOf;
    private final ThresholdChoice choice;
    private final EpisodeFinder finder;
    /** The positions of the forms of each sitting, in the order in which the sittings first stand. */
    private final Collection<List<Integer>> sittings;

    private final DuplicateForms duplicates;
    private final List<Problem> problems = new ArrayList<>();
    private final List<GripRow> grips = new ArrayList<>();
    /** What becomes of each form: none yet, a place outside all episodes, or one in each of some episodes. */
    private final List<List<Destination>> destinations = new ArrayList<>();

    private final Map<Episode.Key, EpisodeBuilder> builders = new LinkedHashMap<>();
    private final GripProfile profiles = new GripProfile();

    /** Takes the forms of one episode, or gives an unassigned form. */
    sealed interface Destination {
        PlacedForm form();

        /** The form as it was placed, without its scores. */
        PlacedForm listed();
    }

    private record Outside(UnassignedForm form) implements Destination {
        @Override
        public PlacedForm listed() {
            return form;
        }
    }

    private record Inside(EpisodeBuilder episode, int position) implements Destination {
        @Override
        public PlacedForm form() {
            return episode.form(position);
        }

        @Override
        public PlacedForm listed() {
            return episode.listed(position);
        }
    }

    /** What is kept besides the episodes. */
    private enum Kept {
        NOTHING,
        /** The place of each form. */
        PLACES,
        /** The place of each form, and the functional-task profile. */
        PLACES_AND_PROFILE
    }

    private FollowUpAnalysis(
            List<ScoredForm> forms, List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        this.forms = forms;
        this.episodes = episodes;
        this.schedule = schedule;
        this.asOf = asOf;
        this.choice = choice;
        this.finder = new EpisodeFinder(episodes, schedule);
        this.sittings = sittings(forms);
        this.duplicates = new DuplicateForms(forms, sittings);
        ThresholdSets thresholds = new ThresholdSets(choice);
        for (Episode episode : episodes) {
            EpisodeBuilder twin = builders.put(episode.key(), new EpisodeBuilder(episode, schedule, asOf, thresholds));
            if (twin != null) {
                throw new IllegalArgumentException(
                        "Patient " + episode.patient() + " has two episodes called " + episode.id());
            }
        }
    }

    /**
     * Everything known of the patients over time.
     *
     * @param forms every form read, in the order of the input
     * @param episodes the episodes
     * @param schedule the visits
     * @param asOf the day on which things are looked at; what lies after it is not placed in time
     * @param choice the thresholds used
     * @throws IllegalArgumentException if two episodes of one patient share an id
     */
    public static FollowUpResult analyse(
            List<ScoredForm> forms, List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        return new FollowUpAnalysis(forms, episodes, schedule, asOf, choice).analyse();
    }

    /**
     * As {@link #analyse(List, List, Schedule, LocalDate, ThresholdChoice)}, for a clinic that is too large to be held whole: the episodes
     * go to {@code sink}, without their functional-task profiles, and the result has its counts and problems alone.
     *
     * @throws IllegalArgumentException if two episodes of one patient share an id
     */
    public static FollowUpResult analyse(
            List<ScoredForm> forms,
            List<Episode> episodes,
            Schedule schedule,
            LocalDate asOf,
            ThresholdChoice choice,
            EpisodeSink sink) {
        return new FollowUpAnalysis(forms, episodes, schedule, asOf, choice).analyse(sink);
    }

    /**
     * As {@link #analyse(List, List, Schedule, LocalDate, ThresholdChoice)}, for a clinic that is too large to be held whole and whose
     * episodes are needed again and again, each whenever its turn comes.
     *
     * @param sink takes each episode once, with its expected forms
     * @throws IllegalArgumentException if two episodes of one patient share an id
     */
    public static FollowUpOnDemand onDemand(
            List<ScoredForm> forms,
            List<Episode> episodes,
            Schedule schedule,
            LocalDate asOf,
            ThresholdChoice choice,
            EpisodeSink sink) {
        return new FollowUpAnalysis(forms, episodes, schedule, asOf, choice).onDemand(sink);
    }

    private static Collection<List<Integer>> sittings(List<ScoredForm> forms) {
        Map<Sitting.Key, List<Integer>> sittings = new LinkedHashMap<>();
        for (int i = 0; i < forms.size(); i++) {
            if (!forms.get(i).responses().blank() || !forms.get(i).results().isEmpty()) {
                sittings.computeIfAbsent(forms.get(i).sitting().key(), k -> new ArrayList<>(4))
                        .add(i);
            }
        }
        return sittings.values();
    }

    private FollowUpResult analyse() {
        problems.addAll(duplicates.problems());
        forms.forEach(form -> destinations.add(List.of()));
        sittings.forEach(positions -> place(positions, Kept.PLACES_AND_PROFILE));
        sittings.clear(); // the room is for what is built of them
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        List<EpisodeFollowUp> followUps = new ArrayList<>(episodes.size());
        for (EpisodeBuilder builder : builders.values()) {
            followUps.add(completeness.complete(builder.build()));
            problems.addAll(builder.problems());
        }
        problems.addAll(completeness.notes());
        return new FollowUpResult(
                asOf,
                schedule,
                followUps,
                destinations.stream()
                        .flatMap(List::stream)
                        .map(Destination::form)
                        .toList(),
                grips,
                completeness.counts(),
                problems);
    }

    private FollowUpResult analyse(EpisodeSink sink) {
        sink.begins(episodes, schedule, asOf, choice);
        problems.addAll(duplicates.problems());
        sittings.forEach(positions -> place(positions, Kept.NOTHING));
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        Iterator<EpisodeBuilder> waiting = builders.values().iterator();
        while (waiting.hasNext()) {
            EpisodeBuilder builder = waiting.next();
            waiting.remove(); // so that its forms can go once the sink has seen them
            sink.accept(completeness.complete(builder.build()));
            problems.addAll(builder.problems());
        }
        problems.addAll(completeness.notes());
        return summary(completeness);
    }

    private FollowUpOnDemand onDemand(EpisodeSink sink) {
        sink.begins(episodes, schedule, asOf, choice);
        problems.addAll(duplicates.problems());
        forms.forEach(form -> destinations.add(List.of()));
        sittings.forEach(positions -> place(positions, Kept.PLACES));
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        for (EpisodeBuilder builder : builders.values()) {
            sink.accept(completeness.complete(builder.judge()));
            problems.addAll(builder.problems());
        }
        problems.addAll(completeness.notes());
        return new FollowUpOnDemand(summary(completeness), builders, destinations);
    }

    private FollowUpResult summary(FollowUpCompleteness completeness) {
        return new FollowUpResult(asOf, schedule, List.of(), List.of(), List.of(), completeness.counts(), problems);
    }

    /** Places all forms of one sitting, however many rows it is spread over. */
    private void place(List<Integer> positions, Kept kept) {
        boolean keep = kept != Kept.NOTHING;
        Sitting sitting = forms.get(positions.get(0)).sitting();
        EpisodeFinder.Found found = finder.find(sitting);
        found.problem().ifPresent(problems::add);
        List<GripRow> profile = kept == Kept.PLACES_AND_PROFILE
                ? profiles.ofSitting(positions.stream()
                        .filter(i -> !duplicates.excludes(i))
                        .map(forms::get)
                        .toList())
                : List.of();
        if (found.episodes().isEmpty()) {
            ProblemCode why = found.problem().map(Problem::code).orElse(ProblemCode.EPISODE_NOT_FOUND);
            if (keep) {
                positions.forEach(
                        i -> destinations.set(i, List.of(new Outside(new UnassignedForm(forms.get(i), why)))));
            }
            grips.addAll(profile);
            return;
        }
        Map<Integer, List<Destination>> inside = new HashMap<>();
        for (Episode episode : found.episodes()) {
            VisitAssignment at = assignment(sitting, episode);
            EpisodeBuilder builder = builders.get(episode.key());
            for (int i : positions) {
                ScoredForm form = forms.get(i);
                int position = builder.add(form, at, whyLeftOut(i, found), duplicates.contradicts(i));
                if (keep) {
                    inside.computeIfAbsent(i, k -> new ArrayList<>(2)).add(new Inside(builder, position));
                }
            }
            Optional<String> inEpisode = Optional.of(episode.id());
            Optional<String> atVisit = at.visitName();
            List<GripRow> own = profile.stream()
                    .filter(row -> found.episodes().size() == 1
                            || row.hand().isEmpty()
                            || row.hand().get() == episode.treatedSide())
                    .map(row -> row.placed(inEpisode, atVisit))
                    .toList();
            grips.addAll(own);
            if (found.problem().isEmpty()) { // one that is not used in time says nothing of the episode
                builder.grips(own);
                builder.noteOtherHand(
                        sitting, positions.stream().map(forms::get).toList());
            }
        }
        inside.forEach((i, places) -> destinations.set(i, List.copyOf(places)));
    }

    private VisitAssignment assignment(Sitting sitting, Episode episode) {
        if (episode.birthYear().isPresent()
                && sitting.completedOn().getYear() < episode.birthYear().getAsInt()) {
            problems.add(new Problem(
                    sitting.place().in("completed_on"),
                    "",
                    ProblemCode.DATE_BEFORE_BIRTH,
                    "The date lies before the patient's year of birth in " + episode.place()
                            + ". Correct one of them."));
        }
        OptionalInt day =
                episode.indexDate().isPresent() && !sitting.completedOn().isAfter(asOf)
                        ? OptionalInt.of(EpisodeFinder.day(episode.indexDate().get(), sitting.completedOn()))
                        : OptionalInt.empty();
        Optional<Visit> visit = day.isPresent() ? schedule.visitOn(day.getAsInt()) : Optional.empty();
        if (day.isPresent() && visit.isEmpty()) {
            problems.add(new Problem(
                    sitting.place(),
                    "",
                    ProblemCode.NOTE_UNSCHEDULED,
                    "Day " + day.getAsInt()
                            + " of the episode lies in no window of the schedule. The forms are listed and"
                            + " not used for change."));
        }
        return new VisitAssignment(episode, day, visit);
    }

    private Optional<ProblemCode> whyLeftOut(int position, EpisodeFinder.Found found) {
        return found.problem()
                .map(Problem::code)
                .or(() ->
                        duplicates.excludes(position) ? Optional.of(ProblemCode.DUPLICATE_SITTING) : Optional.empty());
    }

    /** Whether {@code side} is the hand that an episode treats, or nobody's in particular. */
    static boolean ofTreatedHand(Optional<Side> side, Episode episode) {
        return side.isEmpty() || side.get() == episode.treatedSide();
    }
}
