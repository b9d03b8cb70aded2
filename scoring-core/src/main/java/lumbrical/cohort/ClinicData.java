package lumbrical.cohort;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.function.ObjIntConsumer;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.AssignedForm;
import lumbrical.followup.Episode;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.Schedule;
import lumbrical.followup.ScoreSeries;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.sitting.Sitting;
import lumbrical.threshold.ThresholdChoice;

/**
 * A clinic by scale and episode: what the tables need, and no more. It takes the episodes one at a time and keeps of each its numbers.
 * Positions of episodes are in the order of patient and id, so that the order of the input decides nothing.
 */
final class ClinicData {
    /** Fewer episodes are taken before another thread has begun. */
    private static final int MANY = 1_000;

    private final CohortRequest request;
    private final Function<String, Optional<Instrument>> catalogue;
    private final Schedule schedule;
    private final LocalDate asOf;
    private final ThresholdChoice choice;
    private final Visits visits;
    private final Optional<InstrumentId> anchor;
    private final Optional<RetestPairs> retestPairs;
    /** The position of each episode, in the order in which they come. */
    private final int[] positions;

    private final List<Episode> inOrder;
    private final EpisodeCondition[] conditions;
    private final int[] patients;
    private final int[] conditionNumbers;
    private final Map<EpisodeCondition, Integer> knownConditions = new HashMap<>();
    private final FormStates forms;
    private final UnscoredForms unscored;
    private final Map<ScaleKey, ScaleScores> scores = new HashMap<>();
    private final Map<ScaleKey, Map<Integer, RetestPairs.RetestPair>> retests = new HashMap<>();
    private final Map<InstrumentId, Instrument> instruments = new TreeMap<>();
    private final Set<Instrument> seen = new HashSet<>();
    private final Set<InstrumentId> ratingsSeen = new TreeSet<>();
    private int taken;
    private List<CohortEpisode> episodes = List.of();
    private List<ScaleTable> tables = List.of();
    private BitSet[] closedBefore = {};
    private BitSet[] over = {};

    ClinicData(
            List<Episode> coming,
            Schedule schedule,
            LocalDate asOf,
            ThresholdChoice choice,
            CohortRequest request,
            Function<String, Optional<Instrument>> catalogue) {
        this.request = request;
        this.catalogue = catalogue;
        this.schedule = schedule;
        this.asOf = asOf;
        this.choice = choice;
        this.visits = new Visits(schedule);
        this.anchor = request.anchor().flatMap(catalogue).map(Instrument::id);
        this.retestPairs = request.retestDays().isPresent()
                ? Optional.of(new RetestPairs(request.retestDays().getAsInt()))
                : Optional.empty();
        int n = coming.size();
        List<Integer> order = IntStream.range(0, n)
                .boxed()
                .sorted(Comparator.comparing((Integer i) -> coming.get(i).patient())
                        .thenComparing(i -> coming.get(i).id()))
                .toList();
        this.positions = new int[n];
        for (int position = 0; position < n; position++) {
            positions[order.get(position)] = position;
        }
        this.inOrder = order.stream().map(coming::get).toList();
        this.conditions = new EpisodeCondition[n];
        this.conditionNumbers = new int[n];
        this.patients = new int[n];
        for (int i = 1; i < n; i++) {
            boolean same = inOrder.get(i).patient().equals(inOrder.get(i - 1).patient());
            patients[i] = patients[i - 1] + (same ? 0 : 1);
        }
        this.forms = new FormStates(n, visits);
        this.unscored = new UnscoredForms(visits);
    }

    /** Takes the next episode. */
    void add(EpisodeFollowUp episode) {
        int position = positions[taken++];
        addForms(position, episode);
        addScores(position, episode);
    }

    /** Takes the next episodes; of many the forms and the scores at the same time, for neither knows of the other. */
    void addAll(List<EpisodeFollowUp> coming) {
        int first = taken;
        taken += coming.size();
        Stream<ObjIntConsumer<EpisodeFollowUp>> parts = Stream.of(
                (episode, i) -> addForms(positions[first + i], episode),
                (episode, i) -> addScores(positions[first + i], episode));
        (coming.size() < MANY ? parts : parts.parallel()).forEach(part -> {
            for (int i = 0; i < coming.size(); i++) {
                part.accept(coming.get(i), i);
            }
        });
    }

    private void addForms(int position, EpisodeFollowUp episode) {
        conditions[position] = episode.condition();
        conditionNumbers[position] = knownConditions.computeIfAbsent(episode.condition(), c -> knownConditions.size());
        forms.add(position, episode);
        unscored.add(position, episode);
        for (AssignedForm form : episode.forms()) {
            Instrument instrument = form.form().instrument();
            if (seen.add(instrument) && Ratings.isRating(instrument)) {
                ratingsSeen.add(instrument.id());
            }
        }
    }

