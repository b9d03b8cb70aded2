package lumbrical.report.cohort;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import lumbrical.cohort.AttritionRow;
import lumbrical.cohort.CohortGroup;
import lumbrical.cohort.CohortResult;
import lumbrical.cohort.EcdfRow;
import lumbrical.cohort.FlowRow;
import lumbrical.cohort.GroupRow;
import lumbrical.cohort.ResponderRow;
import lumbrical.cohort.RowPlace;
import lumbrical.followup.Visit;
import lumbrical.instrument.Instrument;
import lumbrical.instrument.InstrumentId;
import lumbrical.instrument.Scale;
import lumbrical.instrument.ScaleId;

/** The rows of every table that one group has on one scale, in their order. */
final class GroupResults {
    private final RowPlace place;
    private final List<GroupRow> groups = new ArrayList<>();
    private final List<ResponderRow> responders = new ArrayList<>();
    private final List<EcdfRow> ecdf = new ArrayList<>();
    private final List<AttritionRow> attrition = new ArrayList<>();
    private final List<FlowRow> flow = new ArrayList<>();

    private record Key(CohortGroup group, InstrumentId instrument, ScaleId scale) {
        static Key of(RowPlace at) {
            return new Key(at.group(), at.instrument().id(), at.scale().id());
        }
    }

    private record FormKey(CohortGroup group, InstrumentId instrument) {}

    private GroupResults(RowPlace place) {
        this.place = place;
    }

    /** By group, in the order of the tables. */
    static Map<CohortGroup, List<GroupResults>> of(CohortResult result) {
        Map<Key, GroupResults> all = new LinkedHashMap<>();
        result.standing().groups().forEach(row -> all.computeIfAbsent(Key.of(row.at()), k -> new GroupResults(row.at()))
                .groups
                .add(row));
        add(all, result.responders(), ResponderRow::at, r -> r.responders);
        add(all, result.ecdf(), EcdfRow::at, r -> r.ecdf);
        add(all, result.standing().attrition(), AttritionRow::at, r -> r.attrition);
        Map<FormKey, List<FlowRow>> flow = new LinkedHashMap<>();
        result.standing().flow().forEach(row -> flow.computeIfAbsent(
                        new FormKey(row.group(), row.instrument()), k -> new ArrayList<>())
                .add(row));
        Map<CohortGroup, List<GroupResults>> byGroup = new LinkedHashMap<>();
        all.values().forEach(r -> {
            r.flow.addAll(
                    flow.getOrDefault(new FormKey(r.group(), r.instrument().id()), List.of()));
            byGroup.computeIfAbsent(r.group(), g -> new ArrayList<>()).add(r);
        });
        return byGroup;
    }

    private static <R> void add(
            Map<Key, GroupResults> all, List<R> rows, Function<R, RowPlace> at, Function<GroupResults, List<R>> list) {
        for (R row : rows) {
            Optional.ofNullable(all.get(Key.of(at.apply(row))))
                    .ifPresent(results -> list.apply(results).add(row));
        }
    }

    CohortGroup group() {
        return place.group();
    }

    Instrument instrument() {
        return place.instrument();
    }

    Scale scale() {
        return place.scale();
    }

    /** Whether it is a main scale of its instrument. */
    boolean main() {
        return Scale.mainOf(instrument().scales()).contains(scale());
    }

    /** How the group stands, a row for each visit. */
    List<GroupRow> standing() {
        return groups;
    }

    List<ResponderRow> responders() {
        return responders;
    }

    List<ResponderRow> responders(Visit visit) {
        return responders.stream().filter(r -> isAt(r.at(), visit)).toList();
    }

    List<EcdfRow> distribution() {
        return ecdf;
    }

    List<EcdfRow> distribution(Visit visit) {
        return ecdf.stream().filter(r -> isAt(r.at(), visit)).toList();
    }

    List<AttritionRow> attrition() {
        return attrition;
    }

    List<FlowRow> flow() {
        return flow;
    }

    /** Follow-up visits at which somebody has both scores. */
    List<GroupRow> paired() {
        return groups.stream().filter(r -> pairs(r) > 0).toList();
    }

    /** How many have both scores. */
    static int pairs(GroupRow row) {
        return row.improvement().map(GroupRow.Improvement::paired).orElse(0);
    }

    /** The visit told first: the last with enough pairs for a percentage, else the last with any. */
    Optional<GroupRow> told(int smallestGroup) {
        List<GroupRow> all = paired();
        Optional<GroupRow> told = Optional.empty();
        for (GroupRow row : all) {
            if (pairs(row) >= smallestGroup
                    || told.filter(t -> pairs(t) >= smallestGroup).isEmpty()) {
                told = Optional.of(row);
            }
        }
        return told;
    }

    /** The row of the MCID used at a visit. */
    Optional<ResponderRow> used(GroupRow row) {
        return row.at()
                .visit()
                .flatMap(v -> responders(v).stream().filter(ResponderRow::used).findFirst());
    }

    static Visit visit(RowPlace at) {
        return at.visit().orElseThrow(() -> new IllegalStateException("A row of a visit"));
    }

    private static boolean isAt(RowPlace at, Visit visit) {
        return at.visit().equals(Optional.of(visit));
    }
}
