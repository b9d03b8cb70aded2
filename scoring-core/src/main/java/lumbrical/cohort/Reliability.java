package lumbrical.cohort;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import java.util.stream.IntStream;
import lumbrical.instrument.Item;
import lumbrical.instrument.Range;
import lumbrical.statistics.Estimate;
import lumbrical.statistics.InternalConsistency;
import lumbrical.statistics.Means;
import lumbrical.statistics.Retest;

/** How reliable a scale is in a group: consistency of its items, and agreement of two sittings of stable patients. */
final class Reliability {
    private static final String FELDT = "Cronbach's alpha of complete forms; limits after Feldt";
    private static final String REST = "Pearson's correlation with the sum of the other items, complete forms";
    private static final String WITHOUT = "Cronbach's alpha of the other items, complete forms";
    private static final String ICC = "two-way random, absolute agreement, single sitting; Shrout and Fleiss 1979";

    private Reliability() {}

    /** Consistency by visit, then agreement where retests were looked for. */
    static List<ReliabilityRow> rows(GroupScale group, ClinicData data, Optional<CompleteForms> items) {
        List<ReliabilityRow> rows = new ArrayList<>();
        items.ifPresent(complete -> consistency(group, complete, data.visits(), rows));
        if (data.request().retestDays().isPresent()) {
            retest(group, data, rows);
        }
        return rows;
    }

    private static void consistency(
            GroupScale group, CompleteForms complete, Visits visits, List<ReliabilityRow> rows) {
        List<Item> items = complete.items();
        for (int v = 0; v < visits.size(); v++) {
            double[][] forms = complete.at(v, group.courses());
            if (forms.length > 0) {
                RowPlace at = group.at(v);
                int n = forms.length;
                InternalConsistency consistency = InternalConsistency.of(forms);
                rows.add(new ReliabilityRow(at, "alpha", consistency.alpha(), consistency.alphaInterval95(), n, FELDT));
                for (int j = 0; j < items.size(); j++) {
                    rows.add(new ReliabilityRow(
                            at, "alpha-without:" + items.get(j).id(), consistency.alphaWithout(j), none(), n, WITHOUT));
                }
                for (int j = 0; j < items.size(); j++) {
                    rows.add(new ReliabilityRow(
                            at, "item-rest:" + items.get(j).id(), consistency.itemRest(j), none(), n, REST));
                }
            }
        }
    }

    private static Estimate<Range> none() {
        return Estimate.none(Estimate.Reason.FORMULA_UNDEFINED);
    }

    private static void retest(GroupScale group, ClinicData data, List<ReliabilityRow> rows) {
        Map<Integer, RetestPairs.RetestPair> own = new HashMap<>(data.retests(group.table()));
        own.keySet().retainAll(IntStream.of(group.members()).boxed().toList());
        double[][] pairs = RetestPairs.ofEachSide(own, data.episodes());
        Estimate<Retest> retest = Retest.of(pairs);
        Estimate<Double> agreement = retest.flatMap(Retest::semAgreement);
        double[] first = column(pairs, p -> p[0]);
        double[] second = column(pairs, p -> p[1]);
        double[] differences = new double[first.length];
        for (int i = 0; i < differences.length; i++) {
            differences[i] = second[i] - first[i];
        }
        int n = pairs.length;
        RowPlace at = group.atNoVisit();
        rows.add(new ReliabilityRow(
                at, "icc-2-1", retest.flatMap(Retest::icc), retest.flatMap(Retest::iccInterval95), n, ICC));
        rows.add(new ReliabilityRow(
                at, "sem-agreement", agreement, none(), n, "a shift between the sittings counts as error"));
        rows.add(new ReliabilityRow(
                at,
                "sem-consistency",
                retest.flatMap(Retest::semConsistency),
                none(),
                n,
                "a shift between the sittings does not count"));
        rows.add(new ReliabilityRow(
                at,
                "mdc90",
                agreement.map(Retest::mdc90),
                none(),
                n,
                "from the SEM of agreement, exact normal quantile"));
        rows.add(new ReliabilityRow(
                at,
                "mdc95",
                agreement.map(Retest::mdc95),
                none(),
                n,
                "from the SEM of agreement, exact normal quantile"));
        rows.add(new ReliabilityRow(
                at,
                "limits-of-agreement",
                Means.mean(differences),
                Retest.limitsOfAgreement(first, second),
                n,
                "mean of second minus first; Bland and Altman 1986"));
    }

    private static double[] column(double[][] pairs, ToDoubleFunction<double[]> of) {
        return List.of(pairs).stream().mapToDouble(of).toArray();
    }
}
