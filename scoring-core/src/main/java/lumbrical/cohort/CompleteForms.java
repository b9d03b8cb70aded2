package lumbrical.cohort;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import lumbrical.instrument.Column;
import lumbrical.instrument.Composition;
import lumbrical.instrument.Item;
import lumbrical.instrument.Side;
import lumbrical.scoring.Responses;

/** The responses of the complete forms of a scale, turned so that all point the same way: read once, for every group. */
final class CompleteForms {
    private static final double[] INCOMPLETE = {};

    private final ScaleTable table;
    private final Composition.FromItems made;
    private final Map<Optional<Side>, List<Column>> columns = new HashMap<>();
    /** By visit and episode. */
    private final double[][][] forms;

    private CompleteForms(ScaleTable table, Composition.FromItems made, int visits, int episodes) {
        this.table = table;
        this.made = made;
        this.forms = new double[visits][episodes][];
        for (int v = 0; v < visits; v++) {
            for (int e = 0; e < episodes; e++) {
                forms[v][e] = form(table.scores().at(v), e);
            }
        }
    }

    /** Of a scale of several items. */
    static Optional<CompleteForms> of(ScaleTable table, int visits, int episodes) {
        return table.scale()
                .composition()
                .fromItems()
                .filter(made -> made.items().size() > 1)
                .map(made -> new CompleteForms(table, made, visits, episodes));
    }

    /** The items of the scale. */
    List<Item> items() {
        return made.items().stream().map(Composition.ScaleItem::item).toList();
    }

    /** Of each complete form of these episodes that counts at a visit, and is of the newest version, the responses. */
    double[][] at(int visit, int[] episodes) {
        return Arrays.stream(episodes)
                .mapToObj(e -> forms[visit][e])
                .filter(form -> form.length > 0)
                .toArray(double[][]::new);
    }

    private double[] form(VisitScores scores, int episode) {
        if (!scores.scored(episode)) {
            return INCOMPLETE;
        }
        Responses all = scores.responses(episode);
        if (!all.instrument().definition().equals(table.instrument().definition())) {
            return INCOMPLETE;
        }
        List<Column> own = columns.computeIfAbsent(scores.hand(episode), hand -> made.items().stream()
                .map(i -> table.instrument().column(i.item(), hand))
                .toList());
        double[] responses = new double[own.size()];
        for (int j = 0; j < responses.length; j++) {
            OptionalDouble response = all.allowed(own.get(j));
            if (response.isEmpty()) {
                return INCOMPLETE;
            }
            Composition.ScaleItem item = made.items().get(j);
            responses[j] = item.reversed()
                    ? item.item().responses().low() + item.item().responses().high() - response.getAsDouble()
                    : response.getAsDouble();
        }
        return responses;
    }
}
