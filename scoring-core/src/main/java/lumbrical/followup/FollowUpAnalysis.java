package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Function;
import lumbrical.grip.GripRow;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ThresholdChoice;

/** A clinic's scores put in time: assigns sittings to episodes and visits, finds baselines, judges change, counts follow-up. */
public final class FollowUpAnalysis {
    private final List<ScoredForm> forms;
    private final List<Episode> episodes;
    private final Schedule schedule;
    private final LocalDate asOf;
    private final ThresholdChoice choice;
    private final List<Problem> problems = new ArrayList<>();
    private final Map<Episode.Key, EpisodeBuilder> builders = new LinkedHashMap<>();

    private FollowUpAnalysis(
            List<ScoredForm> forms, List<Episode> episodes, Schedule schedule, LocalDate asOf, ThresholdChoice choice) {
        this.forms = forms;
        this.episodes = episodes;
        this.schedule = schedule;
        this.asOf = asOf;
        this.choice = choice;
        ThresholdSets thresholds = new ThresholdSets(choice);
        for (Episode episode : episodes) {
            EpisodeBuilder twin =
                    builders.put(episode.key(), new EpisodeBuilder(builders.size(), episode, schedule, thresholds));
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

    private FollowUpResult analyse() {
        FormPlaces places = new FormPlaces(forms, List.copyOf(builders.values()));
        List<GripRow> grips = new ArrayList<>();
        place(Optional.of(places), Optional.of(grips));
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        List<EpisodeFollowUp> followUps = new ArrayList<>(episodes.size());
        judge(EpisodeBuilder::build, false, completeness, followUps::add);
        List<PlacedForm> placed = new ArrayList<>(forms.size());
        places.each(EpisodeBuilder::form, placed::add);
        return new FollowUpResult(asOf, schedule, followUps, placed, grips, completeness.counts(), problems);
    }

    /** Gives the episodes their forms; what that takes is let go then, for the room is for what is built of them. */
    private void place(Optional<FormPlaces> places, Optional<List<GripRow>> grips) {
        new SittingPlacer(forms, new EpisodeFinder(episodes, schedule), schedule, asOf, builders, places, grips)
                .placeAll(problems);
    }

    /** Episodes judged together, by one thread. */
    private record Judged(List<EpisodeFollowUp> followUps, List<Problem> problems, FollowUpCompleteness completeness) {}

    /**
     * Has all episodes judged and hands them on in their order.
     *
     * @param forget whether an episode is let go once it is handed on
     */
    private void judge(
            Function<EpisodeBuilder, EpisodeFollowUp> how,
            boolean forget,
            FollowUpCompleteness completeness,
            Consumer<EpisodeFollowUp> taker) {
        Iterator<EpisodeBuilder> waiting = builders.values().iterator();
        InLots.inOrder(forget ? forgetting(waiting) : waiting, lot -> judged(lot, how), lot -> {
            lot.followUps().forEach(taker);
            problems.addAll(lot.problems());
            completeness.add(lot.completeness());
        });
        problems.addAll(completeness.notes());
    }

    private static <T> Iterator<T> forgetting(Iterator<T> things) {
        return new Iterator<>() {
            @Override
            public boolean hasNext() {
                return things.hasNext();
            }

            @Override
            public T next() {
                T next = things.next();
                things.remove();
                return next;
            }
        };
    }

    private Judged judged(List<EpisodeBuilder> lot, Function<EpisodeBuilder, EpisodeFollowUp> how) {
        Judged judged = new Judged(new ArrayList<>(), new ArrayList<>(), new FollowUpCompleteness(schedule, asOf));
        for (EpisodeBuilder builder : lot) {
            judged.followUps().add(judged.completeness().complete(how.apply(builder)));
            judged.problems().addAll(builder.problems());
        }
        return judged;
    }

    private FollowUpResult analyse(EpisodeSink sink) {
        sink.begins(episodes, schedule, asOf, choice);
        place(Optional.empty(), Optional.empty());
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        judge(EpisodeBuilder::build, true, completeness, sink::accept);
        return summary(completeness);
    }

    private FollowUpOnDemand onDemand(EpisodeSink sink) {
        sink.begins(episodes, schedule, asOf, choice);
        FormPlaces places = new FormPlaces(forms, List.copyOf(builders.values()));
        place(Optional.of(places), Optional.empty());
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        judge(EpisodeBuilder::judge, false, completeness, sink::accept);
        return new FollowUpOnDemand(summary(completeness), builders, places);
    }

    private FollowUpResult summary(FollowUpCompleteness completeness) {
        return new FollowUpResult(asOf, schedule, List.of(), List.of(), List.of(), completeness.counts(), problems);
    }

    /** Whether {@code side} is the hand that an episode treats, or nobody's in particular. */
    static boolean ofTreatedHand(Optional<Side> side, Episode episode) {
        return side.isEmpty() || side.get() == episode.treatedSide();
    }
}
