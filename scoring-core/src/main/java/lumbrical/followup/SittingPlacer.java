package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import lumbrical.grip.GripProfile;
import lumbrical.grip.GripRow;
import lumbrical.number.Memo;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.ScoredForm;
import lumbrical.sitting.Sitting;

/** Places the sittings of a clinic: finds the episodes and the visit of each, and hands them its forms. */
final class SittingPlacer {
    private final List<ScoredForm> forms;
    private final EpisodeFinder finder;
    private final Schedule schedule;
    private final LocalDate asOf;
    private final Map<Episode.Key, EpisodeBuilder> builders;
    private final Optional<FormPlaces> places;
    private final Optional<List<GripRow>> grips;
    /** The positions of the forms of each sitting, in the order in which the sittings first stand. */
    private final List<int[]> sittings;

    private final DuplicateForms duplicates;
    private final GripProfile profiles = new GripProfile();
    /** A clinic holds as many days, visits and their names as it has sittings: of each kind one object. */
    private final Memo<Integer, OptionalInt> days = new Memo<>(12, OptionalInt::of);

    private final Map<Visit, Optional<Visit>> visits;
    private final Memo<String, Optional<String>> names = new Memo<>(14, Optional::of);

    /**
     * @param asOf the day on which things are looked at
     * @param builders take the forms of their episodes
     * @param places takes the place of each form, where that is kept
     * @param grips takes the functional-task profile, where that is kept
     */
    SittingPlacer(
            List<ScoredForm> forms,
            EpisodeFinder finder,
            Schedule schedule,
            LocalDate asOf,
            Map<Episode.Key, EpisodeBuilder> builders,
            Optional<FormPlaces> places,
            Optional<List<GripRow>> grips) {
        this.forms = forms;
        this.finder = finder;
        this.schedule = schedule;
        this.visits = schedule.visits().stream().collect(Collectors.toMap(Function.identity(), Optional::of));
        this.asOf = asOf;
        this.builders = builders;
        this.places = places;
        this.grips = grips;
        this.sittings = sittings(forms);
        this.duplicates = new DuplicateForms(forms, sittings);
    }

    private static List<int[]> sittings(List<ScoredForm> forms) {
        Map<Sitting.Key, Integer> numbers = new LinkedHashMap<>();
        List<int[]> positions = new ArrayList<>();
        for (int i = 0; i < forms.size(); i++) {
            if (!forms.get(i).responses().blank() || !forms.get(i).results().isEmpty()) {
                Integer known = numbers.putIfAbsent(forms.get(i).sitting().key(), numbers.size());
                if (known == null) {
                    positions.add(new int[] {i});
                } else {
                    int[] before = positions.get(known);
                    int[] with = Arrays.copyOf(before, before.length + 1);
                    with[before.length] = i;
                    positions.set(known, with);
                }
            }
        }
        return positions;
    }

    /**
     * A sitting with what is found of it.
     *
     * @param profile its functional-task profile, where that is kept
     * @param inEpisodes its place in each of its episodes
     * @param problems what is wrong with these places
     */
    private record Found(
            int[] positions,
            EpisodeFinder.Found episodes,
            List<GripRow> profile,
            List<InEpisode> inEpisodes,
            List<Problem> problems) {}

    /** A sitting's place in an episode, and the part of its profile that belongs there. */
    private record InEpisode(Episode episode, VisitAssignment at, List<GripRow> grips) {}

    /** Places all sittings; what is found wrong is added to the problems. */
    void placeAll(List<Problem> problems) {
        problems.addAll(duplicates.problems());
        InLots.inOrder(sittings.iterator(), lot -> lot.stream().map(this::found).toList(), lot -> {
            for (Found sitting : lot) {
                problems.addAll(sitting.problems());
                place(sitting);
            }
        });
    }

    /** Finds the places of all forms of one sitting, however many rows it is spread over. */
    private Found found(int[] positions) {
        Sitting sitting = forms.get(positions[0]).sitting();
        EpisodeFinder.Found found = finder.find(sitting);
        List<GripRow> profile = grips.isPresent() ? profile(positions) : List.of();
        List<Problem> problems = new ArrayList<>(0);
        found.problem().ifPresent(problems::add);
        List<InEpisode> inEpisodes = new ArrayList<>(found.episodes().size());
        for (Episode episode : found.episodes()) {
            VisitAssignment at = assignment(sitting, episode, problems);
            Optional<String> inEpisode = names.of(episode.id());
            Optional<String> atVisit = at.visitName().flatMap(names::of);
            List<GripRow> own = profile.stream()
                    .filter(row -> found.episodes().size() == 1
                            || row.hand().isEmpty()
                            || row.hand().get() == episode.treatedSide())
                    .map(row -> row.placed(inEpisode, atVisit))
                    .toList();
            inEpisodes.add(new InEpisode(episode, at, own));
        }
        return new Found(positions, found, profile, inEpisodes, problems);
    }

    private void place(Found sitting) {
        Optional<Problem> problem = sitting.episodes().problem();
        if (sitting.inEpisodes().isEmpty()) {
            ProblemCode why = problem.map(Problem::code).orElse(ProblemCode.EPISODE_NOT_FOUND);
            places.ifPresent(of -> IntStream.of(sitting.positions()).forEach(i -> of.outside(i, why)));
            grips.ifPresent(rows -> rows.addAll(sitting.profile()));
            return;
        }
        for (InEpisode in : sitting.inEpisodes()) {
            EpisodeBuilder builder = builders.get(in.episode().key());
            for (int i : sitting.positions()) {
                ScoredForm form = forms.get(i);
                int position = builder.add(form, in.at(), whyLeftOut(i, problem), duplicates.contradicts(i));
                places.ifPresent(of -> of.inside(i, builder.number(), position));
            }
            grips.ifPresent(rows -> rows.addAll(in.grips()));
            if (problem.isEmpty()) { // one that is not used in time says nothing of the episode
                builder.grips(in.grips());
                for (int i : sitting.positions()) {
                    builder.noteOtherHand(forms.get(i));
                }
            }
        }
    }

    private List<GripRow> profile(int[] positions) {
        return profiles.ofSitting(IntStream.of(positions)
                .filter(i -> !duplicates.excludes(i))
                .mapToObj(forms::get)
                .toList());
    }

    private VisitAssignment assignment(Sitting sitting, Episode episode, List<Problem> problems) {
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
                        ? days.of(EpisodeFinder.day(episode.indexDate().get(), sitting.completedOn()))
                        : OptionalInt.empty();
        Optional<Visit> visit =
                day.isPresent() ? schedule.visitOn(day.getAsInt()).flatMap(visits::get) : Optional.empty();
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

    private Optional<ProblemCode> whyLeftOut(int position, Optional<Problem> ofSitting) {
        return ofSitting
                .map(Problem::code)
                .or(() ->
                        duplicates.excludes(position) ? Optional.of(ProblemCode.DUPLICATE_SITTING) : Optional.empty());
    }
}
