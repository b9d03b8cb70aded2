package lumbrical.cohort;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.ForkJoinTask;
import java.util.function.Function;
import java.util.stream.Stream;
import lumbrical.followup.EpisodeFollowUp;
import lumbrical.followup.FollowUpResult;
import lumbrical.instrument.Instrument;
import lumbrical.threshold.ThresholdChoice;

/** Results of groups of episodes, and how sure they are. */
public final class CohortAnalysis {
    private final ClinicData data;
    private final List<Groups.Group> groups;
    private final Optional<Comparison> comparison;

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
        return collected(clinic, ThresholdChoice.DEFAULTS, request, catalogue).faults();
    }

    /**
     * The results. The order of the episodes and forms makes no difference, nor does the number of processors. A {@link CohortCollector}
     * gives the same of episodes that nobody holds.
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
        return collected(clinic, choice, request, catalogue).result();
    }

    private static CohortCollector collected(
            FollowUpResult clinic,
            ThresholdChoice choice,
            CohortRequest request,
            Function<String, Optional<Instrument>> catalogue) {
        CohortCollector collector = new CohortCollector(request, catalogue);
        collector.begins(
                clinic.episodes().stream().map(EpisodeFollowUp::episode).toList(),
                clinic.schedule(),
                clinic.asOf(),
                choice);
        collector.acceptAll(clinic.episodes());
        return collector;
    }

    /** What of the request cannot be met. */
    static List<CohortFault> faults(ClinicData data) {
        List<CohortEpisode> episodes = data.episodes();
        CohortRequest request = data.request();
        List<CohortFault> faults = new ArrayList<>();
        for (String grouping : request.by()) {
            Groups.columnsOf(grouping).stream()
                    .filter(name -> EpisodeColumn.find(name, episodes).isEmpty())
                    .forEach(name -> faults.add(
                            new CohortFault(CohortFault.Kind.GROUPING_UNKNOWN, name, EpisodeColumn.names(episodes))));
        }
        request.compare().ifPresent(compare -> addFaults(compare, episodes, faults));
        request.anchor().ifPresent(anchor -> addFaults(anchor, data, faults));
        return List.copyOf(faults);
    }

    private static void addFaults(
            CohortRequest.Compare compare, List<CohortEpisode> episodes, List<CohortFault> faults) {
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

    private static void addFaults(String anchor, ClinicData data, List<CohortFault> faults) {
        Optional<Instrument> instrument = data.catalogue().apply(anchor);
        if (instrument.filter(Ratings::isRating).isEmpty()) {
            faults.add(new CohortFault(
                    instrument.isEmpty() ? CohortFault.Kind.ANCHOR_UNKNOWN : CohortFault.Kind.ANCHOR_IS_NO_RATING,
                    anchor.toLowerCase(Locale.ROOT),
                    data.ratingsSeen()));
        }
    }

    /** @throws IllegalArgumentException if the request has faults */
    static CohortResult of(ClinicData data) {
        List<CohortFault> faults = faults(data);
        if (!faults.isEmpty()) {
            throw new IllegalArgumentException(
                    String.join(" ", faults.stream().map(CohortFault::message).toList()));
        }
        CohortRequest request = data.request();
        List<Groups.Group> groups = new Groups(data.episodes(), request.oneEpisodeEach()).of(request.by());
        return new CohortAnalysis(data, groups, request.compare().map(c -> comparison(c, data.episodes()))).result();
    }

    private static Comparison comparison(CohortRequest.Compare compare, List<CohortEpisode> episodes) {
        EpisodeColumn column = EpisodeColumn.find(compare.column(), episodes).orElseThrow();
        return new Comparison(having(column, compare.a(), episodes), having(column, compare.b(), episodes));
    }

    private static boolean[] having(EpisodeColumn column, String text, List<CohortEpisode> episodes) {
        Object key = column.valueCalled(text, episodes).orElseThrow().key();
        boolean[] has = new boolean[episodes.size()];
        for (int i = 0; i < has.length; i++) {
            has[i] = column.of().apply(episodes.get(i)).key().equals(key);
        }
        return has;
    }

    private CohortResult result() {
        // Independent of one another, and put together in their order: so the result is the same on one processor or
        // many.
        // Scale by scale, so that what one needs to be reckoned is gone before the next.
        List<List<CohortRows>> byScale = data.tables().stream().map(this::rows).toList();
        CohortRows rows = new CohortRows();
        for (int g = 0; g < groups.size(); g++) {
            for (List<CohortRows> ofScale : byScale) {
                rows.add(ofScale.get(g));
            }
        }
        if (data.request().anchor().isPresent()) {
            ofEach(this::ownMcids).forEach(rows.ownMcid::addAll);
        }
        Flow flow = new Flow(data);
        CohortResult.Standing standing = new CohortResult.Standing(
                rows.groups,
                rows.attrition,
                ofEach(flow::rows).stream().flatMap(List::stream).toList());
        CohortResult.Measurement measurement = new CohortResult.Measurement(rows.ownMcid, rows.reliability);
        return new CohortResult(
                data.schedule(),
                groups.stream()
                        .map(g -> new CohortResult.GroupSize(g.label(), g.members().length, g.patients()))
                        .toList(),
                standing,
                rows.responders,
                rows.ecdf,
                rows.compare,
                measurement,
                new Methods(data, groups, rows, CohortResult.blanks(standing, rows.compare, measurement)).paragraphs());
    }

    private List<CohortRows> rows(ScaleTable table) {
        Optional<CompleteForms> items = data.request().itemAgreement()
                ? CompleteForms.of(table, data.visits().size(), data.episodes().size())
                : Optional.empty();
        return ofEach(g -> rows(g, table, items));
    }

    /** What each group gives. Whichever processor is free takes the next group: one may be as large as several others together. */
    private <R> List<R> ofEach(Function<Groups.Group, R> work) {
        List<ForkJoinTask<R>> tasks = groups.stream()
                .<ForkJoinTask<R>>map(g -> ForkJoinTask.adapt(() -> work.apply(g)))
                .toList();
        return ForkJoinTask.invokeAll(tasks).stream().map(ForkJoinTask::join).toList();
    }

    private CohortRows rows(Groups.Group of, ScaleTable table, Optional<CompleteForms> items) {
        GroupScale group = new GroupScale(data, of, table);
        CohortRows rows = group.rows();
        if (group.matters()) {
            rows.reliability.addAll(Reliability.rows(group, data, items));
            if (table.changes()) {
                comparison.filter(c -> c.matters(of)).ifPresent(c -> rows.compare.addAll(c.rows(group, data)));
            }
        }
        return rows;
    }

    /** Group by group, since the same samples of its patients serve for all scales. */
    private List<OwnMcidRow> ownMcids(Groups.Group of) {
        OwnMcids ownMcids = new OwnMcids(data, of);
        return data.tables().stream()
                .filter(ScaleTable::changes)
                .map(table -> new GroupScale(data, of, table))
                .filter(GroupScale::matters)
                .flatMap(scale -> ownMcids.rows(scale).stream())
                .toList();
    }
}
