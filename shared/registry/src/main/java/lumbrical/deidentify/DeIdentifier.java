package lumbrical.deidentify;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.stream.Collectors;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.FollowUpSource;
import lumbrical.followup.PlacedForm;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.Side;
import lumbrical.problem.Place;
import lumbrical.problem.ProblemCode;
import lumbrical.sitting.Sitting;
import lumbrical.tabular.UnreadableInputException;

/** Decides what leaves the house and takes from it all that tells who it is about. */
public final class DeIdentifier {
    private final FollowUpSource clinic;
    private final UploadTerms terms;
    private final Profile profile;
    private final Pseudonyms pseudonyms;
    private final Set<String> refusing;
    private final List<Withheld> withheld = new ArrayList<>();
    private final Map<String, Instrument> instruments = new TreeMap<>();
    private final Map<String, Long> sittingsWithheld = new TreeMap<>();
    private long sittings;
    private int forms;
    private int answersHeldBack;
    private int answersBlankedWithSide;
    private final HandsSent hands;
    private Coarsening coarsening = Coarsening.NONE;

    private DeIdentifier(FollowUpSource clinic, UploadTerms terms) {
        this.clinic = clinic;
        this.terms = terms;
        this.profile = terms.profile();
        this.pseudonyms = terms.pseudonyms();
        this.refusing = refusing(clinic);
        this.hands = new HandsSent(clinic.listed(), this::sideBlank);
    }

    /** Patients of whom at least one episode may not be shared. */
    public static Set<String> refusing(FollowUpSource clinic) {
        return clinic.listed().stream()
                .filter(e -> !e.share())
                .map(Episode::patient)
                .collect(Collectors.toUnmodifiableSet());
    }

    /**
     * What leaves the house.
     *
     * @throws UnreadableInputException if weeks or days are wanted and an episode to be shared has forms but no index date
     */
    public static DeidentifiedDataset prepare(FollowUpResult clinic, UploadTerms terms) {
        return prepare(FollowUpSource.of(clinic), terms);
    }

    /**
     * As {@link #prepare(FollowUpResult, UploadTerms)}; the episodes are asked for each time the data are gone through.
     *
     * @throws UnreadableInputException if weeks or days are wanted and an episode to be shared has forms but no index date
     */
    public static DeidentifiedDataset prepare(FollowUpSource clinic, UploadTerms terms) {
        return new DeIdentifier(clinic, terms).prepare();
    }

    private DeidentifiedDataset prepare() {
        List<Episode> shared = clinic.listed().stream().filter(Episode::share).toList();
        refuseMissingIndexDates(shared);
        FormKeys keys = FormKeys.of(clinic, pseudonyms);
        List<Named> all = shared.stream()
                .map(e -> new Named(name(e), e.key()))
                .sorted(Comparator.comparing(Named::id))
                .toList();
        if (terms.coarsen()) {
            EpisodeDeidentifier first = new EpisodeDeidentifier(terms, keys, hands, Coarsening.NONE);
            coarsening = Coarsening.of(terms.smallestCell(), () -> all.stream()
                    .map(n -> made(first, n, new Attributes(profile)))
                    .iterator());
        }
        sort();
        List<Named> named =
                all.stream().filter(n -> !coarsening.leftOut().contains(n.id())).toList();
        EpisodeDeidentifier maker = new EpisodeDeidentifier(terms, keys, hands, coarsening);
        Attributes attributes = new Attributes(profile);
        DisclosureCount alike = new DisclosureCount();
        named.forEach(n -> alike.add(made(maker, n, attributes)));
        return new DeidentifiedDataset(
                profile,
                terms.sender(),
                clinic.asOf(),
                clinic.schedule(),
                pseudonyms.statement(),
                List.copyOf(instruments.values()),
                taker -> named.forEach(n -> taker.accept(made(maker, n, new Attributes(profile)))),
                new DeidentifiedDataset.Counts(
                        alike.subjects(),
                        named.size(),
                        sittings,
                        sittingsWithheld,
                        forms,
                        clinic.listed().size() - shared.size(),
                        attributes.blanked(),
                        answersHeldBack),
                new Disclosure(
                        alike.person(terms.smallestCell(), profile),
                        alike.forms(terms.smallestCell(), profile),
                        alike.visits(terms.smallestCell(), profile),
                        coarsened(),
                        coarsening.leftOut().size()),
                withheld);
    }

    private DeidentifiedEpisode made(EpisodeDeidentifier maker, Named named, Attributes attributes) {
        EpisodeFollowUp episode = clinic.followUp(named.episode());
        return maker.episode(episode, sent(episode), attributes);
    }

    private Map<String, Integer> coarsened() {
        Map<String, Integer> counts = coarsening.counts();
        if (answersBlankedWithSide > 0) {
            counts.put("answers about one hand", answersBlankedWithSide);
        }
        return counts;
    }

    private String name(Episode episode) {
        return pseudonyms.episode(episode.patient(), episode.id());
    }

