package lumbrical.followup;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.Sitting;

/** Finds the episode a sitting belongs to: by name if it names one, else by side, window and index date. */
final class EpisodeFinder {
    private final Map<String, List<Episode>> byPatient = new HashMap<>();
    private final Schedule schedule;

    EpisodeFinder(List<Episode> episodes, Schedule schedule) {
        this.schedule = schedule;
        for (Episode episode : episodes) {
            byPatient
                    .computeIfAbsent(episode.patient(), p -> new ArrayList<>(2))
                    .add(episode);
        }
    }

    /**
     * Where a sitting belongs.
     *
     * @param episodes none, one, or one for each side
     * @param problem why there is none, or that the side differs from the named episode's
     */
    record Found(List<Episode> episodes, Optional<Problem> problem) {}

    Found find(Sitting sitting) {
        List<Episode> all = byPatient.getOrDefault(sitting.patient(), List.of());
        if (sitting.episode().isPresent()) {
            return named(sitting, all, sitting.episode().get());
        }
        if (all.isEmpty()) {
            return none(
                    sitting,
                    "patient",
                    sitting.patient(),
                    "The patient has no episode. The sitting is scored but not"
                            + " assigned. Add the episode, or correct the id.");
        }
        if (sitting.side().isEmpty()) {
            boolean oneSide = all.stream().map(Episode::treatedSide).distinct().count() == 1;
            return oneSide
                    ? new Found(List.of(choose(sitting, all)), Optional.empty())
                    : problem(
                            sitting,
                            "side",
                            "",
                            ProblemCode.EPISODE_AMBIGUOUS,
                            "The patient has episodes on both sides and the sitting has no side. It is scored but not"
                                    + " assigned. Fill in side or episode.");
        }
        List<Episode> found = new ArrayList<>(2);
        for (Side hand : List.of(Side.RIGHT, Side.LEFT)) {
            List<Episode> candidates = all.stream()
                    .filter(e -> e.treatedSide() == hand && sitting.side().get().includes(hand))
                    .toList();
            if (!candidates.isEmpty()) {
                found.add(choose(sitting, candidates));
            }
        }
        return found.isEmpty()
                ? none(
                        sitting,
                        "side",
                        sitting.side().get().code(),
                        "The patient has no episode of this side. The sitting"
                                + " is scored but not assigned. Add the episode, or correct the side.")
                : new Found(List.copyOf(found), Optional.empty());
    }

    private static Found named(Sitting sitting, List<Episode> all, String name) {
        Optional<Episode> episode =
                all.stream().filter(e -> e.id().equals(name)).findFirst();
        if (episode.isEmpty()) {
            return none(
                    sitting,
                    "episode",
                    name,
                    "The patient has no episode of this name. The sitting is scored but not"
                            + " assigned. Add the episode, or correct the name.");
        }
        boolean differs = sitting.side().isPresent()
                && !sitting.side().get().includes(episode.get().treatedSide());
        Optional<Problem> problem = differs
                ? Optional.of(new Problem(
                        sitting.place().in("side"),
                        sitting.side().get().code(),
                        ProblemCode.SIDE_DIFFERS_FROM_EPISODE,
                        "The episode named treats the "
                                + episode.get().treatedSide().code()
                                + " side. The sitting is listed but not used in time. Correct side or episode."))
                : Optional.empty();
        return new Found(List.of(episode.get()), problem);
    }

    private static Found none(Sitting sitting, String column, String value, String advice) {
        return problem(sitting, column, value, ProblemCode.EPISODE_NOT_FOUND, advice);
    }

    private static Found problem(Sitting sitting, String column, String value, ProblemCode code, String advice) {
        return new Found(List.of(), Optional.of(new Problem(sitting.place().in(column), value, code, advice)));
    }

    /** Of several episodes of one side, those with a window that holds the day; of these the one that began last. */
    private Episode choose(Sitting sitting, List<Episode> candidates) {
        List<Episode> inWindow = candidates.stream()
                .filter(e -> e.indexDate().isPresent()
                        && schedule.visitOn(day(e.indexDate().get(), sitting.completedOn()))
                                .isPresent())
                .toList();
        List<Episode> left = inWindow.isEmpty() ? candidates : inWindow;
        return left.stream()
                .max(Comparator.comparing(e -> e.indexDate().orElse(LocalDate.MIN)))
                .orElseThrow();
    }

    static int day(LocalDate index, LocalDate on) {
        return (int) ChronoUnit.DAYS.between(index, on);
    }
}
