package lumbrical.cohort;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;
import lumbrical.instrument.Threshold;
import lumbrical.statistics.Clusters;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.HodgesLehmann;
import lumbrical.statistics.LinearModel;
import lumbrical.statistics.Means;
import lumbrical.statistics.TInterval;
import lumbrical.statistics.TwoSamples;
import lumbrical.threshold.Reached;

/**
 * Two groups of episodes to be compared.
 *
 * @param inA which episodes are of A
 * @param inB which are of B
 */
record Comparison(boolean[] inA, boolean[] inB) {
    /** Whether a group has episodes of both. */
    boolean matters(Groups.Group group) {
        return group.label().equals(CohortGroup.ALL)
                || IntStream.of(group.members()).anyMatch(i -> inA[i])
                        && IntStream.of(group.members()).anyMatch(i -> inB[i]);
    }

    /** The rows of one group on one scale. */
    List<CompareRow> rows(GroupScale group, ClinicData data) {
        List<CompareRow> rows = new ArrayList<>();
        for (int v = 0; v < data.visits().size(); v++) {
            if (data.visits().followUp(v)) {
                rows.add(row(v, group, data.request().smallestGroup()));
            }
        }
        return rows;
    }

    private CompareRow row(int visit, GroupScale group, int smallest) {
        GroupScale.Pairs both = group.pairs(visit).where(e -> inA[e] || inB[e]);
        double[] a = both.where(e -> inA[e]).improvements();
        double[] b = both.where(e -> inB[e]).improvements();
        return new CompareRow(
                group.at(visit),
                a.length,
                b.length,
                new CompareRow.Difference(
                        Means.mean(a).flatMap(mA -> Means.mean(b).map(mB -> mA - mB)),
                        TwoSamples.welch(a, b).map(TInterval::interval)),
                adjusted(both, group.patients(both)),
                TwoSamples.probabilityLarger(a, b),
                HodgesLehmann.shift(a, b),
                responders(both, visit, group.table().scores(), smallest));
    }

    private CompareRow.Adjusted adjusted(GroupScale.Pairs both, Clusters patients) {
        boolean[] ofA = new boolean[both.size()];
        for (int i = 0; i < ofA.length; i++) {
            ofA[i] = inA[both.episodes()[i]];
        }
        Estimate<LinearModel> model = LinearModel.adjustedForBaseline(both.improvements(), both.baselines(), ofA);
        boolean clustered = patients.repeated();
        return new CompareRow.Adjusted(
                new CompareRow.Difference(
                        model.map(m -> m.coefficient(2)),
                        model.flatMap(m -> clustered ? m.clusteredInterval95(2, patients) : m.interval95(2))
                                .map(TInterval::interval)),
                clustered);
    }

    private Optional<CompareRow.Responders> responders(
            GroupScale.Pairs both, int visit, ScaleScores scores, int smallest) {
        Set<Threshold> mcids = new HashSet<>();
        int improvedA = 0;
        int improvedB = 0;
        int ofA = 0;
        int ofB = 0;
        for (int i = 0; i < both.size(); i++) {
            int episode = both.episodes()[i];
            Optional<Threshold> mcid = scores.mcid(visit, episode);
            if (mcid.isPresent()) {
                mcids.add(mcid.get());
                int improved =
                        Reached.meets(both.improvements()[i], mcid.get().value().orElseThrow()) ? 1 : 0;
                boolean a = inA[episode];
                improvedA += a ? improved : 0;
                improvedB += a ? 0 : improved;
                ofA += a ? 1 : 0;
                ofB += a ? 0 : 1;
            }
        }
        if (mcids.isEmpty()) {
            return Optional.empty();
        }
        McidUsed used =
                mcids.size() == 1 ? new McidUsed(Optional.of(mcids.iterator().next())) : McidUsed.EACH_EPISODES_OWN;
        return Optional.of(new CompareRow.Responders(
                used, Share.of(improvedA, ofA, smallest), Share.of(improvedB, ofB, smallest)));
    }
}
