package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import lumbrical.grip.GripProfile;
import lumbrical.grip.GripRow;
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

    /** Places all sittings; what is found wrong is added to the problems. */
    void placeAll(List<Problem> problems) {
        problems.addAll(duplicates.problems());
        sittings.forEach(positions -> place(positions, problems));
    }

    /** Places all forms of one sitting, however many rows it is spread over. */
    private void place(int[] positions, List<Problem> problems) {
        Sitting sitting = forms.get(positions[0]).sitting();
        EpisodeFinder.Found found = finder.find(sitting);
        found.problem().ifPresent(problems::add);
        List<GripRow> profile = grips.isPresent() ? profile(positions) : List.of();
        if (found.episodes().isEmpty()) {
            ProblemCode why = found.problem().map(Problem::code).orElse(ProblemCode.EPISODE_NOT_FOUND);
            places.ifPresent(of -> IntStream.of(positions).forEach(i -> of.outside(i, why)));
            grips.ifPresent(rows -> rows.addAll(profile));
            return;
        }
        for (Episode episode : found.episodes()) {
            VisitAssignment at = assignment(sitting, episode, problems);
            EpisodeBuilder builder = builders.get(episode.key());
            for (int i : positions) {
                ScoredForm form = forms.get(i);
                int position = builder.add(form, at, whyLeftOut(i, found), duplicates.contradicts(i));
                places.ifPresent(of -> of.inside(i, builder.number(), position));
            }
            Optional<String> inEpisode = Optional.of(episode.id());
            Optional<String> atVisit = at.visitName();
            List<GripRow> own = profile.stream()
                    .filter(row -> found.episodes().size() == 1
                            || row.hand().isEmpty()
                            || row.hand().get() == episode.treatedSide())
                    .map(row -> row.placed(inEpisode, atVisit))
                    .toList();
            grips.ifPresent(rows -> rows.addAll(own));
            if (found.problem().isEmpty()) { // one that is not used in time says nothing of the episode
                builder.grips(own);
                builder.noteOtherHand(
                        sitting, IntStream.of(positions).mapToObj(forms::get).toList());
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
}