    private void addScores(int position, EpisodeFollowUp episode) {
        Map<Sitting.Key, Integer> ratings =
                anchor.map(id -> Ratings.of(id, episode)).orElse(Map.of());
        for (ScoreSeries series : episode.series()) {
            instruments.merge(series.instrument().id(), series.instrument(), ClinicData::newer);
            scores.computeIfAbsent(
                            new ScaleKey(
                                    series.instrument().id(), series.scale().id()),
                            k -> new ScaleScores(inOrder.size(), visits.size()))
                    .add(position, series, visits, ratings);
        }
        retestPairs.ifPresent(finder -> finder.firstOfEach(episode, ratings)
                .forEach((scale, pair) ->
                        retests.computeIfAbsent(scale, k -> new TreeMap<>()).put(position, pair)));
    }

    /** Says that all episodes have come. */
    void close() {
        List<CohortEpisode> all = new ArrayList<>(inOrder.size());
        for (int i = 0; i < inOrder.size(); i++) {
            all.add(new CohortEpisode(inOrder.get(i), conditions[i]));
        }
        episodes = List.copyOf(all);
        for (InstrumentId id : forms.instruments()) {
            if (!instruments.containsKey(id)) {
                catalogue.apply(id.value()).ifPresent(found -> instruments.put(id, found));
            }
        }
        List<ScaleTable> found = new ArrayList<>();
        for (Instrument instrument : instruments.values()) {
            for (Scale scale : instrument.scales()) {
                Optional<ScaleScores> own = Optional.ofNullable(scores.get(new ScaleKey(instrument.id(), scale.id())));
                if (scale.reported()
                        && (!scale.optional()
                                || own.filter(ScaleScores::anyScored).isPresent())) {
                    found.add(new ScaleTable(
                            instrument,
                            scale,
                            own.orElseGet(() -> new ScaleScores(0, visits.size())),
                            episodes,
                            choice));
                }
            }
        }
        tables = List.copyOf(found);
        closedBefore = new BitSet[visits.size()];
        over = new BitSet[visits.size()];
        for (int v = 0; v < visits.size(); v++) {
            closedBefore[v] = new BitSet();
            over[v] = new BitSet();
            for (int i = 0; i < inOrder.size(); i++) {
                place(inOrder.get(i), i, visits.get(v), closedBefore[v], over[v]);
            }
        }
    }

    private void place(Episode episode, int position, Visit visit, BitSet closed, BitSet past) {
        episode.indexDate().ifPresent(index -> {
            LocalDate opens = index.plusDays(visit.fromDay());
            closed.set(
                    position,
                    episode.closureKnown(asOf).filter(c -> c.isBefore(opens)).isPresent());
            past.set(position, asOf.isAfter(index.plusDays(visit.toDay())));
        });
    }

    private static Instrument newer(Instrument a, Instrument b) {
        if (a == b) {
            return a;
        }
        Comparator<String> byNumber = Comparator.comparingInt(String::length).thenComparing(Comparator.naturalOrder());
        return byNumber.compare(a.facts().version(), b.facts().version()) >= 0 ? a : b;
    }

    CohortRequest request() {
        return request;
    }

    Function<String, Optional<Instrument>> catalogue() {
        return catalogue;
    }

    Schedule schedule() {
        return schedule;
    }

    LocalDate asOf() {
        return asOf;
    }

    Visits visits() {
        return visits;
    }

    List<CohortEpisode> episodes() {
        return episodes;
    }

    FormStates forms() {
        return forms;
    }

    UnscoredForms unscored() {
        return unscored;
    }

    /** The instruments read that are ratings of change. */
    List<String> ratingsSeen() {
        return ratingsSeen.stream().map(InstrumentId::value).toList();
    }

    /** By instrument and scale. */
    List<ScaleTable> tables() {
        return tables;
    }

    /** The first scale of an instrument that is not optional. */
    Optional<ScaleTable> firstScale(InstrumentId id) {
        return tables.stream()
                .filter(t -> t.instrument().id().equals(id) && !t.scale().optional())
                .findFirst();
    }

    /** A number for the condition of an episode, the same for the same condition. */
    int conditionNumber(int episode) {
        return conditionNumbers[episode];
    }

    EpisodeCondition condition(int episode) {
        return episodes.get(episode).condition();
    }

    /** A number for the patient of an episode, the same for the same patient. */
    int patient(int episode) {
        return patients[episode];
    }

    /** Whether an episode was closed before the window of a visit. */
    boolean closedBefore(int visit, int episode) {
        return closedBefore[visit].get(episode);
    }

    /** Whether the window of a visit is over. */
    boolean over(int visit, int episode) {
        return over[visit].get(episode);
    }

    /** The first pair of sittings of each episode whose patient was stable. */
    Map<Integer, RetestPairs.RetestPair> retests(ScaleTable table) {
        return retests.getOrDefault(
                new ScaleKey(table.instrument().id(), table.scale().id()), Map.of());
    }
}
