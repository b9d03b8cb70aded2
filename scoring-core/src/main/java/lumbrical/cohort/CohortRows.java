package lumbrical.cohort;

import java.util.ArrayList;
import java.util.List;

/** The rows that one group gives on one scale, by table. */
final class CohortRows {
    final List<GroupRow> groups = new ArrayList<>();
    final List<ResponderRow> responders = new ArrayList<>();
    final List<EcdfRow> ecdf = new ArrayList<>();
    final List<AttritionRow> attrition = new ArrayList<>();
    final List<CompareRow> compare = new ArrayList<>();
    final List<OwnMcidRow> ownMcid = new ArrayList<>();
    final List<ReliabilityRow> reliability = new ArrayList<>();

    void add(CohortRows more) {
        groups.addAll(more.groups);
        responders.addAll(more.responders);
        ecdf.addAll(more.ecdf);
        attrition.addAll(more.attrition);
        compare.addAll(more.compare);
        ownMcid.addAll(more.ownMcid);
        reliability.addAll(more.reliability);
    }
}
