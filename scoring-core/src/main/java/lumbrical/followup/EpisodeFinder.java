package lumbrical.followup;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import lumbrical.instrument.Side;
import lumbrical.problem.Problem;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.Sitting;

/** Finds the episode a sitting belongs to: by name if it names one, else by side, window and index date. */
final class EpisodeFinder {
    private static final Pattern WHITE = Pattern.compile("\\s+");
    private static final Pattern LEADING_ZEROS = Pattern.compile("^0+(?=.)");

    private final Map<String, List<Episode>> byPatient = new HashMap<>();
    /** Of ids that people take for one another the first. */
    private final Map<String, String> patientByBareId = new HashMap<>();

    private final Schedule schedule;

    EpisodeFinder(List<Episode> episodes, Schedule schedule) {
        this.schedule = schedule;
        for (Episode episode : episodes) {
            byPatient
                    .computeIfAbsent(episode.patient(), p -> new ArrayList<>(2))
                    .add(episode);
            patientByBareId.merge(bare(episode.patient()), episode.patient(), EpisodeFinder::first);
        }
    }

    private static String first(String a, String b) {
        return a.compareTo(b) <= 0 ? a : b;
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
                    "The patient has no episode. The forms are scored, but belong to no episode. "
                            + alikePatient(sitting.patient()).orElse("Add the episode, or correct the id."));
        }
        if (sitting.side().isEmpty()) {
            boolean oneSide = all.stream().map(Episode::treatedSide).distinct().count() == 1;
            return oneSide
                    ? chosen(sitting, List.of(all))
                    : problem(
                            sitting,
                            "side",
                            "",
                            ProblemCode.EPISODE_AMBIGUOUS,
                            "The patient has episodes on both sides and the forms have no side. They are scored, but"
                                    + " belong to no episode. Fill in side or episode.");
        }
        List<List<Episode>> ofEachSide = Stream.of(Side.RIGHT, Side.LEFT)
                .filter(hand -> sitting.side().get().includes(hand))
                .map(hand -> all.stream().filter(e -> e.treatedSide() == hand).toList())
                .filter(candidates -> !candidates.isEmpty())
                .toList();
        return ofEachSide.isEmpty()
                ? none(
                        sitting,
                        "side",
                        sitting.side().get().code(),
                        "The patient has no episode of this side. The forms are scored, but belong to no episode. Add"
                                + " the episode, or correct the side.")
                : chosen(sitting, ofEachSide);
    }

    /** A patient's id that people take for {@code id}, in a sentence. */
    private Optional<String> alikePatient(String id) {
        return Optional.ofNullable(patientByBareId.get(bare(id))).map(EpisodeFinder::alike);
    }

    /** The id of one of the patient's episodes that people take for {@code id}, in a sentence. */
    private static Optional<String> alikeEpisode(String id, List<Episode> known) {
        String wanted = bare(id);
        return known.stream()
                .map(Episode::id)
                .filter(other -> bare(other).equals(wanted))
                .min(Comparator.naturalOrder())
                .map(EpisodeFinder::alike);
    }

    private static String alike(String other) {
        return "The table of episodes has '" + other
                + "', which differs only in leading zeros, case or blanks. Write both in the same way; in a"
                + " spreadsheet give the ids the cell format 'text'.";
    }

    private static String bare(String id) {
        String text = WHITE.matcher(id).replaceAll("").toLowerCase(Locale.ROOT);
        return LEADING_ZEROS.matcher(text).replaceFirst("");
    }

    private Found named(Sitting sitting, List<Episode> all, String name) {
        if (all.isEmpty()) {
            Optional<String> other = alikePatient(sitting.patient());
            if (other.isPresent()) {
                return none(
                        sitting,
                        "patient",
                        sitting.patient(),
                        "The patient has no episode. The forms are scored, but belong to no episode. " + other.get());
            }
        }
        Optional<Episode> episode =
                all.stream().filter(e -> e.id().equals(name)).findFirst();
        if (episode.isEmpty()) {
            return none(
                    sitting,
                    "episode",
                    name,
                    "The patient has no episode of this name. The forms are scored, but belong to no episode. "
                            + alikeEpisode(name, all).orElse("Add the episode, or correct the name."));
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
                                + " side. The forms are listed but not used in time. Correct side or episode."))
                : Optional.empty();
        return new Found(List.of(episode.get()), problem);
    }

    private static Found none(Sitting sitting, String column, String value, String advice) {
        return problem(sitting, column, value, ProblemCode.EPISODE_NOT_FOUND, advice);
    }

    private static Found problem(Sitting sitting, String column, String value, ProblemCode code, String advice) {
        return new Found(List.of(), Optional.of(new Problem(sitting.place().in(column), value, code, advice)));
    }

    /** One episode of each list of candidates, or that two of them cannot be told apart. */
    private Found chosen(Sitting sitting, List<List<Episode>> ofEachSide) {
        List<Episode> found = new ArrayList<>(2);
        for (List<Episode> candidates : ofEachSide) {
            List<Episode> fitting = fitting(sitting, candidates);
            if (fitting.size() > 1) {
                return problem(
                        sitting,
                        "episode",
                        "",
                        ProblemCode.EPISODE_AMBIGUOUS,
                        "The patient has " + (fitting.size() == 2 ? "two" : fitting.size())
                                + " episodes of this side "
                                + (fitting.get(0).indexDate().isPresent()
                                        ? "with the same index date: "
                                        : "without an index date: ")
                                + fitting.stream().map(Episode::id).collect(Collectors.joining(", "))
                                + ". The forms are scored, but belong to no episode. Fill in episode, or correct the index date.");
            }
            found.addAll(fitting);
        }
        return new Found(List.copyOf(found), Optional.empty());
    }

    /** Of several episodes of one side, those with a window that holds the day; of these those that began last. */
    private List<Episode> fitting(Sitting sitting, List<Episode> candidates) {
        if (candidates.size() == 1) {
            return candidates;
        }
        List<Episode> inWindow = candidates.stream()
                .filter(e -> e.indexDate().isPresent()
                        && sitting.day().isPresent()
                        && schedule.visitOn(day(e.indexDate().get(), sitting.completedOn()))
                                .isPresent())
                .toList();
        List<Episode> left = inWindow.isEmpty() ? candidates : inWindow;
        LocalDate latest = left.stream()
                .map(e -> e.indexDate().orElse(LocalDate.MIN))
                .max(Comparator.naturalOrder())
                .orElse(LocalDate.MIN);
        return left.stream()
                .filter(e -> e.indexDate().orElse(LocalDate.MIN).equals(latest))
                .toList();
    }

    static int day(LocalDate index, LocalDate on) {
        return (int) ChronoUnit.DAYS.between(index, on);
    }
}
