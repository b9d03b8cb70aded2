package lumbrical.cohort;

import java.util.List;
import java.util.stream.Stream;
import lumbrical.followup.Schedule;

/**
 * Results of groups: a list of rows for each table. Rows are ordered by group (all together, then the groupings as asked for, their
 * values by label, blank last), instrument, scale and visit.
 *
 * @param schedule the visits
 * @param groups the groups there are, with their sizes
 * @param standing what came in and how the groups stand
 * @param responders who improved by which MCID
 * @param ecdf who improved by at least how much
 * @param compare two groups compared; none unless asked for
 * @param measurement own MCIDs, none unless asked for, and reliability
 * @param methods paragraphs for a methods section: what was done, with every choice, version, threshold and source
 */
public record CohortResult(
        Schedule schedule,
        List<GroupSize> groups,
        Standing standing,
        List<ResponderRow> responders,
        List<EcdfRow> ecdf,
        List<CompareRow> compare,
        Measurement measurement,
        List<String> methods) {
    /** Copies the lists. */
    public CohortResult {
        groups = List.copyOf(groups);
        responders = List.copyOf(responders);
        ecdf = List.copyOf(ecdf);
        compare = List.copyOf(compare);
        methods = List.copyOf(methods);
    }

    /**
     * A group and its size.
     *
     * @param group the group
     * @param episodes its episodes
     * @param patients whose they are
     */
    public record GroupSize(CohortGroup group, int episodes, int patients) {}

    /**
     * What came in and how the groups stand.
     *
     * @param groups by group, scale and visit
     * @param attrition by group, scale and follow-up visit
     * @param flow by group, instrument and visit
     */
    public record Standing(List<GroupRow> groups, List<AttritionRow> attrition, List<FlowRow> flow) {
        /** Copies the lists. */
        public Standing {
            groups = List.copyOf(groups);
            attrition = List.copyOf(attrition);
            flow = List.copyOf(flow);
        }
    }

    /**
     * What the data say of the measure itself.
     *
     * @param ownMcid own MCIDs by group, scale, visit and method
     * @param reliability by group, scale and quantity
     */
    public record Measurement(List<OwnMcidRow> ownMcid, List<ReliabilityRow> reliability) {
        /** Copies the lists. */
        public Measurement {
            ownMcid = List.copyOf(ownMcid);
            reliability = List.copyOf(reliability);
        }
    }

    /** Every cell that is blank because its value cannot be estimated, and why. */
    public Stream<Blank> blanks() {
        return blanks(standing, compare, measurement);
    }

    static Stream<Blank> blanks(Standing standing, List<CompareRow> compare, Measurement measurement) {
        return Stream.of(
                        standing.groups().stream().flatMap(GroupRow::blanks),
                        standing.attrition().stream().flatMap(AttritionRow::blanks),
                        compare.stream().flatMap(CompareRow::blanks),
                        measurement.ownMcid().stream().flatMap(OwnMcidRow::blanks),
                        measurement.reliability().stream().flatMap(ReliabilityRow::blanks))
                .flatMap(s -> s);
    }
}
