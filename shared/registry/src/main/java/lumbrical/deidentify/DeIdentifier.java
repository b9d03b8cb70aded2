package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.AssignedScore;
import lumbrical.followup.Episode;
import lumbrical.followup.FollowUpResult;
import lumbrical.instrument.Instrument;
import lumbrical.problem.Place;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.UnreadableInputException;

/** Decides what leaves the house and takes from it all that tells who it is about. */
public final class DeIdentifier {
    private final FollowUpResult clinic;
    private final Profile profile;
    private final Pseudonyms pseudonyms;
    private final Map<Episode, List<Integer>> sent = new IdentityHashMap<>();
    private final List<Withheld> withheld = new ArrayList<>();
    private final Map<String, Instrument> instruments = new TreeMap<>();
    private final Map<String, Long> sittingsWithheld = new TreeMap<>();
    private long sittings;
    private int forms;

    private DeIdentifier(FollowUpResult clinic, Profile profile, Pseudonyms pseudonyms) {
        this.clinic = clinic;
        this.profile = profile;
        this.pseudonyms = pseudonyms;
    }

    /**
     * What leaves the house.
     *
     * @throws UnreadableInputException if days are wanted and an episode to be shared has forms but no index date
     */
    public static DeidentifiedDataset prepare(FollowUpResult clinic, Profile profile, Pseudonyms pseudonyms) {
        return new DeIdentifier(clinic, profile, pseudonyms).prepare();
    }

    private DeidentifiedDataset prepare() {
        List<Episode> shared = clinic.episodes().stream().filter(Episode::share).toList();
        place();
        refuseMissingIndexDates(shared);
        EpisodeDeidentifier maker = new EpisodeDeidentifier(clinic, profile, pseudonyms);
        List<Named> named = shared.stream()
                .map(e -> new Named(pseudonyms.episode(e.patient(), e.id()), e))
                .sorted(Comparator.comparing(Named::id))
                .toList();
        return new DeidentifiedDataset(
                profile,
                clinic.asOf(),
                clinic.schedule(),
                pseudonyms.statement(),
                List.copyOf(instruments.values()),
                taker -> named.forEach(n -> taker.accept(maker.episode(
                        n.episode(), sent.getOrDefault(n.episode(), List.of()), new Attributes(profile)))),
                counts(named, maker),
                withheld);
    }

    /** Sorts forms into those sent and those withheld; forms of one sitting follow each other. */
    private void place() {
        List<AssignedForm> placed = clinic.placed();
        int i = 0;
        while (i < placed.size()) {
            Sitting sitting = placed.get(i).form().sitting();
            Optional<String> firstReason = Optional.empty();
            boolean anySent = false;
            for (; i < placed.size() && placed.get(i).form().sitting() == sitting; i++) {
                if (!placed.get(i).form().responses().blank()) {
                    Optional<Withheld> why = whyWithheld(placed.get(i));
                    why.ifPresentOrElse(withheld::add, sending(i));
                    anySent |= why.isEmpty();
                    firstReason = firstReason.or(() -> why.map(Withheld::reason));
                }
            }
            if (anySent) {
                sittings++;
            } else {
                firstReason.ifPresent(reason -> sittingsWithheld.merge(reason, 1L, Long::sum));
            }
        }
    }

    private Runnable sending(int position) {
        return () -> {
            AssignedForm placed = clinic.placed().get(position);
            Episode episode = placed.placement().orElseThrow().episode();
            sent.computeIfAbsent(episode, e -> new ArrayList<>(4)).add(position);
            Instrument instrument = placed.form().instrument();
            instruments.put(instrument.id().value(), instrument);
            forms++;
        };
    }

    private record Named(String id, Episode episode) {}

    private DeidentifiedDataset.Counts counts(List<Named> named, EpisodeDeidentifier maker) {
        Attributes attributes = new Attributes(profile);
        SmallCells cells = new SmallCells();
        Set<String> subjects = new HashSet<>();
        for (Named n : named) {
            DeidentifiedEpisode episode =
                    maker.episode(n.episode(), sent.getOrDefault(n.episode(), List.of()), attributes);
            subjects.add(episode.subject());
            cells.add(episode.subject(), episode.attributes());
        }
        List<Integer> small = cells.smallerThan(profile.smallCell());
        return new DeidentifiedDataset.Counts(
                subjects.size(),
                named.size(),
                sittings,
                sittingsWithheld,
                forms,
                clinic.episodes().size() - named.size(),
                attributes.blanked(),
                small.size(),
                small.stream().mapToInt(Integer::intValue).sum());
    }

    private Optional<Withheld> whyWithheld(AssignedForm placed) {
        if (placed.leftOut().isPresent()) {
            return Optional.of(withheld(placed, placed.leftOut().get()));
        }
        AssignedScore.VisitAssignment placement = placed.placement().orElseThrow();
        if (!placement.episode().share()) {
            return Optional.of(withheld(placed, "share", Withheld.NOT_SHARED));
        }
        if (placed.form().sitting().completedOn().isAfter(clinic.asOf())) {
            return Optional.of(withheld(placed, ProblemCode.DATE_IN_FUTURE));
        }
        return Optional.empty();
    }

    private static Withheld withheld(AssignedForm placed, ProblemCode code) {
        String column =
                switch (code) {
                    case EPISODE_NOT_FOUND, EPISODE_AMBIGUOUS -> "episode";
                    case SIDE_DIFFERS_FROM_EPISODE -> "side";
                    case DATE_IN_FUTURE -> "completed_on";
                    default -> "";
                };
        return withheld(placed, column, code.code());
    }

    private static Withheld withheld(AssignedForm placed, String column, String reason) {
        return new Withheld(
                placed.form().sitting().place(),
                column,
                Optional.of(placed.form().instrument().id()),
                reason);
    }

    private void refuseMissingIndexDates(List<Episode> shared) {
        if (profile.dates() != Profile.Dates.DAYS_FROM_INDEX) {
            return;
        }
        List<Place> without = shared.stream()
                .filter(e -> e.indexDate().isEmpty() && sent.containsKey(e))
                .map(Episode::place)
                .toList();
        if (!without.isEmpty()) {
            throw new UnreadableInputException(
                    without.get(0).in("index_date"),
                    "the episode has forms but no usable index date"
                            + (without.size() > 1 ? ", and so have " + (without.size() - 1) + " more" : "")
                            + ". Days from the index date cannot be given. Fill it in, set share to no, or use a profile"
                            + " with shifted dates.");
        }
    }
}
