package lumbrical.cohort;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.followup.PlacedForm;
import lumbrical.instrument.Instrument;
import lumbrical.threshold.ThresholdChoice;

/** Results of groups of episodes, and how sure they are. */
public final class CohortAnalysis {
    private final ClinicData data;
    private final List<Groups.Group> groups;
    private final Optional<Comparison> comparison;

    private record Task(Groups.Group group, ScaleTable table) {}

    private CohortAnalysis(ClinicData data, List<Groups.Group> groups, Optional<Comparison> comparison) {
        this.data = data;
        this.groups = groups;
        this.comparison = comparison;
    }

    /**
     * What of a request cannot be met; empty if all of it can.
     *
     * @param catalogue finds an instrument by its id
     */
    public static List<CohortFault> faults(
            FollowUpResult clinic, CohortRequest request, Function<String, Optional<Instrument>> catalogue) {
        List<EpisodeFollowUp> episodes = clinic.episodes();
        List<CohortFault> faults = new ArrayList<>();
        for (String grouping : request.by()) {
            Groups.columnsOf(grouping).stream()
                    .filter(name -> EpisodeColumn.find(name, episodes).isEmpty())
                    .forEach(name -> faults.add(
                            new CohortFault(CohortFault.Kind.GROUPING_UNKNOWN, name, EpisodeColumn.names(episodes))));
        }
        request.compare().ifPresent(compare -> addFaults(compare, episodes, faults));
        request.anchor().ifPresent(anchor -> addFaults(anchor, clinic, catalogue, faults));
        return List.copyOf(faults);
    }

    private static void addFaults(
            CohortRequest.Compare compare, List<EpisodeFollowUp> episodes, List<CohortFault> faults) {
        Optional<EpisodeColumn> column = EpisodeColumn.find(compare.column(), episodes);
        if (column.isEmpty()) {
            faults.add(new CohortFault(
                    CohortFault.Kind.COMPARED_COLUMN_UNKNOWN, compare.column(), EpisodeColumn.names(episodes)));
            return;
        }
        List<String> labels = column.get().values(episodes).stream()
                .map(EpisodeColumn.Value::label)
                .toList();
        Stream.of(compare.a(), compare.b())
                .filter(text -> column.get().valueCalled(text, episodes).isEmpty())
                .forEach(text -> faults.add(new CohortFault(CohortFault.Kind.COMPARED_VALUE_UNKNOWN, text, labels)));
        Optional<EpisodeColumn.Value> a = column.get().valueCalled(compare.a(), episodes);
        if (a.isPresent() && a.equals(column.get().valueCalled(compare.b(), episodes))) {
            faults.add(new CohortFault(CohortFault.Kind.COMPARED_WITH_ITSELF, compare.b(), labels));
        }
    }

    private static void addFaults(
            String anchor,
            FollowUpResult clinic,
            Function<String, Optional<Instrument>> catalogue,
            List<CohortFault> faults) {
        Optional<Instrument> instrument = catalogue.apply(anchor);
        if (instrument.filter(Ratings::isRating).isEmpty()) {
            TreeMap<String, Boolean> read = new TreeMap<>();
            clinic.forms().stream()
                    .map(PlacedForm::form)
                    .map(f -> f.instrument())
                    .distinct()
                    .filter(Ratings::isRating)
                    .forEach(i -> read.put(i.id().value(), true));
            faults.add(new CohortFault(
                    instrument.isEmpty() ? CohortFault.Kind.ANCHOR_UNKNOWN : CohortFault.Kind.ANCHOR_IS_NO_RATING,
                    anchor.toLowerCase(Locale.ROOT),
                    List.copyOf(read.keySet())));
        }
    }

    /**
     * The results. The order of the episodes and forms makes no difference, nor does the number of processors.
     *
     * @param clinic what is known of the patients over time
     * @param choice the thresholds by which their changes were judged
     * @param request what is asked
     * @param catalogue finds an instrument by its id
     * @throws IllegalArgumentException if the request has {@link #faults}
     */
    public static CohortResult of(
            FollowUpResult clinic,
            ThresholdChoice choice,
            CohortRequest request,
            Function<String, Optional<Instrument>> catalogue) {
        List<CohortFault> faults = faults(clinic, request, catalogue);
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException(
                    String.join(" ", faults.stream().map(CohortFault::message).toList()));
        }
        ClinicData data = new ClinicData(clinic, choice, request, catalogue);
        List<Groups.Group> groups = new Groups(data.episodes(), request.oneEpisodeEach()).of(request.by());
        return new CohortAnalysis(data, groups, request.compare().map(c -> comparison(c, data.episodes())))
                .result(clinic);
    }

    private static Comparison comparison(CohortRequest.Compare compare, List<EpisodeFollowUp> episodes) {
        EpisodeColumn column = EpisodeColumn.find(compare.column(), episodes).orElseThrow();
        return new Comparison(having(column, compare.a(), episodes), having(column, compare.b(), episodes));
    }

    private static boolean[] having(EpisodeColumn column, String text, List<EpisodeFollowUp> episodes) {
        Object key = column.valueCalled(text, episodes).orElseThrow().key();
        boolean[] has = new boolean[episodes.size()];
        for (int i = 0; i < has.length; i++) {
            has[i] = column.of().apply(episodes.get(i)).key().equals(key);
        }
        return has;
    }

    private CohortResult result(FollowUpResult clinic) {
        List<Task> tasks = groups.stream()
                .flatMap(g -> data.tables().stream().map(t -> new Task(g, t)))
                .toList();
        CohortRows rows = new CohortRows();
        // Independent of one another, and put together in their order: so the result is the same on one processor or
        // many.
        tasks.parallelStream().map(this::rows).toList().forEach(rows::add);
        Flow flow = new Flow(data);
        CohortResult.Standing standing = new CohortResult.Standing(
                rows.groups,
                rows.attrition,
                groups.stream().flatMap(g -> flow.rows(g).stream()).toList());
        CohortResult.Measurement measurement = new CohortResult.Measurement(rows.ownMcid, rows.reliability);
        return new CohortResult(
                clinic.schedule(),
                groups.stream()
                        .map(g -> new CohortResult.GroupSize(
                                g.label(), g.members().size(), g.patients()))
                        .toList(),
                standing,
                rows.responders,
                rows.ecdf,
                rows.compare,
                measurement,
                new Methods(data, groups, rows, CohortResult.blanks(standing, rows.compare, measurement)).paragraphs());
    }

    private CohortRows rows(Task task) {
        GroupScale group = new GroupScale(data, task.group(), task.table());
        CohortRows rows = group.rows();
        if (group.matters()) {
            rows.reliability.addAll(Reliability.rows(group, data));
            if (task.table().changes()) {
                comparison
                        .filter(c -> c.matters(task.group()))
                        .ifPresent(c -> rows.compare.addAll(c.rows(group, data)));
                rows.ownMcid.addAll(OwnMcids.rows(group, data));
            }
        }
        return rows;
    }
}
