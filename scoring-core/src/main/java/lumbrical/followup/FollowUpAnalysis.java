package lumbrical.followup;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.grip.GripRow;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.sitting.ScoredForm;
import lumbrical.threshold.ThresholdChoice;

/** A clinic's scores put in time: assigns sittings to episodes and visits, finds baselines, judges change, counts follow-up. */
public final class FollowUpAnalysis {
    /** Episodes that one thread judges at once: as few that threads end together, as many that their counts cost nothing. */
    private static final int LOT = 250;

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
        List<EpisodeFollowUp> followUps = judged(completeness);
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

    /** All episodes, judged by as many threads as there are processors, and what is missing of them counted. */
    private List<EpisodeFollowUp> judged(FollowUpCompleteness completeness) {
        List<EpisodeBuilder> all = List.copyOf(builders.values());
        List<List<EpisodeBuilder>> parts = IntStream.iterate(0, from -> from < all.size(), from -> from + LOT)
                .mapToObj(from -> all.subList(from, Math.min(all.size(), from + LOT)))
                .toList();
        Stream<List<EpisodeBuilder>> lots = parts.size() > 1 ? parts.parallelStream() : parts.stream();
        List<EpisodeFollowUp> followUps = new ArrayList<>(all.size());
        for (Judged lot : lots.map(this::judged).toList()) {
            followUps.addAll(lot.followUps());
            problems.addAll(lot.problems());
            completeness.add(lot.completeness());
        }
        problems.addAll(completeness.notes());
        return followUps;
    }

    private Judged judged(List<EpisodeBuilder> lot) {
        Judged judged = new Judged(new ArrayList<>(), new ArrayList<>(), new FollowUpCompleteness(schedule, asOf));
        for (EpisodeBuilder builder : lot) {
            judged.followUps().add(judged.completeness().complete(builder.build()));
            judged.problems().addAll(builder.problems());
        }
        return judged;
    }

    private FollowUpResult analyse(EpisodeSink sink) {
        sink.begins(episodes, schedule, asOf, choice);
        place(Optional.empty(), Optional.empty());
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
        FormPlaces places = new FormPlaces(forms, List.copyOf(builders.values()));
        place(Optional.of(places), Optional.empty());
        FollowUpCompleteness completeness = new FollowUpCompleteness(schedule, asOf);
        for (EpisodeBuilder builder : builders.values()) {
            sink.accept(completeness.complete(builder.judge()));
            problems.addAll(builder.problems());
        }
        problems.addAll(completeness.notes());
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
