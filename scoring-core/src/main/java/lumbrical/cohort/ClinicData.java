package lumbrical.cohort;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Function;
import java.util.stream.IntStream;
import lumbrical.condition.EpisodeCondition;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.ScoreSeries;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;
import lumbrical.threshold.ThresholdChoice;

/** A clinic by scale and episode. Episodes are in the order of patient and id, so that the order of the input decides nothing. */
final class ClinicData {
    private final CohortRequest request;
    private final LocalDate asOf;
    private final Visits visits;
    private final List<EpisodeFollowUp> episodes;
    private final int[] conditionNumbers;
    private final FormStates forms;
    private final Ratings ratings;
    private final List<ScaleTable> tables = new ArrayList<>();
    private final Map<InstrumentId, Instrument> instruments = new TreeMap<>();
    private final Map<ScaleTable, Map<Integer, RetestPairs.RetestPair>> retests = new LinkedHashMap<>();

    private record Key(InstrumentId instrument, ScaleId scale) {}

    ClinicData(
            FollowUpResult clinic,
            ThresholdChoice choice,
            CohortRequest request,
            Function<String, Optional<Instrument>> catalogue) {
        this.request = request;
        this.asOf = clinic.asOf();
        this.visits = new Visits(clinic.schedule());
        this.episodes = inOrder(clinic);
        this.conditionNumbers = numbers(episodes);
        this.forms = new FormStates(episodes, visits);
        this.ratings = request.anchor()
                .flatMap(catalogue)
                .map(anchor -> Ratings.of(anchor, episodes))
                .orElse(Ratings.none());
        findInstruments(catalogue);
        fill(choice);
        request.retestDays().ifPresent(this::findRetests);
    }

    static List<EpisodeFollowUp> inOrder(FollowUpResult clinic) {
        return clinic.episodes().stream()
                .sorted(Comparator.comparing((EpisodeFollowUp e) -> e.episode().patient())
                        .thenComparing(e -> e.episode().id()))
                .toList();
    }

    private static int[] numbers(List<EpisodeFollowUp> episodes) {
        Map<EpisodeCondition, Integer> known = new HashMap<>();
        return episodes.stream()
                .mapToInt(e -> known.computeIfAbsent(e.condition(), c -> known.size()))
                .toArray();
    }

    private void findInstruments(Function<String, Optional<Instrument>> catalogue) {
        for (EpisodeFollowUp episode : episodes) {
            for (ScoreSeries series : episode.series()) {
                instruments.merge(series.instrument().id(), series.instrument(), ClinicData::newer);
            }
        }
        for (InstrumentId id : forms.instruments()) {
            if (!instruments.containsKey(id)) {
                catalogue.apply(id.value()).ifPresent(found -> instruments.put(id, found));
            }
        }
    }

    private static Instrument newer(Instrument a, Instrument b) {
        if (a == b) {
            return a;
        }
        Comparator<String> byNumber = Comparator.comparingInt(String::length).thenComparing(Comparator.naturalOrder());
        return byNumber.compare(a.facts().version(), b.facts().version()) >= 0 ? a : b;
    }

    private void fill(ThresholdChoice choice) {
        Map<Key, ScaleTable> byScale = new LinkedHashMap<>();
        Set<Key> scored = new TreeSet<>(Comparator.comparing(Key::instrument)
                .thenComparing(k -> k.scale().value()));
        for (EpisodeFollowUp episode : episodes) {
            for (ScoreSeries series : episode.series()) {
                if (series.used().anyMatch(u -> u.result().scored().isPresent())) {
                    scored.add(new Key(series.instrument().id(), series.scale().id()));
                }
            }
        }
        for (Instrument instrument : instruments.values()) {
            for (Scale scale : instrument.scales()) {
                Key key = new Key(instrument.id(), scale.id());
                if (scale.reported() && (!scale.optional() || scored.contains(key))) {
                    byScale.put(key, new ScaleTable(instrument, scale));
                }
            }
        }
        for (int i = 0; i < episodes.size(); i++) {
            for (ScoreSeries series : episodes.get(i).series()) {
                ScaleTable table = byScale.get(
                        new Key(series.instrument().id(), series.scale().id()));
                if (table != null) {
                    table.add(
                            Course.of(i, series, visits, ratings),
                            episodes.get(i).condition(),
                            choice);
                }
            }
        }
        tables.addAll(byScale.values());
    }

    private void findRetests(int days) {
        RetestPairs finder = new RetestPairs(days, ratings);
        for (ScaleTable table : tables) {
            Map<Integer, RetestPairs.RetestPair> own = new TreeMap<>();
            IntStream.range(0, episodes.size()).forEach(i -> finder.first(
                            i, episodes.get(i), table.instrument().id(), table.scale())
                    .ifPresent(pair -> own.put(i, pair)));
            retests.put(table, own);
        }
    }

    CohortRequest request() {
        return request;
    }

    LocalDate asOf() {
        return asOf;
    }

    Visits visits() {
        return visits;
    }

    List<EpisodeFollowUp> episodes() {
        return episodes;
    }

    FormStates forms() {
        return forms;
    }

    /** By instrument and scale. */
    List<ScaleTable> tables() {
        return tables;
    }

    Optional<Instrument> instrument(InstrumentId id) {
        return Optional.ofNullable(instruments.get(id));
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

    String patient(int episode) {
        return episodes.get(episode).episode().patient();
    }

    /** The first pair of sittings of each episode whose patient was stable. */
    Map<Integer, RetestPairs.RetestPair> retests(ScaleTable table) {
        return Optional.ofNullable(retests.get(table)).orElse(Map.of());
    }

    /** The definitions, versions included, from which the scores of a scale came. */
    static Set<String> definitions(List<Course> courses) {
        Set<String> definitions = new LinkedHashSet<>();
        courses.forEach(c -> c.points()
                .forEach(p -> p.ifPresent(point ->
                        definitions.add(point.assigned().form().instrument().definition()))));
        return definitions;
    }
}