    private List<AssignedForm> sent(EpisodeFollowUp episode) {
        return episode.forms().stream()
                .filter(f -> !f.form().responses().blank() && whyWithheld(f).isEmpty())
                .toList();
    }

    /** A row of the input; a sitting may be spread over several. */
    private record Row(Place place, Sitting.Key sitting) {
        static Row of(Sitting sitting) {
            return new Row(sitting.place(), sitting.key());
        }
    }

    /** What became of a row: whether any form of it is sent, and else the first reason. */
    private static final class Fate {
        private boolean anySent;
        private Optional<String> reason = Optional.empty();
    }

    /** Sorts forms into those sent and those withheld. */
    private void sort() {
        Map<Row, Fate> fates = new LinkedHashMap<>();
        clinic.eachForm(placed -> {
            if (placed.form().responses().blank()) {
                return;
            }
            Fate fate = fates.computeIfAbsent(Row.of(placed.form().sitting()), k -> new Fate());
            Optional<Withheld> why = placed.fold(this::whyWithheld, form -> Optional.of(withheld(form, form.why())));
            if (why.map(Withheld::reason)
                    .filter(w -> !w.equals(Withheld.ANSWERS_HELD_BACK))
                    .isEmpty()) {
                placed.fold(Optional::of, unplaced -> Optional.<AssignedForm>empty())
                        .ifPresent(this::countHeldBack);
            }
            if (why.isPresent()) {
                withheld.add(why.get());
                fate.reason = fate.reason.or(() -> why.map(Withheld::reason));
            } else {
                fate.anySent = true;
                Instrument instrument = placed.form().instrument();
                instruments.put(instrument.id().value(), instrument);
                forms++;
            }
        });
        for (Fate fate : fates.values()) {
            if (fate.anySent) {
                sittings++;
            } else {
                fate.reason.ifPresent(reason -> sittingsWithheld.merge(reason, 1L, Long::sum));
            }
        }
    }

    private boolean sideBlank(String patient) {
        return coarsening.blanks(pseudonyms.subject(patient), CoarsenedField.SIDE);
    }

    /** Counts the answers about hands that a form of a shared episode, sent or not, does not take along. */
    private void countHeldBack(AssignedForm placed) {
        Episode episode = placed.at().episode();
        int count = HandsSent.count(placed.form().responses(), hands.heldBack(episode));
        answersHeldBack += count;
        if (count > 0 && sideBlank(episode.patient())) {
            answersBlankedWithSide += count;
        }
    }

    private record Named(String id, Episode.Key episode) {}

    private Optional<Withheld> whyWithheld(AssignedForm placed) {
        if (!placed.at().episode().share()) {
            return Optional.of(withheld(placed, "share", Withheld.NOT_SHARED, false));
        }
        if (!coarsening.leftOut().isEmpty()
                && coarsening.leftOut().contains(name(placed.at().episode()))) {
            return Optional.of(withheld(placed, "", Withheld.FEW_WITH_SO_MANY_EPISODES, false));
        }
        if (placed.leftOut().isPresent()) {
            return Optional.of(withheld(placed, placed.leftOut().get()));
        }
        if (placed.form().sitting().day().isEmpty()) {
            return Optional.of(withheld(placed, ProblemCode.DATE_MISSING));
        }
        if (placed.form().sitting().completedOn().isAfter(clinic.asOf())) {
            return Optional.of(withheld(placed, ProblemCode.DATE_IN_FUTURE));
        }
        if (HandsSent.leaving(
                        placed.form().responses(), hands.heldBack(placed.at().episode()))
                .blank()) {
            return Optional.of(withheld(placed, "", Withheld.ANSWERS_HELD_BACK, false));
        }
        return Optional.empty();
    }

    private Withheld withheld(PlacedForm placed, ProblemCode code) {
        String column =
                switch (code) {
                    case EPISODE_NOT_FOUND, EPISODE_AMBIGUOUS -> "episode";
                    case SIDE_DIFFERS_FROM_EPISODE -> "side";
                    case DATE_IN_FUTURE, DATE_MISSING -> "completed_on";
                    default -> "";
                };
        return withheld(placed, column, code.code(), told(placed));
    }

    /** A row that no shared episode owns alone is not told of a patient who refuses anywhere. */
    private boolean told(PlacedForm placed) {
        Sitting sitting = placed.form().sitting();
        boolean ofASharedEpisode = placed.fold(a -> a.at().episode().share(), u -> false)
                && !sitting.side().equals(Optional.of(Side.BOTH));
        return ofASharedEpisode || !refusing.contains(sitting.patient());
    }

    private static Withheld withheld(PlacedForm placed, String column, String reason, boolean told) {
        return new Withheld(
                placed.form().sitting().place(),
                column,
                Optional.of(placed.form().instrument().id()),
                reason,
                told);
    }

    private void refuseMissingIndexDates(List<Episode> shared) {
        if (profile.dates() == Profile.Dates.SHIFTED) {
            return;
        }
        List<Place> without = shared.stream()
                .filter(e -> e.indexDate().isEmpty()
                        && !sent(clinic.followUp(e.key())).isEmpty())
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
